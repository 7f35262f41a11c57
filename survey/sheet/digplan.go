package sheet

import (
	"errors"
	"fmt"
	"strings"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// DigPlan draws the plan of the digging so that a crew can follow it on the lot
// with two tapes and no signal: the next hole in large figures, the order if it
// comes up empty, the cautions, lines to write the outcome on, and the map.
func DigPlan(loc *locate.Location, plan *probe.Plan, opt MapOptions) (*chart.Document, error) {
	if loc == nil || loc.Job == nil || plan == nil {
		return nil, errors.New("no plan to draw")
	}
	opt.Heading = "Dig plan"
	m := newSiteMap(loc, plan, opt)
	f := newFlow(m.opt.Size, m.title(), "Dig plan")
	if text := m.warning(); text != "" {
		f.text(9, true, text)
	}
	m.soughtLine(f, plan)
	if m.plan != nil && len(plan.Holes) > 0 {
		m.nextHole(f, &plan.Holes[0])
		f.table("If it comes up empty, dig these in this order. Log each; once one meets anything, plan anew.", m.order(plan.Holes, f.area.W))
	}
	if plan.Remark != "" {
		f.text(8.5, true, plan.Remark)
	}
	if m.plan != nil {
		f.table("What was found", m.lines(len(plan.Holes), f.area.W))
	}
	f.room(40)
	f.text(9, true, "Before anyone digs")
	f.list(8, plan.Cautions)
	doc, err := Map(loc, plan, opt)
	if err != nil {
		return nil, err
	}
	doc.Title = "Dig plan: " + m.title()
	doc.Pages = append(f.pages, doc.Pages...)
	return doc, nil
}

// soughtLine says what is looked for and how well it is known.
func (m *siteMap) soughtLine(f *flow, plan *probe.Plan) {
	says := "Sought: " + plan.Seek + "."
	if s := m.sought(plan.Seek); s != nil {
		says += fmt.Sprintf(" It lies within %s of where the map has it (95 %%, measured from the landmarks).", geo.FormatLength(s.Landmarks95, m.opt.Unit))
	}
	if m.plan != nil && len(plan.Holes) > 0 {
		says += fmt.Sprintf(" Expect %.1f holes; the next one meets it with %.0f %%.", plan.ExpectedHoles, 100*plan.ChanceNext)
	}
	f.text(10, false, says)
}

// sought returns the first spot of what is sought, or nil.
func (m *siteMap) sought(seek string) *locate.Spot {
	for i := range m.loc.Spots {
		s := &m.loc.Spots[i]
		if s.Part == seek || string(s.Kind) == seek || s.Part+"."+string(s.Spot) == seek {
			return s
		}
	}
	return nil
}

// nextHole draws the box with the next hole in large figures.
func (m *siteMap) nextHole(f *flow, h *probe.Proposal) {
	const high = 62.0
	f.room(high)
	r := chart.Rect{X: f.area.X, Y: f.y, W: f.area.W, H: high}
	p := f.page
	p.Rect(chart.Style{Stroke: chart.Black, Width: 0.8}, r)
	p.Text(chart.Text{Size: 13, Strong: true}, vec(r.X+3, r.Y+6.5), "Hole 1")
	p.Text(chart.Text{Size: 10, Align: chart.Right}, vec(r.X+r.W-3, r.Y+6.5), "may meet: "+chart.Cut(strings.Join(h.Seeks, ", "), r.W*0.6, 10, false))
	column := r.W / 2
	for i, t := range h.Ties {
		if i > 2 {
			break
		}
		x, y := r.X+3+float64(i%2)*column, r.Y+17.0
		if i == 2 {
			p.Text(chart.Text{Size: 9}, vec(r.X+3, r.Y+29), fmt.Sprintf("check: from %s %s", m.mark(t.From), geo.FormatLength(t.Distance, m.opt.Unit)))
			continue
		}
		p.Text(chart.Text{Size: 9}, vec(x, y-4.5), chart.Cut("from "+m.mark(t.From), column-5, 9, false))
		p.Text(chart.Text{Size: 24, Strong: true}, vec(x, y+4.5), geo.FormatLength(t.Distance, m.opt.Unit))
	}
	side := h.Side
	if side == "" {
		side = "there are not two landmarks to tape from: set it out by the map"
	}
	p.Text(chart.Text{Size: 9.5, Strong: true}, vec(r.X+3, r.Y+34.5), chart.Cut(side, r.W-6, 9.5, true))
	third := r.W / 3
	for i, c := range []struct{ what, says string }{
		{"expect it at", geo.FormatDepth(max(0, h.Depth.Mean), m.opt.Unit)},
		{"call it empty at", geo.FormatDepth(h.StopDepth, m.opt.Unit)},
		{"chance", fmt.Sprintf("%.0f %%", 100*h.Chance)},
	} {
		x := r.X + 3 + float64(i)*third
		p.Text(chart.Text{Size: 9}, vec(x, r.Y+41), c.what)
		p.Text(chart.Text{Size: 20, Strong: true}, vec(x, r.Y+49.5), c.says)
	}
	p.Text(chart.Text{Size: 8}, vec(r.X+3, r.Y+54), "depth below today's ground, to "+string(h.Depth.Feature)+"; 95 % within "+
		geo.FormatDepth(1.96*h.Depth.Sigma, m.opt.Unit)+" of it")
	f.y += high + 2
	f.list(8.5, h.Cautions)
}

// mark names a landmark with what it is.
func (m *siteMap) mark(id string) string {
	if p := m.loc.Job.Sketch.Part(id); p != nil && p.Name != "" && p.Name != id {
		return id + " (" + p.Name + ")"
	}
	return id
}

// order lists the holes of a plan.
func (m *siteMap) order(holes []probe.Proposal, width float64) *chart.Table {
	t := &chart.Table{Size: 8.5, Columns: even(width, "Hole", "chance", "from", "from", "check", "side", "expect at", "empty at")}
	for i := range holes {
		h := &holes[i]
		row := []string{fmt.Sprint(h.Rank), fmt.Sprintf("%.0f %%", 100*h.Chance)}
		for k := range 3 {
			cell := ""
			if k < len(h.Ties) {
				cell = h.Ties[k].From + "  " + geo.FormatLength(h.Ties[k].Distance, m.opt.Unit)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, append(row, shortSide(h.Side), geo.FormatDepth(max(0, h.Depth.Mean), m.opt.Unit), geo.FormatDepth(h.StopDepth, m.opt.Unit)))
	}
	return t
}

// shortSide leaves of "right of the line from A to B" what a table has room for.
func shortSide(s string) string { return strings.Replace(s, " of the line from ", " of ", 1) }

// lines is the table that the crew fills in.
func (m *siteMap) lines(n int, width float64) *chart.Table {
	t := &chart.Table{Size: 9, Columns: even(width, "Hole", "taped from / from", "met what", "depth to what", "went down to", "time, by")}
	for i := range max(n, 4) {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%d\n ", i+1)})
	}
	return t
}
