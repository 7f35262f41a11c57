package chart

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/simplify"

	"asfound/geo"
)

// Frame is a window of the page on the ground: which place on the ground lies
// at its middle, at what scale, and how the ground is rotated in it.
type Frame struct {
	Window Rect
	Center geo.Vec // metres
	Scale  Scale
	Turn   geo.Angle // of the ground on the sheet, counter-clockwise: north leans to the left
}

// Page returns the place on the page of a place on the ground.
func (f Frame) Page(v geo.Vec) Point {
	d := v.Sub(f.Center).Rotate(f.Turn)
	c := f.Window.Center()
	return Point{X: c.X + f.Scale.Paper(d.X), Y: c.Y - f.Scale.Paper(d.Y)}
}

// Ground returns the place on the ground of a place on the page.
func (f Frame) Ground(p Point) geo.Vec {
	c := f.Window.Center()
	d := geo.Vec{X: f.Scale.Ground(p.X - c.X), Y: f.Scale.Ground(c.Y - p.Y)}
	return f.Center.Add(d.Rotate(geo.Radians(-f.Turn.Radians())))
}

// bearing returns the direction on the page, clockwise from up, of a bearing
// on the ground.
func (f Frame) bearing(b geo.Angle) geo.Angle { return geo.Radians(b.Radians() - f.Turn.Radians()) }

// ClipMargin is how far in millimetres beyond the window Line and Ring keep
// geometry, so that the edges which cutting makes are not seen.
const ClipMargin = 5

// simplified is how far a line may be off what was given, millimetres: less
// than a printer's dot.
const simplified = 0.02

func (f Frame) bound() orb.Bound {
	r := f.Window.Inset(-ClipMargin)
	return orb.Bound{Min: orb.Point{r.X, r.Y}, Max: orb.Point{r.X + r.W, r.Y + r.H}}
}

// Line returns what of a line on the ground lies in the window and ClipMargin
// round it, on the page.
func (f Frame) Line(line []geo.Vec) (parts [][]Point) {
	ls := orb.LineString(f.points(line))
	if len(ls) < 2 {
		return nil
	}
	for _, part := range clip.LineString(f.bound(), ls) {
		part = simplify.DouglasPeucker(simplified).LineString(part)
		parts = append(parts, ours(part))
	}
	return parts
}

// Ring returns what of a polygon on the ground lies in the window and
// ClipMargin round it, on the page; nil where nothing does.
func (f Frame) Ring(ring []geo.Vec) []Point {
	points := f.points(ring)
	if len(points) < 3 {
		return nil
	}
	r := clip.Ring(f.bound(), orb.Ring(append(points, points[0])))
	r = simplify.DouglasPeucker(simplified).Ring(r)
	if len(r) < 4 {
		return nil
	}
	return ours(r[:len(r)-1])
}

// Sees reports whether a place on the ground lies in the window.
func (f Frame) Sees(v geo.Vec) bool {
	p := f.Page(v)
	return f.Window.Contains(Rect{X: p.X, Y: p.Y})
}

// Ellipse draws an error ellipse of the ground.
func (f Frame) Ellipse(p *Page, s Style, at geo.Vec, e geo.Ellipse) {
	p.Ellipse(s, f.Page(at), f.Scale.Paper(e.SemiMajor), f.Scale.Paper(e.SemiMinor), f.bearing(e.Bearing))
}

// points returns places of the ground on the page; those that are not finite
// are left out.
func (f Frame) points(vs []geo.Vec) (points []orb.Point) {
	for _, v := range vs {
		if p := f.Page(v); finite(p) {
			points = append(points, orb.Point{p.X, p.Y})
		}
	}
	return points
}

func ours(ps []orb.Point) []Point {
	points := make([]Point, len(ps))
	for i, p := range ps {
		points[i] = Point{X: p[0], Y: p[1]}
	}
	return points
}

// Bounds returns the middle and the size in metres of the upright rectangle
// round places, as the frame is turned; ok is false where there is none.
func Bounds(turn geo.Angle, vs ...geo.Vec) (center geo.Vec, w, h float64, ok bool) {
	lo, hi := geo.Vec{X: math.Inf(1), Y: math.Inf(1)}, geo.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, v := range vs {
		if !v.Finite() {
			continue
		}
		v = v.Rotate(turn)
		lo = geo.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y)}
		hi = geo.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y)}
		ok = true
	}
	if !ok {
		return geo.Vec{}, 0, 0, false
	}
	center = lo.Lerp(hi, 0.5).Rotate(geo.Radians(-turn.Radians()))
	return center, hi.X - lo.X, hi.Y - lo.Y, true
}
