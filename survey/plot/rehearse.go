package plot

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/rehearse"
)

// Rehearsal draws the result of rehearsing a dig: how many of the plays ended
// with the first hole, the second and so on, and a table of what a further
// reading would buy.
func Rehearsal(loc *locate.Location, r *rehearse.Rehearsal, opt MapOptions) (*chart.Document, error) {
	if loc == nil || loc.Job == nil || r == nil {
		return nil, errors.New("no rehearsal to draw")
	}
	m := newSiteMap(loc, nil, opt)
	s := &rehearsalSheet{booklet: newBooklet(m, "Rehearsal"), r: r}
	if loc.Fit != nil && loc.Fit.Doubtful != nil {
		s.framed(9, true, m.says(finding.DoNotUse.New(finding.About(*loc.Fit.Doubtful))))
	}
	if r.Plays == 0 {
		s.paragraph(9, false, strings.Join(finding.Sentences(r.Remark, m.reader()), " "))
	} else {
		s.histogram()
		s.offers()
	}
	if r.Plan != nil {
		s.heading("Before anyone digs", 12)
		for _, c := range r.Plan.Cautions {
			s.paragraph(7.5, false, m.says(c))
		}
	}
	s.number(s.pages, 1, len(s.pages), "Played on what is believed of the site; it is no promise. Not a survey.")
	return &chart.Document{Title: "Rehearsal: " + m.title(), Date: opt.Date, Pages: s.pages}, nil
}

type rehearsalSheet struct {
	*booklet
	r *rehearse.Rehearsal
}

// bars is how many bars the histogram has room for; what took longer is put
// into the last.
const bars = 30

// histogram draws the plays by the hole that they ended with.
func (s *rehearsalSheet) histogram() {
	r := s.r
	s.heading(fmt.Sprintf("Holes until the %s is met, in %d plays", r.Seek, r.Plays), 90)
	s.paragraph(9, false, fmt.Sprintf("Half of the plays took %.0f or fewer, nine in ten %.0f or fewer; the mean is %.1f. "+
		"Digging took %.0f min on average, nine plays in ten %.0f min or less.", r.Holes.Median, r.Holes.P90, r.Holes.Mean, r.Minutes.Mean, r.Minutes.P90))
	count := slices.Clone(r.Count)
	if len(count) > bars {
		for _, n := range count[bars:] {
			count[bars-1] += n
		}
		count = count[:bars]
	}
	lost := r.Plays - int(math.Round(r.Found*float64(r.Plays)))
	top := float64(max(1, lost, slices.Max(append(count, 1)))) / float64(r.Plays)
	room := chart.Rect{X: s.area.X + 12, Y: s.y + 4, W: s.area.W - 14, H: 70}
	width := room.W / float64(max(12, len(count)+2))
	height := func(share float64) float64 { return room.H * share / top }
	small := chart.Text{Size: 6.5, Color: chart.Grey, Align: chart.Middle}
	tick := 0.05
	for top/tick > 8 {
		tick *= 2
	}
	for v := 0.0; v <= top+1e-9; v += tick {
		y := room.Y + room.H - height(v)
		s.page.Line(chart.Style{Stroke: chart.RGB(0xd0d0d0), Width: 0.1}, vec(room.X, y), vec(room.X+room.W, y))
		t := small
		t.Align, t.Center = chart.Right, true
		s.page.Text(t, vec(room.X-1.5, y), fmt.Sprintf("%.0f %%", 100*v))
	}
	bar := func(k int, n int, label string, style chart.Style) {
		h := height(float64(n) / float64(r.Plays))
		x := room.X + width*float64(k)
		if n > 0 {
			s.page.Rect(style, chart.Rect{X: x + 0.1*width, Y: room.Y + room.H - h, W: 0.8 * width, H: h})
		}
		s.page.Text(small, vec(x+width/2, room.Y+room.H+3), label)
	}
	done := chart.Style{Stroke: green, Width: 0.2, Fill: green.Fade(0.45)}
	for k, n := range count {
		label := fmt.Sprint(k + 1)
		if k == bars-1 && len(r.Count) > bars {
			label += "+"
		}
		bar(k, n, label, done)
	}
	if lost > 0 {
		k := max(12, len(count)+2) - 1
		bar(k, lost, "not", chart.Style{Stroke: red, Width: 0.3, Dash: []float64{1, 0.6}})
	}
	s.page.Line(chart.Style{Stroke: chart.Black, Width: 0.3}, vec(room.X, room.Y+room.H), vec(room.X+room.W, room.Y+room.H))
	middle := room.X + width*r.Holes.Median - width/2
	if r.Holes.Median <= float64(len(count)) {
		s.page.Line(chart.Style{Stroke: chart.Black, Width: 0.3, Dash: []float64{1.5, 1}}, vec(middle, room.Y), vec(middle, room.Y+room.H))
		t := small
		t.Align, t.Halo = chart.Left, true
		s.page.Text(t, vec(middle+1, room.Y+2.5), "median")
	}
	s.y = room.Y + room.H + 6
	t := chart.Text{Size: 7.5, Align: chart.Middle}
	s.page.Text(t, vec(room.X+room.W/2, s.y+1), "hole with which a play ended")
	s.y += 5
	if lost > 0 {
		s.paragraph(7.5, false, fmt.Sprintf("not met: given up after %d holes, %s of the plays.", rehearse.Most, survey.Percent(float64(lost)/float64(r.Plays))))
	}
}

// offers sets what a further reading would buy.
func (s *rehearsalSheet) offers() {
	if len(s.r.Offers) == 0 {
		return
	}
	s.heading("What a further reading would buy", 25)
	t := &chart.Table{Size: 8, Columns: s.spread(
		chart.Column{Head: "Reading", Width: 70, Strong: true}, chart.Column{Head: "within, 95 %: now", Width: 30, Align: chart.Right}, chart.Column{Head: "then", Width: 22, Align: chart.Right},
		chart.Column{Head: "holes to go: now", Width: 28, Align: chart.Right}, chart.Column{Head: "then", Width: 18, Align: chart.Right}, chart.Column{Head: "depth give or take, 95 %: now", Width: 34, Align: chart.Right}, chart.Column{Head: "then", Width: 22, Align: chart.Right})}
	u := s.m.opt.Unit
	for _, o := range s.r.Offers {
		t.Rows = append(t.Rows, []string{o.What, geo.FormatLength(o.Radius.Before, u), geo.FormatLength(o.Radius.After, u),
			fmt.Sprintf("%.1f", o.Holes.Before), fmt.Sprintf("%.1f", o.Holes.After), geo.FormatDepth(geo.Between95*o.Depth.Before, u), geo.FormatDepth(geo.Between95*o.Depth.After, u)})
	}
	s.table(t)
	s.paragraph(7, false, "Each figure is a mean over what the reading may say, given what is believed now. The hole of a reading counts among the holes to go. Differences of a tenth of a hole or of an inch mean nothing.")
}
