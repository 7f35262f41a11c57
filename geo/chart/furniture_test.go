package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// A bar of 20 ft at 1:240 is one inch of paper; of 10 m at 1:200, 50 mm.
func TestScaleBar(t *testing.T) {
	for _, tt := range []struct {
		name          string
		scale         Scale
		unit          geo.Unit
		most          float64
		ground, paper float64
	}{
		{"feet", 240, geo.Foot, 60, 20 * 0.3048, 25.4},
		{"feet, just room", 240, geo.Foot, 63.5, 50 * 0.3048, 63.5},
		{"metres", 200, geo.Metre, 60, 10, 50},
		{"small", 5000, geo.Metre, 45, 200, 40},
	} {
		t.Run(tt.name, func(t *testing.T) {
			metres, n := BarLength(tt.scale, tt.unit, tt.most)
			assert.InDelta(t, tt.ground, metres, 1e-9)
			p := NewPage(A4, "")
			ScaleBar(p, Point{X: 20, Y: 30}, tt.scale, tt.unit, tt.name, tt.most)
			var blocks []path
			for _, i := range p.items[0].(group).items {
				if r, ok := i.(path); ok && r.closed {
					blocks = append(blocks, r)
				}
			}
			require.Len(t, blocks, n)
			first, last := blocks[0].lines[0], blocks[n-1].lines[0]
			assert.InDelta(t, 20, first[0].X, 1e-9)
			assert.InDelta(t, tt.paper, last[1].X-first[0].X, 1e-9)
		})
	}
}

// Ticks of a grid are 20 mm or more apart and stand for 1, 2 or 5 times a
// power of ten.
func TestGridStep(t *testing.T) {
	for scale, feet := range map[Scale]float64{120: 10, 240: 20, 360: 50, 480: 50, 600: 50, 720: 50, 1200: 100} {
		n, per := gridStep(scale, geo.Foot)
		assert.InDelta(t, feet, n, 1e-9, "1:%d", scale)
		assert.InDelta(t, 0.3048, per, 1e-12)
		assert.GreaterOrEqual(t, scale.Paper(n*per), 20.0)
	}
	for scale, metres := range map[Scale]float64{100: 2, 200: 5, 500: 10, 1000: 20} {
		n, _ := gridStep(scale, geo.Metre)
		assert.InDelta(t, metres, n, 1e-9, "1:%d", scale)
	}
}

// A square of 10 mm hatched every 2 mm has five lines of 10 mm; with a square
// hole of 4 mm in it, on the lines, two of them are cut in two.
func TestHatch(t *testing.T) {
	square := Rect{0, 0, 10, 10}.ring()
	lines := Hatch(2, geo.Degrees(90), square)
	require.Len(t, lines, 5)
	for _, l := range lines {
		assert.InDelta(t, 10, l[0].Dist(l[1]), 1e-9)
		assert.InDelta(t, l[0].Y, l[1].Y, 1e-9, "90° is across the page")
	}
	assert.Len(t, Hatch(2, geo.Degrees(90), square, Rect{3, 4, 4, 4}.ring()), 7)
	assert.LessOrEqual(t, len(Hatch(1e-9, geo.Angle{}, square)), 1001)
}

// Labels never cover one another nor a sign, and never leave the frame.
func TestLabelsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &Labels{Frame: Rect{10, 10, 120, 90}}
		p := NewPage(A4, "")
		n := rapid.IntRange(1, 60).Draw(t, "labels")
		var at []Point
		for range n {
			v := Point{X: rapid.Float64Range(15, 125).Draw(t, "x"), Y: rapid.Float64Range(15, 95).Draw(t, "y")}
			at = append(at, v)
			l.Keep(Rect{v.X - 1, v.Y - 1, 2, 2})
		}
		signs := len(l.boxes)
		drawn := 0
		for _, v := range at {
			if ok, _ := l.Place(p, Label{Text: Text{Size: 6}, Lines: []string{"H12", "met L2 30\""}, Short: []string{"H12"}, At: v, Radius: 1}); ok {
				drawn++
			}
		}
		placed := l.boxes[signs:]
		assert.Len(t, placed, drawn)
		for i, r := range placed {
			assert.True(t, l.Frame.Contains(r))
			for _, q := range append(append([]Rect{}, l.boxes[:signs]...), placed[:i]...) {
				assert.LessOrEqual(t, q.Overlap(r), 0.03*max(r.W*r.H, q.W*q.H))
			}
		}
	})
}

// Alone on the sheet a label stands at the upper right, whole.
func TestLabelAlone(t *testing.T) {
	l := &Labels{Frame: Rect{0, 0, 100, 100}}
	p := NewPage(A4, "")
	drawn, whole := l.Place(p, Label{Text: Text{Size: 6}, Lines: []string{"box", "24\""}, Short: []string{"box"}, At: Point{X: 50, Y: 50}, Radius: 1})
	assert.True(t, drawn && whole)
	require.Len(t, l.boxes, 1)
	assert.Greater(t, l.boxes[0].X, 50.0)
	assert.Less(t, l.boxes[0].Y+l.boxes[0].H, 50.0)
	l = &Labels{Frame: Rect{49, 49, 3, 3}} // no room at all
	drawn, whole = l.Place(p, Label{Text: Text{Size: 6}, Lines: []string{"a long label"}, At: Point{X: 50, Y: 50}})
	assert.False(t, drawn || whole)
}

// A table goes on with Rest where the room ends, and loses no row.
func TestTableGoesOn(t *testing.T) {
	tab := &Table{Size: 8, Columns: []Column{{Head: "No", Width: 10, Align: Right}, {Head: "Found", Width: 40}}}
	for range 50 {
		tab.Rows = append(tab.Rows, []string{"1", "words that need more than a single line of this column", "beyond"})
	}
	pages, drawn := 0, 0
	for rest := tab; len(rest.Rows) > 0; pages++ {
		n, bottom := rest.Draw(NewPage(A4, ""), Point{X: 10, Y: 10}, 100)
		require.Positive(t, n)
		assert.LessOrEqual(t, bottom, 110+1e-6)
		drawn += n
		rest = rest.Rest(n)
	}
	assert.Equal(t, 50, drawn)
	assert.Greater(t, pages, 2)
	assert.Zero(t, (&Table{Size: 8, Columns: []Column{{Width: 10}}}).Height(), "no heads, no header")
}

func TestLegendHeight(t *testing.T) {
	entries := []Entry{{Text: "box"}, {Text: "a very long entry that will have to be wrapped to fit the little room there is"}, {Text: "tank"}}
	p := NewPage(A4, "")
	assert.InDelta(t, Legend(p, Rect{0, 0, 60, 100}, 6.5, 1, entries), LegendHeight(60, 6.5, 1, entries), 1e-9)
	assert.Zero(t, LegendHeight(60, 6.5, 3, nil))
}
