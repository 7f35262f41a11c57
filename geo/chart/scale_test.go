package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/geo"
)

// Engineer's scales are 1 in to 10, 20, 30, 40, 50 and 60 ft: by definition of
// the foot, 1:120 to 1:720.
func TestFitScale(t *testing.T) {
	room := Rect{W: 152.4, H: 152.4} // 6 in square
	for _, tt := range []struct {
		name string
		feet float64
		want Scale
		inch int
	}{
		{"nothing", 0, 120, 10},
		{"six inches of 10 ft", 60, 120, 10},
		{"a foot more", 61, 240, 20},
		{"of 30", 180, 360, 30},
		{"of 40", 240, 480, 40},
		{"of 50", 300, 600, 50},
		{"of 60", 360, 720, 60},
		{"beyond the engineer's rule", 361, 1200, 100},
		{"a county", 1e6, 2400000, 200000},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := FitScale(tt.feet*0.3048-1e-9, tt.feet*0.3048/2, room, geo.Foot)
			assert.Equal(t, tt.want, s)
			feet, whole := s.InchIs()
			assert.True(t, whole)
			assert.Equal(t, tt.inch, feet)
		})
	}
	// ISO 5455: 1:100, 1:200, 1:500; 100 mm of paper.
	room = Rect{W: 100, H: 200}
	for metres, want := range map[float64]Scale{5: 50, 5.1: 100, 20: 200, 26: 500, 99: 1000} {
		assert.Equal(t, want, FitScale(metres, 1, room, geo.Metre), "%v m", metres)
		assert.Equal(t, want, FitScale(1, 2*metres, room, geo.Metre), "%v m", metres)
	}
	_, whole := Scale(500).InchIs()
	assert.False(t, whole)
}

// One inch of paper at 1:240 is 20 ft of ground, by definition.
func TestFrame(t *testing.T) {
	f := Frame{Window: Rect{20, 30, 100, 80}, Center: geo.Vec{X: 5, Y: 7}, Scale: 240}
	assert.Equal(t, Point{X: 70, Y: 70}, f.Page(f.Center))
	east := f.Page(f.Center.Add(geo.Vec{X: 20 * 0.3048}))
	assert.InDelta(t, 25.4, east.X-70, 1e-9)
	assert.InDelta(t, 70, east.Y, 1e-9)
	north := f.Page(f.Center.Add(geo.Vec{Y: 20 * 0.3048}))
	assert.InDelta(t, 70-25.4, north.Y, 1e-9, "north is up, Y runs down")
	f.Turn = geo.Degrees(90) // north leans to the left
	north = f.Page(f.Center.Add(geo.Vec{Y: 20 * 0.3048}))
	assert.InDelta(t, 70-25.4, north.X, 1e-9)

	rapid.Check(t, func(t *rapid.T) {
		f := Frame{Window: Rect{20, 30, 100, 80}, Scale: 360, Turn: geo.Degrees(rapid.Float64Range(-360, 360).Draw(t, "turn")),
			Center: geo.Vec{X: rapid.Float64Range(-1e3, 1e3).Draw(t, "x"), Y: rapid.Float64Range(-1e3, 1e3).Draw(t, "y")}}
		v := geo.Vec{X: rapid.Float64Range(-1e3, 1e3).Draw(t, "vx"), Y: rapid.Float64Range(-1e3, 1e3).Draw(t, "vy")}
		assert.InDelta(t, 0, f.Ground(f.Page(v)).Dist(v), 1e-9)
	})
}

// What lies outside the window and its margin is cut off, what lies inside is
// kept, and a line of a thousand vertices on one straight is two.
func TestFrameCuts(t *testing.T) {
	f := Frame{Window: Rect{0, 0, 100, 100}, Scale: 1000}
	keep := Rect{-ClipMargin, -ClipMargin, 100 + 2*ClipMargin, 100 + 2*ClipMargin}
	var straight []geo.Vec
	for i := range 1001 {
		straight = append(straight, geo.Vec{X: float64(i) - 500})
	}
	parts := f.Line(straight)
	if assert.Len(t, parts, 1) && assert.Len(t, parts[0], 2) {
		assert.InDelta(t, 110, parts[0][0].Dist(parts[0][1]), 1e-9)
	}
	ring := f.Ring([]geo.Vec{{X: 0, Y: 0}, {X: 1e4, Y: 0}, {X: 1e4, Y: 20}, {X: 0, Y: 20}})
	for _, p := range ring {
		assert.True(t, keep.Contains(Rect{X: p.X, Y: p.Y}), "%v", p)
	}
	assert.InDelta(t, 55*20, area(ring), 1e-6)
	assert.Nil(t, f.Ring([]geo.Vec{{X: 500, Y: 0}, {X: 600, Y: 0}, {X: 600, Y: 20}}))
	assert.Empty(t, f.Line([]geo.Vec{{X: 500}, {X: 600}}))
}

func area(ring []Point) (a float64) {
	for i := range ring {
		a += ring[i].cross(ring[(i+1)%len(ring)]) / 2
	}
	return max(a, -a)
}

func TestBounds(t *testing.T) {
	c, w, h, ok := Bounds(geo.Degrees(90), geo.Vec{X: 1, Y: 2}, geo.Vec{X: 5, Y: 4})
	assert.True(t, ok)
	assert.InDelta(t, 0, c.Dist(geo.Vec{X: 3, Y: 3}), 1e-12)
	assert.InDelta(t, 2, w, 1e-12)
	assert.InDelta(t, 4, h, 1e-12)
	_, _, _, ok = Bounds(geo.Angle{})
	assert.False(t, ok)
}
