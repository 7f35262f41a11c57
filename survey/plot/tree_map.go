package plot

import (
	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/probe"
)

// The greys of a card's map, which tell things apart in black and white too:
// nothing on a card is in colour, since a crew may have printed it on any
// printer.
var (
	cardTrench = chart.Style{Stroke: old, Width: 0.15, Fill: chart.RGB(0xdadada)}
	cardPipe   = chart.Style{Stroke: old, Width: 0.4}
	cardHouse  = chart.Style{Stroke: ink, Width: 0.4}
	cardTape   = chart.Style{Stroke: chart.Black, Width: 0.35, Dash: []float64{2, 0.7}}
)

// cardMap draws the place of a hole and its first two tapes among what a crew
// can see, the house and the landmarks, and what is believed below them. It is
// for orientation, not for measuring, so it takes any scale.
func (d *digPlan) cardMap(p *chart.Page, window chart.Rect, h *probe.Proposal) {
	ties := h.Ties[:min(2, len(h.Ties))]
	must := []geo.Vec{h.At}
	if isSlot(h) {
		must = append(must, h.To)
	}
	for _, t := range ties {
		if s := d.m.loc.Spot(t.From, asbuilt.Center); s != nil {
			must = append(must, s.At)
		}
	}
	center, w, high, ok := chart.Bounds(d.m.opt.Turn, must...)
	if !ok {
		return
	}
	f := chart.Frame{Window: window, Center: center, Turn: d.m.opt.Turn}
	f.Scale = chart.FitScale(max(w, 3), max(high, 3), window.Inset(4), geo.Metre) // metric scales lie closer
	s := d.m.scene(p, layout{frame: f})
	s.labels = &chart.Labels{Frame: window}
	p.Group("card", &window, func() {
		s.below()
		for _, t := range ties {
			if from, ok := s.landmark(t.From); ok {
				p.Line(cardTape, f.Page(from), f.Page(h.At))
				s.labels.KeepLine(f.Page(from), f.Page(h.At))
			}
		}
	})
	p.Rect(chart.Style{Stroke: chart.Black, Width: 0.25}, window)
	s.slot(h, true) // the hole and its tapes are not cut at the edge
	at := f.Page(h.At)
	p.Circle(chart.Style{Stroke: chart.Black, Width: 0.5, Fill: chart.White}, at, 1.7)
	p.Circle(chart.Style{Fill: chart.Black}, at, 0.8)
	s.keep(h.At, 1.7)
	s.letters()
}

// below draws in grey what is believed to lie in the ground, and the houses.
func (s *scene) below() {
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		for _, sh := range o.Now {
			switch o.Kind {
			case asbuilt.Lateral:
				if ring := trench(sh.Vertices, max(s.width(o.Part), s.frame.Scale.Ground(0.9))/2); ring != nil {
					s.ring(cardTrench, ring)
				}
			case asbuilt.Header:
				s.shape(cardPipe, sh, nil)
			case asbuilt.Tank, asbuilt.Box:
				s.shape(chart.Style{Stroke: old, Width: 0.4, Fill: chart.White}, sh, func(at chart.Point) {
					r := max(0.8, s.frame.Scale.Paper(practice.BoxSize)/2)
					s.page.Rect(chart.Style{Stroke: old, Width: 0.4, Fill: chart.White}, chart.Rect{X: at.X - r, Y: at.Y - r, W: 2 * r, H: 2 * r})
				})
			case asbuilt.Building:
				if ring := s.frame.Ring(sh.Vertices); ring != nil && sh.Closed {
					s.page.Lines(chart.Style{Stroke: old.Fade(0.6), Width: 0.1}, chart.Hatch(2, geo.Degrees(45), ring)...)
				}
				s.shape(cardHouse, sh, nil)
			}
		}
	}
}

// letters marks the landmarks that can be seen, each with its id.
func (s *scene) letters() {
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		at, ok := s.landmark(o.Part)
		if o.Kind != asbuilt.Landmark || !ok || !s.frame.Sees(at) {
			continue
		}
		c := s.frame.Page(at)
		s.page.Polygon(chart.Style{Fill: chart.Black}, []chart.Point{c.Add(vec(0, -1.4)), c.Add(vec(1.2, 0.7)), c.Add(vec(-1.2, 0.7))})
		s.keep(at, 1.2)
		s.labels.Place(s.page, chart.Label{Text: chart.Text{Size: 8, Strong: true}, Lines: []string{o.Part}, At: c, Radius: 1.2})
	}
}
