package plot

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// buried are the kinds of part that belong to the system.
func buried(k asbuilt.Kind) bool {
	switch k {
	case asbuilt.Tank, asbuilt.Box, asbuilt.Header, asbuilt.Lateral, asbuilt.Port:
		return true
	}
	return false
}

// old draws the old sketch, laid on the landmarks, where it differs from what
// is now believed.
func (s *scene) old() {
	st := chart.Style{Stroke: old, Width: 0.2, Dash: []float64{1.2, 0.9}}
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if !buried(o.Kind) || !s.moved(o) {
			continue
		}
		for _, sh := range o.Old {
			s.shape(st, sh, func(at chart.Point) { s.page.Circle(st, at, 1.2) })
		}
		s.explain(60, finding.PaperLegendOld.New(), func(p *chart.Page, r chart.Rect) {
			p.Line(st, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
		})
	}
}

// moved reports whether the old place of a part can be distinguished from the new one
// at this scale.
func (s *scene) moved(o *locate.Outline) bool {
	least := s.frame.Scale.Ground(shift)
	for i, sh := range o.Old {
		if i >= len(o.Now) || len(o.Now[i].Vertices) != len(sh.Vertices) {
			return true
		}
		for j, v := range sh.Vertices {
			if v.Dist(o.Now[i].Vertices[j]) > least {
				return true
			}
		}
	}
	return false
}

// corridors tints what holds the trenches with 95 %.
func (s *scene) corridors() {
	st := chart.Style{Fill: green.Fade(0.16), Stroke: green.Fade(0.75), Width: 0.12, Dash: []float64{0.4, 0.9}}
	var all [][]geo.Vec
	for _, c := range s.loc.Corridors {
		all = append(all, strips(c.Line, c.Half)...)
	}
	if len(all) == 0 {
		return
	}
	region, err := geo.Union(all)
	if err != nil { // then each by itself: darker where they overlap, but all there
		for _, ring := range all {
			region = append(region, geo.Patch{Outer: ring})
		}
	}
	s.region(st, region, chart.Style{}, 0, 0)
	s.explain(40, finding.PaperLegendCorridor.New(), func(p *chart.Page, r chart.Rect) { p.Rect(st, r.Inset(0.3)) })
}

// strips returns polygons that together cover a line with the half-widths in
// metres at its vertices.
func strips(line []geo.Vec, half []float64) (rings [][]geo.Vec) {
	for i := 1; i < len(line) && i < len(half); i++ {
		a, b, ra, rb := line[i-1], line[i], half[i-1], half[i]
		if ring := taper(a, b, ra, rb); ring != nil {
			rings = append(rings, ring)
		}
	}
	return rings
}

// taper returns the hull of two circles. Source of the angle at which the
// common tangent touches: cos = (ra − rb) over the distance of the centres.
func taper(a, b geo.Vec, ra, rb float64) []geo.Vec {
	if !a.Finite() || !b.Finite() || !(ra >= 0) || !(rb >= 0) || ra+rb == 0 || math.IsInf(ra+rb, 0) {
		return nil
	}
	d := a.Dist(b)
	if d <= math.Abs(ra-rb) || d == 0 {
		if rb > ra {
			a, ra = b, rb
		}
		return geo.Capsule(a, a, ra)
	}
	const sides = 24
	touch := math.Acos((ra - rb) / d)
	along := b.Sub(a).Unit()
	var ring []geo.Vec
	for i := range sides + 1 { // round b, from its right side to its left
		turn := geo.Radians(-touch + 2*touch*float64(i)/sides)
		ring = append(ring, b.Add(along.Rotate(turn).Scale(rb)))
	}
	for i := range sides + 1 {
		turn := geo.Radians(touch + 2*(math.Pi-touch)*float64(i)/sides)
		ring = append(ring, a.Add(along.Rotate(turn).Scale(ra)))
	}
	return ring
}

// trenches draws headers and laterals as now believed.
func (s *scene) trenches() {
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if o.Kind != asbuilt.Lateral && o.Kind != asbuilt.Header || len(o.Now) == 0 || len(o.Now[0].Vertices) < 2 {
			continue
		}
		line := o.Now[0].Vertices
		st := chart.Style{Stroke: green, Width: 0.4, Dash: stateDash(o.State)}
		if o.Kind == asbuilt.Lateral {
			side := chart.Style{Stroke: green, Width: 0.22, Dash: stateDash(o.State), Fill: green.Fade(0.22)}
			if ring := trench(line, max(s.width(o.Part), s.frame.Scale.Ground(0.9))/2); ring != nil {
				s.ring(side, ring)
			}
			s.line(chart.Style{Stroke: green, Width: 0.15, Dash: stateDash(o.State)}, line)
			s.explain(20, finding.PaperLegendLateral.New(), func(p *chart.Page, r chart.Rect) {
				side.Dash = nil
				p.Rect(side, chart.Rect{X: r.X, Y: r.Y + r.H/2 - 0.7, W: r.W, H: 1.4})
			})
			lines := []string{o.Part + " (" + stateLetter(o.State) + ")"}
			if end := s.loc.Spot(o.Part, asbuilt.End); end != nil && end.Depth != nil {
				lines = append(lines, s.m.deep(*end.Depth))
			}
			s.labelEnd(rankLateral, line, 0.8, chart.Text{Size: 6.5, Strong: true, Color: green}, lines...)
		} else {
			st.Width = 0.6
			s.line(st, line)
			s.explain(21, finding.PaperLegendHeader.New(), func(p *chart.Page, r chart.Rect) {
				st.Dash = nil
				p.Line(st, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
			})
		}
		s.state(o.State)
	}
}

// state explains the line of a state.
func (s *scene) state(state locate.State) {
	order := map[locate.State]int{locate.Seen: 30, locate.Inferred: 31, locate.Recorded: 32}[state]
	s.explain(order, stateWords[state], func(p *chart.Page, r chart.Rect) {
		p.Line(chart.Style{Stroke: green, Width: 0.4, Dash: stateDash(state)}, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
	})
}

// width returns the width in metres of a lateral's trench.
func (s *scene) width(part string) float64 {
	for i := range s.loc.Corridors {
		if c := &s.loc.Corridors[i]; c.Part == part && c.Width > 0 {
			return c.Width
		}
	}
	if p := s.part(part); p != nil {
		return practice.Width(p)
	}
	return practice.TrenchWidth("")
}

func (s *scene) part(id string) *asbuilt.Part {
	if s.loc.Job == nil || s.loc.Job.Sketch == nil {
		return nil
	}
	return s.loc.Job.Sketch.Part(id)
}

// trench returns the outline of a strip along a line, half metres to either
// side, with square ends; corners are mitred up to twice its width.
func trench(line []geo.Vec, half float64) (ring []geo.Vec) {
	var left, right []geo.Vec
	for i, v := range line {
		var in, out geo.Vec
		if i > 0 {
			in = v.Sub(line[i-1]).Unit()
		}
		if i+1 < len(line) {
			out = line[i+1].Sub(v).Unit()
		}
		if in == (geo.Vec{}) {
			in = out
		}
		if out == (geo.Vec{}) {
			out = in
		}
		side := in.Add(out).Unit().Right()
		if side == (geo.Vec{}) {
			side = in.Right()
		}
		k := half / max(0.5, side.Dot(in.Right()))
		right = append(right, v.Add(side.Scale(k)))
		left = append([]geo.Vec{v.Sub(side.Scale(k))}, left...)
	}
	return append(right, left...)
}

// structures draws tank, boxes and ports.
func (s *scene) structures() {
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if len(o.Now) == 0 || len(o.Now[0].Vertices) == 0 {
			continue
		}
		st := chart.Style{Stroke: green, Width: 0.4, Dash: stateDash(o.State), Fill: chart.White}
		switch o.Kind {
		case asbuilt.Tank, asbuilt.Box:
			s.structure(o, st)
		case asbuilt.Port:
			at := o.Now[0].Vertices[0]
			sign := func(p *chart.Page, at chart.Point) {
				p.Circle(chart.Style{Stroke: green, Width: 0.3, Fill: chart.White}, at, 0.8)
				p.Circle(chart.Style{Fill: green}, at, 0.3)
			}
			if s.frame.Sees(at) {
				sign(s.page, s.frame.Page(at))
				s.keep(at, 0.8)
				s.label(35, at, 0.8, chart.Text{Size: 5.5, Color: green}, o.Part)
				s.explain(24, finding.PaperLegendPort.New(), func(p *chart.Page, r chart.Rect) { sign(p, r.Center()) })
			}
		}
	}
}

// structure draws a tank or a box: its outline to scale, or a square of its
// usual size where only its middle is known, and never too small to be seen.
func (s *scene) structure(o *locate.Outline, st chart.Style) {
	sh := o.Now[0]
	at := sh.Vertices[0]
	word, order, size, rank := finding.PaperLegendTank.New(), 22, geo.Vec{X: practice.TankLength, Y: practice.TankWidth}, rankTank
	if o.Kind == asbuilt.Box {
		word, order, size, rank = finding.PaperLegendBox.New(), 23, geo.Vec{X: practice.BoxSize, Y: practice.BoxSize}, 3
		if p := s.part(o.Part); p != nil {
			size = geo.Vec{X: practice.BoxSide(p), Y: practice.BoxSide(p)}
			if p.BoxKind == asbuilt.Drop {
				word = finding.PaperLegendDropBox.New()
			}
		}
	}
	spot := s.loc.Spot(o.Part, asbuilt.Center)
	if spot != nil && len(spot.Lobes) > 1 {
		at = spot.Lobes[0].At // the mean of several places is none of them
	} else if spot != nil {
		at = spot.At
	} else if asbuilt.FormOf(sh) != asbuilt.Point {
		at, _ = s.middle(o.Now)
	}
	if sh.Closed {
		s.ring(st, sh.Vertices)
	}
	reach := s.frame.Scale.Paper(size.X) / 2
	if !sh.Closed && s.frame.Sees(at) {
		c := s.frame.Page(at)
		reach = max(reach, 1.2)
		w, h := 2*reach, max(2.4*size.Y/size.X, s.frame.Scale.Paper(size.Y))
		s.page.Rect(st, chart.Rect{X: c.X - w/2, Y: c.Y - h/2, W: w, H: h})
	}
	if o.Kind == asbuilt.Box && s.frame.Sees(at) { // a cross marks the box, which is small
		c, d := s.frame.Page(at), max(0.9, 0.7*reach)
		thin := chart.Style{Stroke: green, Width: 0.25}
		s.page.Line(thin, c.Add(vec(-d, -d)), c.Add(vec(d, d)))
		s.page.Line(thin, c.Add(vec(-d, d)), c.Add(vec(d, -d)))
	}
	s.keep(at, min(reach, 3))
	lines := []string{o.Part + " (" + stateLetter(o.State) + ")"}
	if spot != nil && spot.Depth != nil {
		lines = append(lines, s.m.deep(*spot.Depth))
	}
	s.label(rank, at, min(reach, 3), chart.Text{Size: 7.5, Strong: true, Color: green}, lines...)
	s.state(o.State)
	s.explain(order, word, func(p *chart.Page, r chart.Rect) {
		q := chart.Rect{X: r.Center().X - 2.2, Y: r.Y + 0.4, W: 4.4, H: r.H - 0.8}
		line := st
		line.Dash = nil
		if o.Kind == asbuilt.Box {
			q = chart.Rect{X: r.Center().X - 1.3, Y: r.Center().Y - 1.3, W: 2.6, H: 2.6}
		}
		p.Rect(line, q)
		if o.Kind == asbuilt.Box {
			line.Fill = chart.Color{}
			p.Line(line, vec(q.X, q.Y), vec(q.X+q.W, q.Y+q.H))
			p.Line(line, vec(q.X, q.Y+q.H), vec(q.X+q.W, q.Y))
		}
	})
}

// ellipses draws the 95 % ellipses of boxes, tanks and distal ends, and where
// one says it badly the region itself, each piece with its share.
func (s *scene) ellipses() {
	st := chart.Style{Stroke: ink, Width: 0.2}
	for _, spot := range s.loc.Spots {
		if !buried(spot.Kind) || spot.Spot == asbuilt.Start || !s.frame.Sees(spot.At) {
			continue
		}
		if spot.Kind == asbuilt.Header || s.frame.Scale.Paper(spot.FromLandmarks.SemiMajor) < shift {
			continue
		}
		if len(spot.Most) > 0 {
			s.pieces(&spot)
			continue
		}
		s.frame.Ellipse(s.page, st, spot.At, spot.FromLandmarks)
		s.explain(41, finding.PaperLegendEllipse.New(), func(p *chart.Page, r chart.Rect) {
			p.Ellipse(st, r.Center(), r.W/2-1, r.H/2-0.2, geo.Degrees(90))
		})
	}
}

// pieces draws where a spot lies with 95 %, as a region, and within it what
// holds 50 %.
func (s *scene) pieces(spot *locate.Spot) {
	line, core := chart.Style{Stroke: ink, Width: 0.2}, chart.Style{Fill: ink.Fade(0.12)}
	s.region(core, spot.Half, chart.Style{}, 0, 0)
	s.region(line, spot.Most, chart.Style{}, 0, 0)
	for _, l := range spot.Lobes {
		if spot.Spot != asbuilt.Center {
			break // lines go with the parts that have a middle
		}
		s.label(4, l.At, 0.5, chart.Text{Size: 6.5, Color: ink, Halo: true}, s.m.says(finding.PaperHere.New(finding.Parts(spot.Part), finding.Number("share", l.Share))))
	}
	s.explain(42, finding.PaperLegendRegion.New(), func(p *chart.Page, r chart.Rect) {
		p.Rect(line, r.Inset(0.3))
		p.Rect(core, r.Inset(1))
	})
}
