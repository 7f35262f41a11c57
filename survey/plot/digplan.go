package plot

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

// DigPlan prints a plan to be used on the lot with two tapes and no signal: on
// the first page what is sought, the next hole with its ties, depth and stop
// depth in figures that can be read at arm's length, and a map; then the holes
// after it for the case that it comes up empty, the cautions, and a log to
// write in. Where the fit is doubtful, or no hole is proposed, it says why and
// shows no hole.
func DigPlan(loc *locate.Location, plan *probe.Plan, opt MapOptions) (*chart.Document, error) {
	if loc == nil || loc.Job == nil || plan == nil {
		return nil, errors.New("no plan to print")
	}
	m := newSiteMap(loc, plan, opt)
	m.booklet = true
	d := &digPlan{booklet: newBooklet(m, m.word(finding.PaperDigPlan)), plan: plan}
	d.first()
	d.tree()
	d.order()
	d.cautions()
	d.log()
	d.number(d.pages, 1, len(d.pages), m.word(finding.PaperFoot)+" "+m.unitWords())
	return &chart.Document{Title: d.pages[0].Title, Date: opt.Date, Pages: d.pages}, nil
}

type digPlan struct {
	*booklet
	plan *probe.Plan
}

func (d *digPlan) unit() geo.Unit { return d.m.opt.Unit }

// unitWords says what unit lengths are in.
func (m *siteMap) unitWords() string {
	if m.opt.Unit == geo.Metre {
		return m.word(finding.PaperInMetres)
	}
	return m.word(finding.PaperInFeet)
}

// first sets the first page.
func (d *digPlan) first() {
	if w := d.m.warning(); w != "" {
		d.framed(9, true, w)
	}
	d.page.Text(chart.Text{Size: 10}, vec(d.area.X, d.y+4.5), d.m.word(finding.PaperSought))
	d.page.Text(chart.Text{Size: 20, Strong: true}, vec(d.area.X+16, d.y+6.5), chart.Cut(d.m.reader().Name(d.plan.Seek), d.area.W*0.4, 20, true))
	if d.m.plan != nil && len(d.plan.Holes) > 0 {
		d.page.Text(chart.Text{Size: 10, Align: chart.Right}, vec(d.area.X+d.area.W, d.y+5.5), d.chance())
	}
	d.y += 10
	if f := d.plan.Follow; f != nil && d.m.plan != nil {
		d.framed(13, true, d.m.says(f.Finding())+" "+strings.Join(finding.Sentences(f.Cautions, d.m.reader()), " "))
	}
	if p := d.plan.Push; p != nil && d.m.plan != nil {
		d.framed(13, true, d.m.says(p.Finding())+" "+strings.Join(finding.Sentences(p.Cautions, d.m.reader()), " "))
	}
	if r := d.plan.Rod; r != nil && d.m.plan != nil {
		d.framed(11, true, d.m.says(r.Finding())+" "+strings.Join(finding.Sentences(r.Cautions, d.m.reader()), " "))
	}
	if d.m.plan == nil || len(d.plan.Holes) == 0 {
		says := d.m.word(finding.PaperNoHole) + " " + d.remark()
		if d.m.plan == nil {
			says = d.m.word(finding.PaperNoHoleDoubtful)
		}
		d.framed(13, true, says)
	} else {
		d.next(&d.plan.Holes[0])
	}
	d.sketchMap()
}

// chance says how likely the next step of the plan is to meet what is sought, and
// how many holes it will take.
func (d *digPlan) chance() string {
	says := d.m.says(finding.PaperChanceNext.New(finding.Number("chance", d.plan.ChanceNext)))
	if f := d.plan.Follow; f != nil {
		says = d.m.says(finding.PaperChanceFollow.New(finding.Number("chance", f.Chance), finding.Word("line", f.Line())))
	}
	if p := d.plan.Push; p != nil {
		says = d.m.says(finding.PaperChancePush.New(finding.Number("chance", p.Chance), finding.Word("what", p.What()), finding.Parts(p.From)))
	}
	if n := d.plan.ExpectedHoles; n > 0 && !math.IsInf(n, 0) {
		says += "; " + d.m.says(finding.PaperExpectHoles.New(finding.Number("holes", n)))
	}
	return says
}

// next sets the box of the next hole: ties to the left, depths to the right.
func (d *digPlan) next(h *probe.Proposal) {
	top, x, w := d.y, d.area.X, d.area.W
	split := x + w*0.62
	d.page.Text(chart.Text{Size: 11, Strong: true}, vec(x+3, top+6), chart.Cut(d.m.says(d.head(h)), w-6, 11, true))
	y := top + 8
	for i, t := range h.Ties {
		size := 26.0
		if i > 1 {
			size = 13
		}
		step := chart.LineHeight(size)
		figure := geo.FormatLength(t.Distance, d.unit())
		d.page.Text(chart.Text{Size: size, Strong: true, Align: chart.Right}, vec(x+49, y+step*0.8), figure)
		says := d.from(t.From)
		if i > 1 {
			says = d.m.says(finding.PaperFromCheck.New(finding.Parts(t.From)))
		}
		d.page.Text(chart.Text{Size: min(size, 20), Strong: i < 2}, vec(x+53, y+step*0.8), chart.Cut(says, split-x-55, min(size, 20), i < 2))
		if name := d.name(t.From); name != "" && i < 2 {
			d.page.Text(chart.Text{Size: 9}, vec(x+53, y+step*0.8+4.2), chart.Cut(name, split-x-55, 9, false))
			step += 4
		}
		y += step
	}
	if len(h.Ties) < 2 {
		y += d.page.Paragraph(chart.Text{Size: 10}, chart.Rect{X: x + 3, Y: y, W: split - x - 6, H: 30}, d.m.says(finding.PaperFewTapes.New(finding.About(d.where(h)))))
	}
	if side := d.side(h); side.Known() {
		y += 1.5 + d.page.Paragraph(chart.Text{Size: 11, Strong: true}, chart.Rect{X: x + 3, Y: y + 1, W: split - x - 6, H: 30}, d.m.says(finding.OnSide.New(finding.About(side.Finding()))))
	}
	y += d.farEnd(h, chart.Rect{X: x + 3, Y: y + 2, W: split - x - 6, H: 40})
	r, z := split+4, top+6
	big := func(what finding.Code, figure string) {
		d.page.Text(chart.Text{Size: 11, Strong: true}, vec(r, z), d.m.word(what))
		d.page.Text(chart.Text{Size: 26, Strong: true}, vec(r, z+11), chart.Cut(figure, x+w-r-2, 26, true))
		z += 17
	}
	if h.StopDepth > 0 {
		big(finding.PaperExpectAt, geo.FormatDepth(h.Depth.Mean, d.unit()))
		step := chart.LineHeight(9)
		z += 4 - step + d.page.Paragraph(chart.Text{Size: 9}, chart.Rect{X: r, Y: z - 1.5 - 0.78*step, W: x + w - r - 2, H: 20}, d.depthOf(h))
		big(finding.PaperStopAt, geo.FormatDepth(h.StopDepth, d.unit()))
		d.page.Text(chart.Text{Size: 9}, vec(r, z-1.5), d.m.word(finding.PaperCallEmpty))
	} else {
		big(finding.PaperDepthHead, d.m.word(finding.PaperNotKnown))
	}
	y = max(y, z+1)
	if s := strings.Join(finding.Sentences(mind(h), d.m.reader()), " "); s != "" || len(h.Seeks) > 0 {
		if len(h.Seeks) > 0 {
			s = d.m.says(finding.PaperItMayMeet.New(finding.Odds(h.Seeks, h.Meets))) + " " + s
		}
		y += 1 + d.page.Paragraph(chart.Text{Size: 9}, chart.Rect{X: x + 3, Y: y + 1, W: w - 6, H: 40}, s)
	}
	d.page.Rect(chart.Style{Stroke: chart.Black, Width: 1}, chart.Rect{X: x, Y: top, W: w, H: y + 2 - top})
	d.page.Line(chart.Style{Stroke: chart.Black, Width: 0.3}, vec(split, top+2), vec(split, max(z, top+30)))
	d.y = y + 5
}

// farEnd sets the far end of a slot, from the top of r, and returns the height
// taken in millimetres; a hole has none.
func (d *digPlan) farEnd(h *probe.Proposal, r chart.Rect) (high float64) {
	if !isSlot(h) {
		return 0
	}
	const size = 18.0
	high = d.page.Paragraph(chart.Text{Size: 11, Strong: true}, r, d.m.says(finding.PaperFarEnd.New(finding.Number("long", h.At.Dist(h.To)))))
	for _, t := range h.ToTies[:min(2, len(h.ToTies))] {
		high += chart.LineHeight(size)
		y := r.Y + high - 0.2*chart.LineHeight(size)
		d.page.Text(chart.Text{Size: size, Strong: true, Align: chart.Right}, vec(r.X+46, y), geo.FormatLength(t.Distance, d.unit()))
		d.page.Text(chart.Text{Size: 14, Strong: true}, vec(r.X+50, y), chart.Cut(d.from(t.From), r.W-50, 14, true))
	}
	if h.ToSide.Known() && h.ToSide != d.side(h) {
		r.Y += high
		high += d.page.Paragraph(chart.Text{Size: 11, Strong: true}, r, d.m.says(finding.FarEndOnSide.New(finding.About(h.ToSide.Finding()))))
	}
	return high + 2
}

// mind returns the cautions of a hole except those that are printed large: its
// side, and the far end of a slot.
func mind(h *probe.Proposal) []finding.Finding {
	return finding.Without(h.Cautions, finding.OnSide, finding.SlotEnd, finding.SlotEndUnfixed)
}

// remark says what to do when the plan comes to its end.
func (d *digPlan) remark() string {
	return strings.Join(finding.Sentences(d.plan.Remark, d.m.reader()), " ")
}

// far says in a line where the far end of a slot lies, and nothing of a hole.
func (d *digPlan) far(h *probe.Proposal) string {
	if !isSlot(h) {
		return ""
	}
	var ties []string
	for _, t := range h.ToTies[:min(2, len(h.ToTies))] {
		ties = append(ties, t.From+": "+geo.FormatLength(t.Distance, d.unit()))
	}
	long := finding.Number("long", h.At.Dist(h.To))
	says := d.m.says(finding.PaperSlotLong.New(long))
	if len(ties) > 0 {
		says = d.m.says(finding.PaperSlotFar.New(long, finding.Word("ties", strings.Join(ties, " · "))))
	}
	if h.ToSide.Known() && h.ToSide != d.side(h) {
		says += ", " + h.ToSide.Says(d.m.reader())
	}
	return says
}

func (d *digPlan) name(landmark string) string {
	if p := d.m.loc.Job.Sketch.Part(landmark); p != nil && p.Name != landmark {
		return p.Name
	}
	return ""
}

// side says on which side of its first two landmarks a hole lies.
func (d *digPlan) side(h *probe.Proposal) (s setout.Side) {
	if len(h.Ties) < 2 {
		return s
	}
	a, b := d.m.loc.Spot(h.Ties[0].From, asbuilt.Center), d.m.loc.Spot(h.Ties[1].From, asbuilt.Center)
	if a == nil || b == nil {
		return s
	}
	return setout.SideOf(a.Part, a.At, b.Part, b.At, h.At)
}

// where gives a hole's place where tapes cannot.
func (d *digPlan) where(h *probe.Proposal) finding.Finding {
	if p, ok := d.m.loc.Frame.LonLat(h.At); ok {
		return finding.PaperLonLat.New(finding.Number("lon", p.Lon.Degrees()), finding.Number("lat", p.Lat.Degrees()))
	}
	return finding.PaperAddLandmarks.New()
}

// head says what the large box is about.
func (d *digPlan) head(h *probe.Proposal) finding.Finding {
	p := d.plan
	switch {
	case isSlot(h):
		return finding.PaperNextSlot.New()
	case p.Push != nil:
		return finding.PaperNextNoPush.New(finding.Word("what", p.Push.What()))
	case p.Follow != nil:
		return finding.PaperNextIfLost.New(finding.Word("line", p.Follow.Line()))
	case p.Rod != nil:
		return finding.PaperNextNoRod.New()
	}
	return finding.PaperNextHole.New()
}

// from says from which landmark a tape runs.
func (d *digPlan) from(landmark string) string {
	return d.m.says(finding.PaperFrom.New(finding.Parts(landmark)))
}

// depthOf says how far off the depth of a hole may be, and what it runs to.
func (d *digPlan) depthOf(h *probe.Proposal) string {
	half, shallow := h.Depth.Within()
	within := finding.PaperWithin.New(finding.Number("half", half))
	if shallow {
		within = finding.PaperAtMost.New(finding.Number("most", h.Depth.Mean+half))
	}
	feature := finding.Word("to", orUnknown(string(h.Depth.Feature)))
	to := finding.PaperTo.New(feature)
	if h.Part != "" {
		to = finding.PaperToOf.New(feature, finding.Parts(h.Part))
	}
	return d.m.says(within) + ", " + d.m.says(to)
}

func orUnknown(s string) string {
	if s == "" {
		return "part"
	}
	return s
}

// sketchMap fills the rest of the first page with a map of the holes and the
// landmarks that they are taped from.
func (d *digPlan) sketchMap() {
	const strip = 13.0 // over the map, for scale and north
	if d.left() < 60 {
		d.turn()
	}
	window := chart.Rect{X: d.area.X, Y: d.y + strip, W: d.area.W, H: min(d.left()-2, 190) - strip}
	must := d.m.content()
	if d.m.plan != nil && len(d.plan.Holes) > 0 {
		must = nil
		for i := range d.plan.Holes[:min(len(d.plan.Holes), 1+further)] {
			must = append(must, d.plan.Holes[i].At)
			if isSlot(&d.plan.Holes[i]) {
				must = append(must, d.plan.Holes[i].To)
			}
		}
		for _, t := range d.plan.Holes[0].Ties {
			if s := d.m.loc.Spot(t.From, asbuilt.Center); s != nil {
				must = append(must, s.At)
			}
		}
	}
	center, w, h, ok := chart.Bounds(d.m.opt.Turn, must...)
	if !ok {
		return
	}
	f := chart.Frame{Window: window, Center: center, Turn: d.m.opt.Turn}
	inner := chart.Rect{W: window.W - 30, H: window.H - 26}
	f.Scale = chart.FitScale(max(w, 1), max(h, 1), inner, d.unit())
	s := d.m.scene(d.page, layout{frame: f, terse: map[int]bool{rankHole: true}})
	s.draw()
	d.page.Rect(chart.Style{Stroke: chart.Black, Width: 0.4}, window)
	north := vec(window.X+window.W-12, window.Y-strip/2)
	if d.m.knowsNorth() {
		chart.Arrow(d.page, north, strip-1, f.Turn)
	} else {
		chart.UpMark(d.page, north.Sub(vec(0, 1)), strip-3, f.Turn, d.m.upWords()...)
	}
	chart.ScaleBar(d.page, vec(window.X+3, window.Y-2), f.Scale, d.unit(), d.m.barUnit(), 50)
	d.page.Text(chart.Text{Size: 7}, vec(window.X+70, window.Y-2.5), chart.Cut(d.m.says(finding.PaperMapNote.New(finding.Word("scale", d.m.scaleText(f.Scale)))), window.W-70-strip-4, 7, false))
	d.y = window.Y + window.H + 2
}

// order sets the holes of the plan as a table.
func (d *digPlan) order() {
	d.turn()
	if d.m.plan == nil || len(d.plan.Holes) == 0 {
		return
	}
	d.heading(d.m.word(finding.PaperOrder), 20)
	head := d.m.word
	t := &chart.Table{Size: 10, Columns: d.spread(
		chart.Column{Head: head(finding.PaperHeadRank), Width: 11, Align: chart.Middle, Strong: true}, chart.Column{Head: head(finding.PaperHeadTapes), Width: 76, Strong: true},
		chart.Column{Head: head(finding.PaperHeadLies), Width: 30}, chart.Column{Head: head(finding.PaperHeadExpect), Width: 26, Align: chart.Right}, chart.Column{Head: head(finding.PaperHeadStop), Width: 18, Align: chart.Right, Strong: true},
		chart.Column{Head: head(finding.PaperHeadChance), Width: 20, Align: chart.Right}, chart.Column{Head: head(finding.PaperHeadMeet), Width: 24})}
	var notes []finding.Finding
	holes := map[string][]string{} // ranks of each caution
	for i := range d.plan.Holes {
		h := &d.plan.Holes[i]
		var ties []string
		for _, tie := range h.Ties {
			ties = append(ties, tie.From+": "+geo.FormatLength(tie.Distance, d.unit()))
		}
		if len(ties) < 2 {
			ties = append(ties, d.m.says(d.where(h)))
		}
		where := strings.Join(ties, " · ")
		if says := d.far(h); says != "" {
			where += "; " + says
		}
		row := []string{strconv.Itoa(h.Rank), where, d.side(h).Short(d.m.reader()), d.m.word(finding.PaperNotKnown), "", d.m.percent(h.Chance), strings.Join(h.Seeks, ", ")}
		if h.StopDepth > 0 {
			row[3], row[4] = d.m.depth(h.Depth), geo.FormatDepth(h.StopDepth, d.unit())
		}
		t.Rows = append(t.Rows, row)
		for _, c := range mind(h) {
			key := c.Key()
			if holes[key] == nil {
				notes = append(notes, c)
			}
			holes[key] = append(holes[key], strconv.Itoa(h.Rank))
		}
	}
	d.table(t)
	var says []string
	for _, c := range notes {
		says = append(says, d.m.says(finding.PaperHoleNote.New(finding.Word("holes", strings.Join(holes[c.Key()], ", ")), finding.About(c))))
	}
	if r := d.remark(); r != "" {
		says = append(says, r)
	}
	d.paragraph(9, false, strings.Join(append(says, d.m.word(finding.PaperChanceNote)), " "))
}

// cautions sets what to watch for before digging, in every language: whoever stands
// at the hole reads one of them.
func (d *digPlan) cautions() {
	list := d.plan.Cautions
	if len(list) == 0 {
		list = practice.Safety(d.m.loc.Job.Settings.EntryDepth)
	}
	for _, to := range d.m.readers() {
		d.heading(finding.PaperBefore.New().Says(to), 30)
		var says []string
		for _, c := range list {
			says = append(says, "• "+c.Says(to))
		}
		d.framed(8.5, false, strings.Join(says, "\n"))
	}
}

// log sets an empty log to write in: the rest of the page, and no fewer than
// eight rows.
func (d *digPlan) log() {
	const high = 8.5
	d.heading(d.m.word(finding.PaperLog), 6+8*high)
	head := d.m.word
	t := &chart.Table{Size: 8, Columns: d.spread(
		chart.Column{Head: head(finding.PaperHeadHole), Width: 16}, chart.Column{Head: head(finding.PaperHeadTime), Width: 18}, chart.Column{Head: head(finding.PaperHeadTape), Width: 28}, chart.Column{Head: head(finding.PaperHeadTape), Width: 28},
		chart.Column{Head: head(finding.PaperHeadMet), Width: 62}, chart.Column{Head: head(finding.PaperHeadDepth), Width: 20}, chart.Column{Head: head(finding.PaperHeadTo), Width: 34})}
	_, y := t.Draw(d.page, vec(d.area.X, d.y), 20)
	line := chart.Style{Stroke: chart.Grey, Width: 0.2}
	top, bottom := y, y
	for bottom+high <= d.area.Y+d.area.H {
		bottom += high
		d.page.Line(line, vec(d.area.X, bottom), vec(d.area.X+d.area.W, bottom))
	}
	x := d.area.X
	d.page.Line(line, vec(x, top), vec(x, bottom))
	for _, c := range t.Columns {
		x += c.Width
		d.page.Line(line, vec(x, top), vec(x, bottom))
	}
	d.y = bottom + 2
}
