package chart

import (
	"math"
	"strconv"

	"asfound/geo"
)

// BarLength returns the length in metres of a scale bar no longer than most
// millimetres: 1, 2 or 5 times a power of ten of unit, and how many divisions
// it has.
func BarLength(s Scale, unit geo.Unit, most float64) (metres float64, divisions int) {
	per, ok := unit.Metres()
	if !ok {
		per = 1
	}
	n := step(s.Ground(most) / per)
	divisions = 5
	if lead := n / math.Pow(10, math.Floor(math.Log10(n)+1e-9)); math.Abs(lead-2) < 0.01 {
		divisions = 4
	}
	return n * per, divisions
}

// ScaleBar draws a scale bar in unit, which word names, no longer than most
// millimetres, from at, its lower left corner. It shows the true scale even of a copy in another
// size.
func ScaleBar(p *Page, at Point, s Scale, unit geo.Unit, word string, most float64) {
	if _, ok := unit.Metres(); !ok {
		unit = geo.Metre
	}
	metres, n := BarLength(s, unit, most)
	per, _ := unit.Metres()
	long, high := s.Paper(metres), 1.8
	p.Group("scale-bar", nil, func() {
		for i := range n {
			st := Style{Stroke: Black, Width: 0.2, Fill: Black}
			if i%2 == 1 {
				st.Fill = White
			}
			p.Rect(st, Rect{at.X + long*float64(i)/float64(n), at.Y - high, long / float64(n), high})
		}
		for i := range n + 1 {
			x := at.X + long*float64(i)/float64(n)
			p.Line(Style{Stroke: Black, Width: 0.2}, Point{X: x, Y: at.Y - high - 0.8}, Point{X: x, Y: at.Y - high})
			if i%2 == 1 && i != n {
				continue
			}
			label := strconv.FormatFloat(math.Round(metres/per*float64(i)/float64(n)*1000)/1000, 'f', -1, 64)
			t := Text{Size: 6.5, Align: Middle}
			if i == n {
				w := TextWidth(label, t.Size, false)
				t.Align = Left
				x -= w / 2
				label += " " + word
			}
			p.Text(t, Point{X: x, Y: at.Y - high - 1.4}, label)
		}
	})
}
