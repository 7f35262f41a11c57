package plot

import (
	"strings"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/probe"
)

// tree sets the first holes of a plan as cards, so that a crew without a phone
// can follow the plan whatever each hole meets: a card a hole, with what it may
// meet and which card comes then.
func (d *digPlan) tree() {
	if d.m.plan == nil || d.plan.Tree == nil {
		return
	}
	d.turn()
	d.heading(d.m.word(finding.PaperTree), 60)
	d.paragraph(10, false, d.m.word(finding.PaperTreeHow))
	const gap = 4.0
	w := (d.area.W - gap) / 2
	cards := d.cards(d.plan.Tree)
	for i := 0; i < len(cards); i += 2 {
		pair := cards[i:min(i+2, len(cards))]
		high := 0.0
		for _, c := range pair {
			high = max(high, c.height(w))
		}
		d.need(min(high, d.area.H-12))
		for k, c := range pair {
			d.draw(c, chart.Rect{X: d.area.X + float64(k)*(w+gap), Y: d.y, W: w, H: high})
		}
		d.y += high + gap
	}
}

// card is one hole of the tree on paper.
type card struct {
	label, after string
	hole         *probe.Proposal
	ties, far    [][2]string // the first two of the hole, and of a slot's far end: figure, landmark; set large
	depth        [][2]string // words, figure; set large
	lines        []string    // what else to know of the hole
	branches     [][2]string
}

// cards returns the cards of a tree: hole 1, then all second holes, then the
// third.
func (d *digPlan) cards(root *probe.Step) (all []card) {
	type come struct {
		step  *probe.Step
		after string
	}
	level := []come{{root, d.m.word(finding.PaperFirstHole)}}
	for len(level) > 0 {
		var next []come
		for _, c := range level {
			all = append(all, d.card(c.step, c.after))
			for _, b := range c.step.Branches {
				if b.Next != nil {
					next = append(next, come{b.Next, d.m.says(finding.PaperAfter.New(finding.Word("hole", c.step.Label), finding.About(b.Met.Finding(d.plan.Seek))))})
				}
			}
		}
		level = next
	}
	return all
}

// card returns the card of a step.
func (d *digPlan) card(s *probe.Step, after string) card {
	h := &s.Hole
	c := card{label: s.Label, after: after, hole: h}
	for i, t := range h.Ties {
		if i < 2 {
			c.ties = append(c.ties, [2]string{geo.FormatLength(t.Distance, d.unit()), d.from(t.From)})
			continue
		}
		c.lines = append(c.lines, d.m.says(finding.PaperCheck.New(finding.Parts(t.From), finding.Number("far", t.Distance))))
	}
	if len(h.Ties) < 2 {
		c.lines = append(c.lines, d.m.says(finding.PaperNoTwo.New(finding.About(d.where(h)))))
	}
	if isSlot(h) {
		for _, t := range h.ToTies[:min(2, len(h.ToTies))] {
			c.far = append(c.far, [2]string{geo.FormatLength(t.Distance, d.unit()), d.from(t.From)})
		}
		if h.ToSide.Known() && h.ToSide != d.side(h) {
			c.lines = append([]string{d.m.says(finding.FarEndOnSide.New(finding.About(h.ToSide.Finding())))}, c.lines...)
		}
	}
	if side := d.side(h); side.Known() {
		c.lines = append([]string{d.m.says(finding.OnSide.New(finding.About(side.Finding())))}, c.lines...)
	}
	if h.StopDepth > 0 {
		c.depth = [][2]string{{d.m.says(finding.PaperPartAt.New(finding.Parts(orUnknown(h.Part)))), geo.FormatDepth(h.Depth.Mean, d.unit())}, {d.m.word(finding.PaperStopAt), geo.FormatDepth(h.StopDepth, d.unit())}}
	}
	for _, m := range mind(h) {
		c.lines = append(c.lines, d.m.says(m)) // on every card: a crew may hold only this one
	}
	for i := range s.Branches {
		b := &s.Branches[i]
		if b.Again() { // a new plan follows: one line says it for all of them
			continue
		}
		says := d.m.says(b.Met.Finding(d.plan.Seek)) + ", " + d.m.percent(b.Chance)
		if len(b.Parts) > 0 && b.Met != probe.MetSought {
			says += " (" + strings.Join(b.Parts[:min(4, len(b.Parts))], ", ")
			if len(b.Parts) > 4 {
				says += " …"
			}
			says += ")"
		}
		then := finding.Says(b.Then(), d.m.reader())
		if b.Next != nil {
			then = d.m.says(finding.PaperGoTo.New(finding.Word("card", b.Next.Label)))
		}
		c.branches = append(c.branches, [2]string{says, then})
	}
	if rest, nothing := s.Replan(); rest > 0 {
		chance := finding.Number("chance", rest)
		others := finding.PaperElse.New(chance)
		if nothing {
			others = finding.PaperElseNothing.New(chance)
		}
		c.branches = append(c.branches, [2]string{d.m.says(others), d.m.word(finding.PaperLogPlan)})
	}
	return c
}

// The sizes of a card: points of its texts, millimetres of its label, its map
// and the column that says where to go.
const (
	cardTies  = 21.0
	cardFar   = 14.0
	cardDepth = 15.0
	cardText  = 8.5
	cardGo    = 26.0
	cardLabel = 18.0
	cardHead  = 12.5 // height of what stands over figures and map
	cardSight = 34.0 // width and least height of the map
)

// branchHeight returns how high a branch is set in a card of width w
// millimetres.
func branchHeight(b [2]string, w float64) float64 {
	return max(chart.ParagraphHeight(b[0], w-cardGo-5, cardText, false), chart.ParagraphHeight(b[1], cardGo-1, cardText, true)) + 1.6
}

// figures returns how high the large figures are.
func (c card) figures() (h float64) {
	h = float64(len(c.ties))*chart.LineHeight(cardTies) + float64(len(c.depth))*chart.LineHeight(cardDepth) + 2
	if isSlot(c.hole) {
		h += chart.LineHeight(cardText) + float64(len(c.far))*chart.LineHeight(cardFar) + 1
	}
	return h
}

// height returns how high a card of width w millimetres is.
func (c card) height(w float64) (h float64) {
	h = cardHead + max(cardSight, c.figures()) + 1
	h += chart.ParagraphHeight(strings.Join(c.lines, " "), w-4, cardText, false) + 2
	for _, b := range c.branches {
		h += branchHeight(b, w)
	}
	return h
}

// draw draws a card: figures to the left, a map to the right, below them what
// may be met.
func (d *digPlan) draw(c card, r chart.Rect) {
	p := d.page
	p.Rect(chart.Style{Stroke: chart.Black, Width: 0.6}, r)
	size := 22.0
	for size > 10 && chart.TextWidth(c.label, size, true) > cardLabel-3 {
		size--
	}
	p.Rect(chart.Style{Stroke: chart.Black, Width: 0.3}, chart.Rect{X: r.X, Y: r.Y, W: cardLabel, H: 11})
	p.Text(chart.Text{Size: size, Strong: true, Align: chart.Middle, Center: true}, vec(r.X+cardLabel/2, r.Y+5.5), c.label)
	x := r.X + cardLabel + 2
	p.Paragraph(chart.Text{Size: cardText}, chart.Rect{X: x, Y: r.Y + 1.5, W: r.X + r.W - x - 2, H: cardHead - 2}, c.after)

	sight := chart.Rect{X: r.X + r.W - cardSight - 2, Y: r.Y + cardHead, W: cardSight, H: max(cardSight, c.figures())}
	d.cardMap(p, sight, c.hole)
	left, y := r.X+2, r.Y+cardHead
	figure := func(size float64, says, after string) {
		y += chart.LineHeight(size)
		base := y - 0.22*chart.LineHeight(size)
		p.Text(chart.Text{Size: size, Strong: true}, vec(left, base), says)
		beside := left + chart.TextWidth(says, size, true) + 2
		p.Text(chart.Text{Size: 0.55 * size, Strong: true}, vec(beside, base), chart.Cut(after, sight.X-beside-1, 0.55*size, true))
	}
	for _, t := range c.ties {
		figure(cardTies, t[0], t[1])
	}
	if isSlot(c.hole) {
		y += chart.LineHeight(cardText)
		p.Text(chart.Text{Size: cardText}, vec(left, y-1), d.m.says(finding.PaperCardSlot.New(finding.Number("long", c.hole.At.Dist(c.hole.To)))))
		for _, t := range c.far {
			figure(cardFar, t[0], t[1])
		}
		y++
	}
	if len(c.depth) > 0 {
		y += 1
	}
	for _, t := range c.depth {
		y += chart.LineHeight(cardDepth)
		base := y - 0.22*chart.LineHeight(cardDepth)
		p.Text(chart.Text{Size: cardText, Strong: true}, vec(left, base), chart.Cut(t[0], 17, cardText, true))
		p.Text(chart.Text{Size: cardDepth, Strong: true}, vec(left+18, base), t[1])
	}

	y = sight.Y + sight.H + 1
	y += p.Paragraph(chart.Text{Size: cardText}, chart.Rect{X: r.X + 2, Y: y, W: r.W - 4, H: 60}, strings.Join(c.lines, " ")) + 1
	for _, b := range c.branches {
		p.Line(chart.Style{Stroke: chart.Grey, Width: 0.2}, vec(r.X, y), vec(r.X+r.W, y))
		p.Paragraph(chart.Text{Size: cardText}, chart.Rect{X: r.X + 2, Y: y + 0.8, W: r.W - cardGo - 5, H: 30}, b[0])
		p.Paragraph(chart.Text{Size: cardText, Strong: true}, chart.Rect{X: r.X + r.W - cardGo, Y: y + 0.8, W: cardGo - 1, H: 30}, b[1])
		y += branchHeight(b, r.W)
	}
}
