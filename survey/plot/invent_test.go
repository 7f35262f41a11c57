package plot

import (
	"fmt"
	"math"
	"slices"
	"time"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// date is the date of every test sheet.
var date = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

// invention says what an invented site is to have. All places, names and
// numbers are made up.
type invention struct {
	unit     geo.Unit
	geodetic bool
	laterals int
	holes    int
	around   bool    // surroundings and utilities
	sigma    float64 // metres, of everything
	long     float64 // metres, of a lateral
	spacing  float64
	two      bool // no more than a box and a lateral
}

func v(x, y float64) geo.Vec { return geo.Vec{X: x, Y: y} }

func point(at geo.Vec) []geo.Outline { return []geo.Outline{{Vertices: []geo.Vec{at}}} }

func lineOf(vs ...geo.Vec) []geo.Outline { return []geo.Outline{{Vertices: vs}} }

func ringOf(vs ...geo.Vec) []geo.Outline { return []geo.Outline{{Vertices: vs, Closed: true}} }

// invent makes the location of a house with a field south of it: the box at
// (20, −12), laterals to the south, the corner A of the house at the origin.
func invent(in invention) *locate.Location {
	if in.long == 0 {
		in.long = 18
	}
	if in.spacing == 0 {
		in.spacing = 2.4
	}
	if in.sigma == 0 {
		in.sigma = 0.35
	}
	set := survey.DefaultSettings()
	set.Title, set.Permit, set.Unit = "Quillback Lane, lot 7", "INV-0007", in.unit
	job := &survey.Job{Settings: set, Sketch: &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: in.unit, Ratio: 1, Drawn: "1987"}}
	l := &locate.Location{Job: job, Frame: survey.Frame{Kind: survey.Local, Notes: []finding.Finding{finding.FrameSheet.New()}},
		Fit: &fit.Fit{Redundancy: 6, VarianceFactor: 1}}
	if in.geodetic {
		p, _ := geodesy.New(-79.95, 37.27)
		l.Frame = survey.Frame{Kind: survey.Geodetic, Site: geodesy.NewSite(p, 0), Notes: []finding.Finding{finding.FrameFix.New(finding.Readings("r1"))}}
	}
	add := func(id string, kind asbuilt.Kind, name string, state locate.State, now []geo.Outline) {
		was, drawn := make([]geo.Outline, len(now)), make([]asbuilt.Shape, len(now))
		for i, sh := range now {
			was[i].Closed = sh.Closed
			for _, p := range sh.Vertices {
				if buried(kind) {
					p = p.Rotate(geo.Degrees(2.5)).Add(v(0.7, -0.4))
				}
				was[i].Vertices = append(was[i].Vertices, p)
			}
			drawn[i] = asbuilt.Shape{Form: asbuilt.FormOf(sh), Vertices: asbuilt.Positions(was[i].Vertices...)}
		}
		o := locate.Outline{Part: id, Kind: kind, Name: name, State: state, Now: now, Old: was}
		if kind == asbuilt.Utility || kind == asbuilt.NoDig {
			o.Clearance = 0.6
		}
		l.Outlines = append(l.Outlines, o)
		job.Sketch.Parts = append(job.Sketch.Parts, asbuilt.Part{ID: id, Kind: kind, Name: name, Shapes: drawn})
	}
	spot := func(id string, kind asbuilt.Kind, sp asbuilt.Spot, st locate.State, at geo.Vec, k float64) {
		s := locate.Spot{Part: id, Kind: kind, Spot: sp, State: st, At: at, Old: at}
		s.FromLandmarks = geo.Ellipse{SemiMajor: 2.45 * in.sigma * k, SemiMinor: 1.2 * in.sigma * k, Bearing: geo.Degrees(70)}
		s.Ellipse, s.Landmarks95, s.Radius95 = s.FromLandmarks, 2.2*in.sigma*k, 2.2*in.sigma*k
		if buried(kind) {
			s.Depth = &locate.Depth{Mean: 0.6, Sigma: 0.08, Feature: survey.Top}
		}
		l.Spots = append(l.Spots, s)
	}
	if in.around {
		add("house", asbuilt.Building, "house", locate.Seen, ringOf(v(0, 0), v(14, 0), v(14, 9), v(4, 9), v(4, 6), v(0, 6)))
		add("drive", asbuilt.Driveway, "driveway", locate.Recorded, ringOf(v(14, 2), v(30, 2), v(30, 6), v(14, 6)))
		add("W1", asbuilt.Well, "", locate.Recorded, point(v(-8, 12)))
		add("creek", asbuilt.Water, "creek", locate.Recorded, ringOf(v(-30, -45), v(80, -38), v(80, -40), v(-30, -47)))
		add("lot", asbuilt.Boundary, "", locate.Recorded, lineOf(v(-15, -60), v(-15, 30), v(60, 30), v(60, -60)))
		add("gas", asbuilt.Utility, "gas line", locate.Recorded, lineOf(v(-15, -3), v(2, -1.5), v(2, 0)))
		add("power", asbuilt.Utility, "electric cable", locate.Recorded, lineOf(v(30, 30), v(32, -60)))
		add("oak", asbuilt.NoDig, "oak, roots", locate.Recorded, ringOf(v(5, -8), v(7, -7), v(8, -9), v(6, -10)))
	}
	if in.laterals == 0 && in.holes == 0 {
		return l
	}
	for i, at := range []geo.Vec{v(0, 0), v(14, 0), v(14, 9)} {
		id := string(rune('A' + i))
		add(id, asbuilt.Landmark, []string{"house SW corner", "house SE corner", "house NE corner"}[i], locate.Seen, point(at))
		spot(id, asbuilt.Landmark, asbuilt.Center, locate.Seen, at, 0.05)
	}
	box := v(20, -12)
	add("tank", asbuilt.Tank, "", locate.Inferred, ringOf(v(15, -4), v(17.7, -4), v(17.7, -5.6), v(15, -5.6)))
	spot("tank", asbuilt.Tank, asbuilt.Center, locate.Inferred, v(16.35, -4.8), 0.8)
	add("box", asbuilt.Box, "", locate.Inferred, point(box))
	spot("box", asbuilt.Box, asbuilt.Center, locate.Inferred, box, 1)
	add("header", asbuilt.Header, "", locate.Recorded, lineOf(v(16.35, -5.6), v(17, -8), box))
	for i := range in.laterals {
		id := fmt.Sprintf("L%d", i+1)
		state := []locate.State{locate.Seen, locate.Inferred, locate.Recorded}[i%3]
		x := box.X + (float64(i)-float64(in.laterals-1)/2)*in.spacing
		line := []geo.Vec{box.Add(v(0.1*(x-box.X), -0.3)), v(x, -15), v(x-0.05*in.long, -15-in.long)}
		add(id, asbuilt.Lateral, "", state, lineOf(line...))
		k := map[locate.State]float64{locate.Seen: 0.3, locate.Inferred: 0.8, locate.Recorded: 1.4}[state]
		spot(id, asbuilt.Lateral, asbuilt.Start, state, line[0], k)
		spot(id, asbuilt.Lateral, asbuilt.End, state, line[2], k)
		w := 0.457
		half := func(f float64) float64 { return w + 2*in.sigma*k*f }
		l.Corridors = append(l.Corridors, locate.Corridor{Part: id, Kind: asbuilt.Lateral, State: state, Line: line,
			Half: []float64{half(1), half(0.9), half(1.3)}, Width: 2 * w, Depth: make([]locate.Depth, 3)})
	}
	for i := range in.holes {
		x := box.X + (float64(i%8)-3.5)*1.9 + 0.3*math.Sin(float64(7*i))
		h := locate.Hole{Name: fmt.Sprintf("H%d", i+1), At: v(x, -17-2.6*float64(i/8)-0.4*math.Cos(float64(5*i))), Radius: 0.15,
			Ellipse: geo.Ellipse{SemiMajor: 0.15, SemiMinor: 0.1}}
		d := 0.762 + 0.02*float64(i%5)
		h.Depth = &d
		if i%3 != 2 {
			h.Met, h.Spot = fmt.Sprintf("L%d", i%max(1, in.laterals)+1), asbuilt.On
		}
		l.Holes = append(l.Holes, h)
		job.Readings = append(job.Readings, survey.Reading{ID: fmt.Sprintf("r%d", i+1), Kind: survey.Tape})
	}
	if in.two {
		l.Outlines = slices.DeleteFunc(l.Outlines, func(o locate.Outline) bool { return o.Part != "box" && o.Part != "L1" })
		l.Spots = slices.DeleteFunc(l.Spots, func(s locate.Spot) bool { return s.Part != "box" && s.Part != "L1" })
	}
	return l
}

// inventPlan makes a plan of three holes about the box.
func inventPlan(l *locate.Location) *probe.Plan {
	p := &probe.Plan{Seek: "box", ExpectedHoles: 1.8, ChanceNext: 0.55}
	for i, at := range []geo.Vec{v(20.2, -11.8), v(18.4, -12.6), v(21.8, -13.2)} {
		h := probe.Proposal{Rank: i + 1, At: at, To: at, Chance: 0.5, Seeks: []string{"box"}, Depth: locate.Depth{Mean: 0.6, Sigma: 0.08, Feature: survey.Top}, StopDepth: 0.9}
		for _, id := range []string{"A", "B"} {
			if s := l.Spot(id, asbuilt.Center); s != nil {
				h.Ties = append(h.Ties, probe.SetOut{From: id, Distance: s.At.Dist(at), Sigma: 0.03})
			}
		}
		p.Holes = append(p.Holes, h)
	}
	return p
}
