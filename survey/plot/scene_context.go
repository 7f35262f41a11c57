package plot

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// surroundings draws what lies round the field: buildings, driveway, water,
// boundary and wells.
func (s *scene) surroundings() {
	for _, kind := range []asbuilt.Kind{asbuilt.Driveway, asbuilt.Water, asbuilt.Building, asbuilt.Boundary, asbuilt.Well} {
		for i := range s.loc.Outlines {
			if o := &s.loc.Outlines[i]; o.Kind == kind {
				s.surrounding(o)
			}
		}
	}
}

func (s *scene) surrounding(o *locate.Outline) {
	var st chart.Style
	words, order := finding.PaperLegendBuilding, 70
	text := chart.Text{Size: 6, Color: wall}
	gap, direction := 0.0, 0.0
	switch o.Kind {
	case asbuilt.Driveway:
		st = chart.Style{Stroke: old, Width: 0.15, Dash: []float64{3, 1}}
		words, order = finding.PaperLegendDriveway, 72
	case asbuilt.Water:
		st = chart.Style{Stroke: blue, Width: 0.3, Fill: blue.Fade(0.1)}
		gap, direction, text.Color = 1.6, 90, blue
		words, order = finding.PaperLegendWater, 73
	case asbuilt.Building:
		st = chart.Style{Stroke: wall, Width: 0.45, Fill: chart.RGB(0xececec)}
		gap, direction = 3.2, 45
	case asbuilt.Boundary:
		st = chart.Style{Stroke: ink, Width: 0.35, Dash: []float64{6, 1, 0.8, 1, 0.8, 1}}
		words, order = finding.PaperLegendBoundary, 74
	case asbuilt.Well:
		st = chart.Style{Stroke: blue, Width: 0.4, Fill: chart.White}
		words, order, text.Color = finding.PaperLegendWell, 75, blue
	}
	hatch := chart.Style{Stroke: st.Stroke.Fade(0.45), Width: 0.1}
	shown := false
	for _, sh := range o.Now {
		if gap > 0 && sh.Closed {
			if ring := s.frame.Ring(sh.Vertices); ring != nil {
				fill := st
				fill.Stroke = chart.Color{}
				s.page.Polygon(fill, ring)
				s.page.Lines(hatch, chart.Hatch(gap, geo.Degrees(direction), ring)...)
				st.Fill = chart.Color{}
			}
		}
		s.shape(st, sh, func(at chart.Point) { s.pointSign(s.page, o.Kind, st, at) })
		if asbuilt.FormOf(sh) == asbuilt.Point && s.frame.Sees(sh.Vertices[0]) {
			s.keep(sh.Vertices[0], 1.6)
		}
	}
	at, ok := s.middle(o.Now)
	if shown = ok; !shown {
		return
	}
	title := name(o)
	if o.Kind == asbuilt.Boundary {
		title = ""
	}
	if title != "" {
		radius := 0.0
		if asbuilt.FormOf(o.Now[0]) == asbuilt.Point {
			radius = 1.6
		}
		s.label(50, at, radius, text, title)
	}
	s.explain(order, words.New(), func(p *chart.Page, r chart.Rect) {
		switch o.Kind {
		case asbuilt.Well:
			s.pointSign(p, o.Kind, st, r.Center())
		case asbuilt.Boundary:
			p.Line(st, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
		default:
			q := r.Inset(0.4)
			p.Rect(st, q)
			if gap > 0 {
				p.Lines(hatch, chart.Hatch(gap/2, geo.Degrees(direction), []chart.Point{{X: q.X, Y: q.Y}, {X: q.X + q.W, Y: q.Y}, {X: q.X + q.W, Y: q.Y + q.H}, {X: q.X, Y: q.Y + q.H}})...)
			}
		}
	})
}

// pointSign draws what is only known as a point: a well as two circles, all
// else as a small square.
func (s *scene) pointSign(p *chart.Page, k asbuilt.Kind, st chart.Style, at chart.Point) {
	if k == asbuilt.Well {
		p.Circle(st, at, 1.5)
		p.Circle(chart.Style{Fill: st.Stroke}, at, 0.6)
		return
	}
	st.Dash = nil
	p.Rect(st, chart.Rect{X: at.X - 1, Y: at.Y - 1, W: 2, H: 2})
}

// clearances draws utilities and no-dig areas, and hatches what lies within
// their clearance: no hole is proposed there.
func (s *scene) clearances() {
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if o.Kind != asbuilt.Utility && o.Kind != asbuilt.NoDig {
			continue
		}
		so := serviceOf(o)
		hatch := chart.Style{Stroke: so.color, Width: 0.18}
		if so.color == yellow { // yellow alone does not show on white
			hatch = chart.Style{Stroke: ink, Width: 0.12}
		}
		edge := chart.Style{Stroke: hatch.Stroke, Width: 0.25, Dash: []float64{0.6, 0.6}}
		if so.color == yellow {
			edge.Fill = yellow.Fade(0.25)
		}
		s.region(edge, clearance(o), hatch, so.gap, so.turn)
		for _, sh := range o.Now {
			s.utilityLine(so, sh)
		}
		at, ok := s.middle(o.Now)
		if !ok {
			continue
		}
		color := so.color
		if color == yellow {
			color = ink
		}
		s.label(12, at, max(0.5, s.frame.Scale.Paper(o.Clearance)), chart.Text{Size: 6, Strong: true, Color: color}, name(o))
		words := so.sort.New()
		if o.Clearance > 0 {
			words = finding.PaperLegendClearance.New(finding.Word("sort", s.m.says(words)), finding.Number("clearance", o.Clearance))
		}
		s.explain(50, words, func(p *chart.Page, r chart.Rect) {
			q := r.Inset(0.2)
			p.Lines(hatch, chart.Hatch(so.gap/1.6, geo.Degrees(so.turn), []chart.Point{{X: q.X, Y: q.Y}, {X: q.X + q.W, Y: q.Y}, {X: q.X + q.W, Y: q.Y + q.H}, {X: q.X, Y: q.Y + q.H}})...)
			p.Rect(edge, q)
			if o.Kind == asbuilt.Utility {
				cased(p, so, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
			}
		})
	}
}

// clearance returns the region in which no hole is proposed.
func clearance(o *locate.Outline) geo.Region {
	var outlines []geo.Outline
	for _, sh := range o.Now {
		if len(sh.Vertices) > 0 {
			outlines = append(outlines, sh)
		}
	}
	if len(outlines) == 0 {
		return nil
	}
	if o.Clearance > 0 {
		if r, err := geo.Buffer(outlines, o.Clearance); err == nil {
			return r
		}
	}
	var r geo.Region
	for _, l := range outlines {
		if l.Closed {
			r = append(r, geo.Patch{Outer: l.Vertices})
		}
		for i := range l.Vertices { // each side by itself where they cannot be joined
			if o.Clearance > 0 && (i > 0 || len(l.Vertices) == 1) {
				r = append(r, geo.Patch{Outer: geo.Capsule(l.Vertices[max(0, i-1)], l.Vertices[i], o.Clearance)})
			}
		}
	}
	return r
}

// utilityLine draws the utility itself.
func (s *scene) utilityLine(so service, sh geo.Outline) {
	switch asbuilt.FormOf(sh) {
	case asbuilt.Line:
		for _, part := range s.frame.Line(sh.Vertices) {
			cased(s.page, so, part...)
			s.labels.KeepLine(part...)
		}
	case asbuilt.Point:
		if s.frame.Sees(sh.Vertices[0]) {
			at := s.frame.Page(sh.Vertices[0])
			s.page.Circle(chart.Style{Stroke: ink, Width: 0.25, Fill: so.color}, at, 1)
			s.keep(sh.Vertices[0], 1)
		}
	}
}

// cased draws a line in the colour of a sort, yellow over black.
func cased(p *chart.Page, so service, at ...chart.Point) {
	if so.color == yellow {
		p.Line(chart.Style{Stroke: chart.Black, Width: 1}, at...)
		p.Line(chart.Style{Stroke: yellow, Width: 0.6, Dash: so.dash}, at...)
		return
	}
	p.Line(chart.Style{Stroke: so.color, Width: 0.6, Dash: so.dash}, at...)
}
