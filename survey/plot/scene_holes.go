package plot

import (
	"math"
	"slices"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// landmarks draws the survey points, each a triangle with its name.
func (s *scene) landmarks() {
	st := chart.Style{Stroke: ink, Width: 0.25, Fill: pink}
	sign := func(p *chart.Page, at chart.Point) {
		p.Polygon(st, []chart.Point{at.Add(vec(0, -1.5)), at.Add(vec(1.3, 0.75)), at.Add(vec(-1.3, 0.75))})
		p.Circle(chart.Style{Fill: chart.White}, at, 0.3)
	}
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if o.Kind != asbuilt.Landmark || len(o.Now) == 0 || len(o.Now[0].Vertices) == 0 || !s.frame.Sees(o.Now[0].Vertices[0]) {
			continue
		}
		at := o.Now[0].Vertices[0]
		sign(s.page, s.frame.Page(at))
		s.keep(at, 1.4)
		s.label(10, at, 1.5, chart.Text{Size: 6.5, Color: pink}, name(o))
		s.explain(10, finding.PaperLegendLandmark.New(), func(p *chart.Page, r chart.Rect) { sign(p, r.Center()) })
	}
}

// metSign and emptySign draw holes: filled where something was met, open with
// a cross where nothing was.
func metSign(p *chart.Page, at chart.Point, r float64) {
	p.Circle(chart.Style{Stroke: chart.White, Width: 0.3, Fill: ink}, at, r)
}

func emptySign(p *chart.Page, at chart.Point, r float64) {
	line := chart.Style{Stroke: ink, Width: 0.25}
	p.Circle(chart.Style{Stroke: ink, Width: 0.25, Fill: chart.White}, at, r)
	d := r * math.Sqrt2 / 2
	p.Line(line, at.Add(vec(-d, -d)), at.Add(vec(d, d)))
	p.Line(line, at.Add(vec(-d, d)), at.Add(vec(d, -d)))
}

// holes draws the holes that were dug.
func (s *scene) holes() {
	for i := range s.loc.Holes {
		h := &s.loc.Holes[i]
		if !s.frame.Sees(h.At) {
			continue
		}
		r := min(3, max(1, s.frame.Scale.Paper(h.Radius)))
		words, sign, order := finding.PaperLegendMet.New(), metSign, 11
		if h.Met == "" {
			words, sign, order = finding.PaperLegendEmpty.New(), emptySign, 12
		}
		sign(s.page, s.frame.Page(h.At), r)
		s.keep(h.At, r)
		s.label(rankHole, h.At, r, chart.Text{Size: 6}, s.m.holeLines(h)...)
		s.explain(order, words, func(p *chart.Page, q chart.Rect) { sign(p, q.Center(), 1.2) })
	}
}

// holeLines says what a hole showed: its name, what was met, and how deep.
func (m *siteMap) holeLines(h *locate.Hole) []string {
	told := m.emptyBy(h)
	if h.Met != "" {
		told = m.says(finding.PaperMet.New(finding.Parts(h.Met)))
	}
	if h.Depth != nil {
		told += " " + geo.FormatDepth(*h.Depth, m.opt.Unit)
	}
	return []string{h.Name, told}
}

// stopWords are what ended a hole, for people.
var stopWords = map[survey.Stop]finding.Finding{survey.StopRock: finding.PaperStopRock.New(), survey.StopRoot: finding.PaperStopRoot.New(), survey.StopWater: finding.PaperStopWater.New(),
	survey.StopUtility: finding.PaperStopLine.New(), survey.StopGaveUp: finding.PaperStopGaveUp.New()}

// emptyBy says how a hole ended that met nothing.
func (m *siteMap) emptyBy(h *locate.Hole) string {
	if f, ok := stopWords[h.Stopped]; ok {
		return m.says(f)
	}
	return m.word(finding.PaperEmpty)
}

// further is how many holes after the next one are shown: those to dig if it
// comes up empty.
const further = 4

// proposals draws the next hole with the tapes that set it out, and lighter
// those after it.
func (s *scene) proposals() {
	if s.plan == nil {
		return
	}
	s.stabs()
	for i := min(further, len(s.plan.Holes)-1); i >= 0; i-- {
		h := &s.plan.Holes[i]
		if !s.frame.Sees(h.At) {
			continue
		}
		if i == 0 {
			s.setOut(h)
		}
		s.slot(h, i == 0)
		c := s.frame.Page(h.At)
		r := proposalRadius(i + 1)
		proposalSign(s.page, c, r, i+1)
		s.keepRing(c, r)
		if i > 0 {
			s.labels.Sign("hole", c, r)
			s.explain(2, finding.PaperLegendFurther.New(), func(p *chart.Page, q chart.Rect) { proposalSample(p, q, 2) })
			continue
		}
		s.label(rankNext, h.At, r+0.3, chart.Text{Size: 7, Strong: true}, s.m.nextLines(h)...)
		s.explain(1, finding.PaperLegendNext.New(), func(p *chart.Page, q chart.Rect) { proposalSample(p, q, 1) })
	}
	for i := min(further, len(s.plan.Holes)-1); i >= 0; i-- { // over all rings
		if h := &s.plan.Holes[i]; s.frame.Sees(h.At) {
			proposalNumber(s.page, numberAt(s.frame.Page(h.At), proposalRadius(i+1)), i+1)
		}
	}
}

// proposalRadius is that of the ring of a proposed hole, millimetres.
func proposalRadius(rank int) float64 {
	if rank == 1 {
		return 2.4
	}
	return 1.7
}

// proposalSign draws a proposed hole: a ring, open so that a box or a hole in it is
// seen. Its number stands beside it.
func proposalSign(p *chart.Page, at chart.Point, r float64, rank int) {
	if rank > 1 {
		p.Circle(chart.Style{Stroke: ink, Width: 0.3, Dash: []float64{0.8, 0.5}}, at, r)
		return
	}
	p.Circle(chart.Style{Stroke: chart.White, Width: 1.2}, at, r)
	p.Circle(chart.Style{Stroke: ink, Width: 0.6}, at, r)
}

func proposalNumber(p *chart.Page, at chart.Point, rank int) {
	size := 5.5
	if rank == 1 {
		size = 8
	}
	p.Text(chart.Text{Size: size, Strong: true, Align: chart.Middle, Center: true, Halo: true}, at, strconv.Itoa(rank))
}

// proposalSample draws ring and number side by side for the legend.
func proposalSample(p *chart.Page, q chart.Rect, rank int) {
	proposalSign(p, q.Center(), 1.5, rank)
	proposalNumber(p, q.Center().Add(vec(-2.8, 0)), rank)
}

// numberAt is where the number of a ring stands: at its upper left.
func numberAt(at chart.Point, r float64) chart.Point { return at.Add(vec(-r-0.2, -r-0.2)) }

// keepRing makes labels keep off a ring and its number.
func (s *scene) keepRing(at chart.Point, r float64) {
	n := numberAt(at, r)
	r += 0.3 // half its line
	s.labels.Keep(chart.Rect{X: at.X - r, Y: at.Y - r, W: 2 * r, H: 2 * r})
	s.labels.Keep(chart.Rect{X: n.X - 1, Y: n.Y - 1.3, W: 2, H: 2.6})
}

// stabs draws the stabs of a probe rod that come before the next hole.
func (s *scene) stabs() {
	if s.plan.Rod == nil {
		return
	}
	sign := func(p *chart.Page, at chart.Point) { p.Circle(chart.Style{Fill: ink}, at, 0.35) }
	for _, v := range s.plan.Rod.Stabs() {
		if s.frame.Sees(v) {
			sign(s.page, s.frame.Page(v))
		}
	}
	s.explain(2, finding.PaperLegendStabs.New(), func(p *chart.Page, r chart.Rect) { sign(p, r.Center()) })
}

func (m *siteMap) nextLines(h *probe.Proposal) []string {
	lines := []string{m.word(finding.PaperMapHole)}
	if isSlot(h) {
		lines[0] = m.says(finding.PaperMapSlot.New(finding.Number("long", h.At.Dist(h.To))))
	}
	if h.Depth.Mean > 0 {
		lines = append(lines, m.deep(h.Depth))
	}
	if h.StopDepth > 0 {
		lines = append(lines, m.says(finding.PaperMapStop.New(finding.Number("stop", h.StopDepth))))
	}
	return lines
}

// setOut draws the tapes that set a hole out, each with its distance, and the
// arc that it swings.
func (s *scene) setOut(h *probe.Proposal) {
	st := chart.Style{Stroke: pink, Width: 0.25, Dash: []float64{3, 0.8, 0.6, 0.8}}
	for i, tie := range append(slices.Clone(h.Ties), h.ToTies[:min(2, len(h.ToTies))]...) {
		at := h.At
		if i >= len(h.Ties) {
			at = h.To
		}
		from, ok := s.landmark(tie.From)
		if !ok {
			continue
		}
		s.page.Line(st, s.frame.Page(from), s.frame.Page(at))
		s.labels.KeepTape(s.frame.Page(from), s.frame.Page(at))
		s.page.Line(chart.Style{Stroke: pink, Width: 0.3}, s.arc(from, at, tie.Distance)...)
		figure := chart.Text{Size: 7, Strong: i < len(h.Ties), Color: pink} // of the far end lighter
		if !s.labels.Along(s.page, figure, s.frame.Page(from), s.frame.Page(at), geo.FormatLength(tie.Distance, s.unit)) {
			s.label(2, from.Lerp(at, 0.5), 0, figure, geo.FormatLength(tie.Distance, s.unit))
		}
		s.explain(3, finding.PaperLegendTape.New(), func(p *chart.Page, r chart.Rect) {
			p.Line(st, vec(r.X, r.Y+r.H/2), vec(r.X+r.W, r.Y+r.H/2))
			p.Line(chart.Style{Stroke: pink, Width: 0.3}, vec(r.X+r.W-0.6, r.Y), vec(r.X+r.W, r.Y+r.H/2), vec(r.X+r.W-0.6, r.Y+r.H))
		})
	}
}

// isSlot reports whether a proposal is a slot that can be drawn.
func isSlot(h *probe.Proposal) bool {
	d := h.At.Dist(h.To)
	return h.Slot() && d > 0 && !math.IsInf(d, 0)
}

// slot draws a slot as a line from end to end, the next one heavier; of a hole
// it draws nothing.
func (s *scene) slot(h *probe.Proposal, next bool) {
	if !isSlot(h) {
		return
	}
	width := 0.4
	if next {
		width = 0.9
	}
	slotSign(s.page, width, s.frame.Page(h.At), s.frame.Page(h.To))
	s.labels.KeepLine(s.frame.Page(h.At), s.frame.Page(h.To))
	if next {
		s.keep(h.To, 1.2)
		s.explain(2, finding.PaperLegendSlot.New(), func(p *chart.Page, r chart.Rect) {
			slotSign(p, width, vec(r.X, r.Y+r.H/2), vec(r.X+r.W-0.5, r.Y+r.H/2))
		})
	}
}

// slotSign draws a line with a bar across its far end, edged white so that it
// stands out over what is dark.
func slotSign(p *chart.Page, width float64, a, b chart.Point) {
	bar := b.Sub(a).Unit().Rotate(geo.Degrees(90)).Scale(1.4)
	for _, st := range []chart.Style{{Stroke: chart.White, Width: width + 0.6}, {Stroke: ink, Width: width}} {
		p.Line(st, a, b)
		p.Line(st, b.Sub(bar), b.Add(bar))
	}
}

// landmark returns where a landmark lies.
func (s *scene) landmark(id string) (geo.Vec, bool) {
	for i := range s.loc.Outlines {
		if o := &s.loc.Outlines[i]; o.Part == id && len(o.Now) > 0 && len(o.Now[0].Vertices) > 0 {
			return o.Now[0].Vertices[0], true
		}
	}
	return geo.Vec{}, false
}

// arc returns a piece of the circle that a tape of distance metres swings
// about from, 5 mm of paper to either side of to.
func (s *scene) arc(from, to geo.Vec, distance float64) (arc []chart.Point) {
	if !(distance > 0) || from == to {
		return nil
	}
	dir := to.Sub(from).Unit()
	half := min(math.Pi/4, s.frame.Scale.Ground(5)/distance)
	for i := -8; i <= 8; i++ {
		arc = append(arc, s.frame.Page(from.Add(dir.Rotate(geo.Radians(half*float64(i)/8)).Scale(distance))))
	}
	return arc
}
