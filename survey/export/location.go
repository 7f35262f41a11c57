package export

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/depth"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

func newPlace(f survey.Frame, v geo.Vec) answer.Place {
	p := answer.Place{East: answer.Metres(v.X), North: answer.Metres(v.Y)}
	if q, ok := f.LonLat(v); ok && v.Finite() {
		p.Lon, p.Lat = answer.Optional(answer.Degrees(q.Lon.Degrees())), answer.Optional(answer.Degrees(q.Lat.Degrees()))
	}
	return p
}

func newFrame(f survey.Frame, in language.Tag) answer.Frame {
	out := answer.Frame{Kind: answer.FrameKind(f.Kind), Note: f.Note(finding.Reader{Unit: geo.Metre, Language: in})}
	if f.Site != nil {
		o := f.Site.Origin
		out.Origin = &answer.LonLat{Lon: answer.Degrees(o.Lon.Degrees()), Lat: answer.Degrees(o.Lat.Degrees())}
	}
	return out
}

func newRegion(e geo.Ellipse, radius float64) answer.Region {
	return answer.Region{SemiMajor: answer.Metres(e.SemiMajor), SemiMinor: answer.Metres(e.SemiMinor), Bearing: answer.Turn(e.Bearing.Degrees()), Radius95: answer.Metres(radius)}
}

// NewLocation returns the answer of locate for a location, in a language.
func NewLocation(l *locate.Location, in language.Tag) answer.Location {
	to := reader(l, in)
	out := answer.Location{
		Seek: l.Job.Settings.Seek, Frame: newFrame(l.Frame, in), Fit: newFit(l.Fit, in),
		Learnt: finding.Sentences(l.Learnt, to), Spots: []answer.Spot{}, Corridors: []answer.Corridor{}, Outlines: []answer.Outline{}, Holes: []answer.Hole{}, Levels: []answer.Level{},
	}
	for i := range l.Spots {
		out.Spots = append(out.Spots, newSpot(l.Frame, &l.Spots[i]))
	}
	for i := range l.Corridors {
		out.Corridors = append(out.Corridors, newCorridor(l.Frame, &l.Corridors[i]))
	}
	for i := range l.Outlines {
		o := &l.Outlines[i]
		out.Outlines = append(out.Outlines, answer.Outline{Part: o.Part, Kind: string(o.Kind), Name: o.Name, State: answer.State(o.State),
			Now: newShapes(o.Now), Old: newShapes(o.Old), Clearance: answer.Metres(o.Clearance)})
	}
	for i := range l.Holes {
		out.Holes = append(out.Holes, newHole(l.Frame, &l.Holes[i]))
	}
	if l.Fill != nil {
		out.Fill = answer.Optional(answer.Metres(*l.Fill))
	}
	for i := range l.DepthSuspects {
		out.Levels = append(out.Levels, newLevel(&l.DepthSuspects[i], to))
	}
	return out
}

func newLevel(s *depth.Suspect, to finding.Reader) answer.Level {
	return answer.Level{Reading: s.Reading, What: s.What, Observed: answer.Metres(s.Observed), Fitted: answer.Metres(s.Fitted),
		W: answer.Number(s.Standardized), Odds: answer.Number(s.Chance), Says: s.Cause.Says(to), Blunder: newFinding(s.Cause, to)}
}

func newSpot(f survey.Frame, s *locate.Spot) answer.Spot {
	out := answer.Spot{
		Part: s.Part, Kind: string(s.Kind), Spot: string(s.Spot), State: answer.State(s.State),
		Place: newPlace(f, s.At), Region: newRegion(s.Ellipse, s.Radius95),
		FromLandmarks: newRegion(s.FromLandmarks, s.Landmarks95), Old: newPlace(f, s.Old),
	}
	for _, l := range s.Lobes {
		lobe := answer.Lobe{Share: answer.Number(l.Share), East: answer.Metres(l.At.X), North: answer.Metres(l.At.Y), Radius95: answer.Metres(l.Radius95), Outline: []answer.Vertex{}}
		for _, v := range l.Region[0].Outer {
			lobe.Outline = append(lobe.Outline, answer.Vertex{answer.Metres(v.X), answer.Metres(v.Y)})
		}
		out.Lobes = append(out.Lobes, lobe)
	}
	if d := s.Depth; d != nil && answer.Finite(d.Mean) {
		out.Depth, out.DepthSigma, out.DepthTo = answer.Optional(answer.Metres(d.Mean)), answer.Optional(answer.Metres(d.Sigma)), string(d.Feature)
	}
	return out
}

func newCorridor(f survey.Frame, c *locate.Corridor) answer.Corridor {
	out := answer.Corridor{Part: c.Part, Kind: string(c.Kind), State: answer.State(c.State), Width: answer.Metres(c.Width),
		Line: []answer.Place{}, Half: []answer.Metres{}, Depth: []answer.Metres{}}
	for _, v := range c.Line {
		out.Line = append(out.Line, newPlace(f, v))
	}
	for _, h := range c.Half {
		out.Half = append(out.Half, answer.Metres(h))
	}
	for _, d := range c.Depth {
		out.Depth = append(out.Depth, answer.Metres(d.Mean))
	}
	return out
}

func newShapes(outlines []geo.Outline) []answer.Shape {
	out := []answer.Shape{}
	for _, o := range outlines {
		s := answer.Shape{Form: answer.Form(asbuilt.FormOf(o).String()), Vertices: []answer.Vertex{}}
		for _, v := range o.Vertices {
			s.Vertices = append(s.Vertices, answer.Vertex{answer.Metres(v.X), answer.Metres(v.Y)})
		}
		out = append(out, s)
	}
	return out
}

func newHole(f survey.Frame, h *locate.Hole) answer.Hole {
	out := answer.Hole{Name: h.Name, Place: newPlace(f, h.At), Radius: answer.Metres(h.Radius), Met: h.Met, Spot: string(h.Spot), DepthTo: string(h.Feature), Stopped: string(h.Stopped),
		SemiMajor: answer.Metres(h.Ellipse.SemiMajor), SemiMinor: answer.Metres(h.Ellipse.SemiMinor), Bearing: answer.Turn(h.Ellipse.Bearing.Degrees())}
	if h.Depth != nil {
		out.Depth = answer.Optional(answer.Metres(*h.Depth))
	}
	return out
}
