package geo_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/geo"
)

// The four quarters of the compass, and the 3-4-5 triangle.
func TestBearing(t *testing.T) {
	o := geo.Vec{}
	for _, tt := range []struct {
		to   geo.Vec
		want float64 // degrees
	}{
		{geo.Vec{Y: 1}, 0}, {geo.Vec{X: 1}, 90}, {geo.Vec{Y: -1}, 180}, {geo.Vec{X: -1}, 270},
		{geo.Vec{X: 1, Y: 1}, 45}, {geo.Vec{X: -1, Y: 1}, 315}, {geo.Vec{X: -1e-30, Y: 1}, 0}, {o, 0},
	} {
		assert.InDelta(t, tt.want, geo.Bearing(o, tt.to).Degrees(), 1e-12, "%v", tt.to)
	}
	assert.Equal(t, 5.0, geo.Vec{X: 3, Y: 4}.Norm())
}

func TestAngle(t *testing.T) {
	for _, tt := range []struct{ in, bearing, signed float64 }{
		{0, 0, 0}, {360, 0, 0}, {-90, 270, -90}, {450, 90, 90}, {180, 180, 180}, {-180, 180, 180}, {270, 270, -90}, {-720.5, 359.5, -0.5},
	} {
		assert.InDelta(t, tt.bearing, geo.Degrees(tt.in).Bearing().Degrees(), 1e-9, "%v", tt.in)
		assert.InDelta(t, tt.signed, geo.Degrees(tt.in).Signed().Degrees(), 1e-9, "%v", tt.in)
	}
	assert.Equal(t, math.Pi, geo.Degrees(180).Radians())
	assert.Equal(t, 180.0, geo.Radians(math.Pi).Degrees())
	rapid.Check(t, func(t *rapid.T) {
		b := geo.Degrees(rapid.Float64Range(-1e12, 1e12).Draw(t, "degrees")).Bearing().Degrees()
		assert.True(t, b >= 0 && b < 360, "%v", b)
		s := geo.Degrees(b).Signed().Degrees()
		assert.True(t, s > -180 && s <= 180, "%v", s)
	})
}

// Turning keeps lengths, and turning back gives the start.
func TestRotate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := geo.Vec{X: rapid.Float64Range(-1e3, 1e3).Draw(t, "x"), Y: rapid.Float64Range(-1e3, 1e3).Draw(t, "y")}
		a := geo.Degrees(rapid.Float64Range(-720, 720).Draw(t, "a"))
		w := v.Rotate(a)
		assert.InDelta(t, v.Norm(), w.Norm(), 1e-9)
		assert.InDelta(t, 0, w.Rotate(geo.Radians(-a.Radians())).Dist(v), 1e-9)
		assert.InDelta(t, 0, v.Dot(v.Right()), 1e-6)
		assert.LessOrEqual(t, v.Cross(v.Right()), 0.0, "right is clockwise")
		assert.InDelta(t, 0, v.Right().Dist(v.Rotate(geo.Degrees(-90))), 1e-9)
	})
	assert.Equal(t, geo.Vec{}, geo.Vec{}.Unit())
	assert.False(t, geo.Vec{X: math.NaN()}.Finite())
	assert.False(t, geo.Vec{Y: math.Inf(1)}.Finite())
	assert.True(t, geo.Vec{X: 1, Y: -1}.Finite())
}

// Station and offset go back to the point they came from.
func TestAlongAcross(t *testing.T) {
	s, o := geo.AlongAcross(geo.Vec{}, geo.Vec{Y: 10}, geo.Vec{X: 2, Y: 7})
	assert.Equal(t, 7.0, s)
	assert.Equal(t, 2.0, o, "east of a line that runs north is to the right")
	rapid.Check(t, func(t *rapid.T) {
		a, b, p := gridPoint(t, "a"), gridPoint(t, "b"), gridPoint(t, "p")
		if a == b {
			return
		}
		s, o := geo.AlongAcross(a, b, p)
		e := b.Sub(a).Unit()
		assert.InDelta(t, 0, a.Add(e.Scale(s)).Add(e.Right().Scale(o)).Dist(p), 1e-9)
	})
}

func TestSegmentDistance(t *testing.T) {
	for _, tt := range []struct {
		p       geo.Vec
		dist, u float64
	}{
		{geo.Vec{X: 5, Y: 3}, 3, 0.5}, {geo.Vec{X: -3, Y: 4}, 5, 0}, {geo.Vec{X: 13, Y: -4}, 5, 1}, {geo.Vec{X: 2.5}, 0, 0.25},
	} {
		d, u := geo.SegmentDistance(geo.Vec{}, geo.Vec{X: 10}, tt.p)
		assert.InDelta(t, tt.dist, d, 1e-12)
		assert.InDelta(t, tt.u, u, 1e-12)
	}
	d, u := geo.SegmentDistance(geo.Vec{X: 1}, geo.Vec{X: 1}, geo.Vec{X: 4, Y: 4})
	assert.Equal(t, 5.0, d)
	assert.Zero(t, u)
}

func ExampleParseLength() {
	l, err := geo.ParseLength(`43' 6 1/2"`, geo.Foot)
	fmt.Printf("%.4f m, written %s %v\n", l.Metres, l.Written, err)
	_, err = geo.ParseLength(`43'14"`, geo.Foot)
	fmt.Println(err)
	// Output:
	// 13.2715 m, written 43' 6 1/2" <nil>
	// found 43'14": 14 inches make a foot or more; want 0 to 11 inches after the feet, or tenths as in 43.5'
}

func ExampleFormatLength() {
	fmt.Println(geo.FormatLength(13.2588, geo.Foot))
	fmt.Println(geo.FormatTenths(13.2588))
	fmt.Println(geo.FormatLength(13.2588, geo.Metre))
	fmt.Println(geo.FormatDepth(0.66, geo.Foot))
	// Output:
	// 43' 6"
	// 43.5 ft
	// 13.26 m
	// 26"
}

func ExampleOutline_Distance() {
	tank := geo.Outline{Vertices: []geo.Vec{{}, {X: 4}, {X: 4, Y: 2}, {Y: 2}}, Closed: true}
	fmt.Println(tank.Distance(geo.Vec{X: 7, Y: 6}), tank.Distance(geo.Vec{X: 1, Y: 1}))
	// Output: 5 0
}
