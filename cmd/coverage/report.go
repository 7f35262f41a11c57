package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/survey/simulate"
)

// report is what a run found.
type report struct {
	Sites    int                    `json:"sites"`
	Clean    []row                  `json:"clean,omitempty"`
	Mess     []row                  `json:"mess,omitempty"`
	Odds     []bin                  `json:"odds,omitempty"`
	Sure     *share                 `json:"sure,omitempty"`
	Blunders []simulate.Exposure    `json:"blunders,omitempty"`
	Sheets   []simulate.Recognition `json:"sheets,omitempty"`
}

// row is one cell.
type row struct {
	Trust    asbuilt.Trust `json:"trust"`
	Mix      simulate.Mix  `json:"mix"`
	Holes    int           `json:"holes"`
	Mess     string        `json:"mess,omitempty"`
	Spots    [3]share      `json:"spots"`
	Frame    [3]share      `json:"frame"`
	Box      [3]share      `json:"box"`
	Depths   [3]share      `json:"depths"`
	Radius   float64       `json:"radius95_rms"` // metres
	Miss     float64       `json:"error_rms"`    // metres
	Doubtful float64       `json:"doubtful"`
	Accused  float64       `json:"accused"`

	tally simulate.Tally
}

// share is a rate and its standard error as JSON has them: fractions.
type share struct {
	Rate  float64 `json:"rate"`
	Error float64 `json:"error"`
	Of    int     `json:"of"`
}

// bin is one row of the reliability of odds.
type bin struct {
	Claimed float64 `json:"claimed"`
	Right   float64 `json:"right"`
	Of      int     `json:"of"`
}

func shareOf(s simulate.Share) share {
	if s.All == 0 {
		return share{}
	}
	return share{s.Rate(), s.Error(), s.All}
}

func rowOf(c simulate.Cell, t simulate.Tally) row {
	r := row{Trust: c.Order.Trust, Mix: c.Order.Mix, Holes: c.Order.Holes, Mess: c.Mess, tally: t}
	for i := range simulate.Levels {
		r.Spots[i], r.Frame[i], r.Box[i], r.Depths[i] = shareOf(t.Landmarks[i]), shareOf(t.Frame[i]), shareOf(t.Box[i]), shareOf(t.Depth[i])
	}
	n := float64(max(1, t.Landmarks[0].All))
	r.Radius, r.Miss = math.Sqrt(t.Size/n), math.Sqrt(t.Miss/n)
	r.Doubtful, r.Accused = float64(t.Doubtful)/float64(t.Sites), float64(t.Accused)/float64(t.Sites)
	return r
}

// odds sums up how right the odds of unknown trenches were.
func (r *report) odds() {
	var all simulate.Tally
	for i, m := range r.Mess {
		all.Join(m.tally, uint64(i))
	}
	for _, b := range all.Odds {
		if b.All > 0 {
			r.Odds = append(r.Odds, bin{b.Claimed / float64(b.All), float64(b.Right) / float64(b.All), b.All})
		}
	}
	s := shareOf(all.Sure)
	r.Sure = &s
}

// print prints the parts that a report has.
func (r *report) print(p *printer) {
	p.rows("clean", r.Clean, 0.93, 0.97)
	p.rows("mess", r.Mess, 0.90, 1)
	if r.Odds != nil {
		p.say("\nunknown trenches: what was claimed of the likeliest, and how often it was right\n")
		for _, b := range r.Odds {
			p.say("  claimed %5.1f %%   right %5.1f %%   of %d\n", 100*b.Claimed, 100*b.Right, b.Of)
		}
		p.say("  claimed 95 %% or more: right %s of %d\n", percent(*r.Sure), r.Sure.Of)
	}
	if r.Blunders != nil {
		p.say("\nblunders: five holes; of the jobs whose clean twin could detect one of that size\n")
		p.say("  %-12s %-13s %8s %8s %8s %8s   %s\n", "kind", "drawing", "reveal", "found", "first", "named", "clean twins accused; found in all jobs; best detectable")
		for _, x := range r.Blunders {
			p.say("  %-12s %-13s %4d/%-3d %8s %8s %8s   %s; %s; %.2f\n", x.Kind, x.Trust, x.Revealed, x.Lots, of(x.Found, x.Revealed),
				of(x.First, x.Revealed), of(x.Named, x.Revealed), of(x.Accused, x.Lots), of(x.Anyway, x.Lots), x.Smallest)
		}
	}
	if r.Sheets != nil {
		p.say("\nwrong sheets: five holes\n")
		p.say("  %-15s %-13s %10s %8s %12s %12s %22s %22s\n", "wrong", "drawing", "recognised", "noticed", "sound called", "sound doubted", "95 %: recognised", "95 %: unnoticed")
		for _, x := range r.Sheets {
			p.say("  %-15s %-13s %10s %8s %12s %12s %22s %22s\n", x.Wrong, x.Trust, of(x.Recognised, x.Lots), of(x.Noticed, x.Lots),
				of(x.False, x.Lots), of(x.Doubted, x.Lots), percent(shareOf(x.Held)), percent(shareOf(x.Unmarked)))
		}
	}
}

// printer writes until something goes wrong.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) say(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format, args...)
	}
}

// rows prints cells, their sums by drawing quality, and the sum of all.
func (p *printer) rows(name string, rows []row, low, high float64) {
	if rows == nil {
		return
	}
	p.say("\n%s: share of truths within regions of 50, 80 and 95 %%\n", name)
	p.say("  %-13s %-8s %5s %-8s | %-31s | %-14s | %-31s | radius error | doubt accused\n", "drawing", "mix", "holes", "mess", "places from landmarks", "box 95", "depths")
	sums := map[asbuilt.Trust]*simulate.Tally{}
	var all simulate.Tally
	for _, r := range rows {
		p.row(r, string(r.Mix), fmt.Sprint(r.Holes), low, high)
		salt := uint64(1)
		for _, c := range string(r.Trust) + string(r.Mix) {
			salt = salt*31 + uint64(c)
		}
		if sums[r.Trust] == nil {
			sums[r.Trust] = &simulate.Tally{}
		}
		sums[r.Trust].Join(r.tally, salt)
		all.Join(r.tally, salt)
	}
	for _, t := range simulate.Trusts {
		if sums[t] != nil {
			p.row(rowOf(simulate.Cell{Order: simulate.Order{Trust: t}}, *sums[t]), "all", "all", low, high)
		}
	}
	p.row(rowOf(simulate.Cell{Order: simulate.Order{Trust: "all"}}, all), "all", "all", low, high)
}

func (p *printer) row(r row, mix, holes string, low, high float64) {
	p.say("  %-13s %-8s %5s %-8s | %s %s | %s | %s %s | %6.2f %5.2f | %4.1f %4.1f\n", r.Trust, mix, holes, r.Mess,
		three(r.Spots), mark(r.Spots[2], low, high), percent(r.Box[2])+mark(r.Box[2], low, high), three(r.Depths), mark(r.Depths[2], low, high),
		r.Radius, r.Miss, 100*r.Doubtful, 100*r.Accused)
}

// mark returns a star where a share is surely outside, a question mark where it
// is outside by no more than chance explains.
func mark(s share, low, high float64) string {
	switch {
	case s.Of == 0 || s.Rate >= low && s.Rate <= high:
		return " "
	case s.Rate < low-2*s.Error || s.Rate > high+2*s.Error:
		return "*"
	}
	return "?"
}

func three(s [3]share) string {
	var b strings.Builder
	for i := range s {
		fmt.Fprintf(&b, "%s ", percent(s[i]))
	}
	return b.String()[:b.Len()-1]
}

func percent(s share) string {
	if s.Of == 0 {
		return "        -"
	}
	return fmt.Sprintf("%5.1f±%.1f", 100*s.Rate, 100*s.Error)
}

func of(n, all int) string {
	if all == 0 {
		return "-"
	}
	return fmt.Sprintf("%.0f %%", 100*float64(n)/float64(all))
}
