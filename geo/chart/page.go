package chart

import (
	"math"

	"asfound/geo"
)

// Color is a colour of ink on white paper and how far it covers what is
// below, 255 fully. The zero Color paints nothing.
type Color struct{ R, G, B, A uint8 }

// RGB returns the opaque colour written 0xRRGGBB.
func RGB(hex uint32) Color {
	return Color{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}

// Fade returns c covering only the fraction a, 0 to 1, of what is below.
func (c Color) Fade(a float64) Color {
	c.A = uint8(math.Round(255 * min(1, max(0, a))))
	return c
}

// The colours that every sheet has.
var (
	Black = RGB(0x000000)
	White = RGB(0xffffff)
	Grey  = RGB(0x595959) // 7:1 on white (WCAG 2.2 contrast formula)
)

// Style is how a shape is painted: a zero colour leaves that part out.
type Style struct {
	Stroke Color
	Width  float64   // of the stroke, millimetres; 0: 0.25
	Dash   []float64 // millimetres on, off, on ...; nil: solid
	Fill   Color
}

// Rect is an upright rectangle on a page, millimetres from the top left.
type Rect struct{ X, Y, W, H float64 }

// Inset returns r with d millimetres less on each side, never below nothing.
func (r Rect) Inset(d float64) Rect {
	w, h := max(0, r.W-2*d), max(0, r.H-2*d)
	return Rect{r.X + (r.W-w)/2, r.Y + (r.H-h)/2, w, h}
}

// Center returns the middle of r.
func (r Rect) Center() Point { return Point{X: r.X + r.W/2, Y: r.Y + r.H/2} }

// Contains reports whether s lies in r.
func (r Rect) Contains(s Rect) bool {
	return s.X >= r.X && s.Y >= r.Y && s.X+s.W <= r.X+r.W && s.Y+s.H <= r.Y+r.H
}

// Overlap returns the area in square millimetres, a number, that r and s share.
func (r Rect) Overlap(s Rect) float64 {
	w := min(r.X+r.W, s.X+s.W) - max(r.X, s.X)
	h := min(r.Y+r.H, s.Y+s.H) - max(r.Y, s.Y)
	return max(0, w) * max(0, h)
}

// ring returns the corners of r.
func (r Rect) ring() []Point {
	return []Point{{X: r.X, Y: r.Y}, {X: r.X + r.W, Y: r.Y}, {X: r.X + r.W, Y: r.Y + r.H}, {X: r.X, Y: r.Y + r.H}}
}

// Size is a size of paper, millimetres, upright.
type Size struct{ W, H float64 }

// Sizes of paper: ANSI/ASME Y14.1 A and B, ISO 216 A4 and A3.
var (
	Letter  = Size{215.9, 279.4}
	Tabloid = Size{279.4, 431.8}
	A4      = Size{210, 297}
	A3      = Size{297, 420}
)

// Landscape returns the size lying on its side.
func (s Size) Landscape() Size { return Size{s.H, s.W} }

// Page is one sheet and what is drawn on it, the first thing lowest.
type Page struct {
	Size  Size
	Title string // for those who cannot see the sheet, and for the window of a viewer
	items []item
}

// item is something a writer can draw.
type item interface{ draw(w writer) }

// writer is a format that pages are written in.
type writer interface {
	path(path)
	ellipse(ellipse)
	text(text)
	open(group) // begins a group, clipped to its rectangle if it has one
	close(group)
}

type path struct {
	lines  [][]Point
	closed bool
	style  Style
}

type ellipse struct {
	at     Point
	rx, ry float64
	turn   float64 // degrees clockwise on the page, of rx from the right
	style  Style
}

type group struct {
	name  string
	clip  *Rect
	items []item
}

func (p path) draw(w writer)    { w.path(p) }
func (e ellipse) draw(w writer) { w.ellipse(e) }
func (g group) draw(w writer) {
	w.open(g)
	for _, i := range g.items {
		i.draw(w)
	}
	w.close(g)
}

// NewPage returns an empty page.
func NewPage(size Size, title string) *Page { return &Page{Size: size, Title: title} }

// add puts an item on the page unless one of its numbers is not finite: what
// cannot be drawn is left out, so that it does not corrupt the file.
func (p *Page) add(i item) { p.items = append(p.items, i) }

// Area returns the page less a margin of m millimetres on every side.
func (p *Page) Area(m float64) Rect { return Rect{0, 0, p.Size.W, p.Size.H}.Inset(m) }

// Line draws a line through places of the page.
func (p *Page) Line(s Style, at ...Point) { p.Lines(s, at) }

// Lines draws several lines in one style.
func (p *Page) Lines(s Style, lines ...[]Point) { p.paths(s, false, lines) }

// Polygon draws a polygon: the first ring is its outside, the others its
// holes. Rings are closed without repeating their first place.
func (p *Page) Polygon(s Style, rings ...[]Point) { p.paths(s, true, rings) }

func (p *Page) paths(s Style, closed bool, lines [][]Point) {
	var good [][]Point
	for _, l := range lines {
		if len(l) > 1 && finite(l...) {
			good = append(good, l)
		}
	}
	if len(good) > 0 {
		p.add(path{good, closed, s})
	}
}

// Rect draws a rectangle.
func (p *Page) Rect(s Style, r Rect) { p.Polygon(s, r.ring()) }

// Circle draws a circle of radius r millimetres.
func (p *Page) Circle(s Style, at Point, r float64) { p.Ellipse(s, at, r, r, geo.Angle{}) }

// Ellipse draws an ellipse with semi-axes a and b in millimetres, a pointing
// in the given bearing: clockwise from up on the page.
func (p *Page) Ellipse(s Style, at Point, a, b float64, bearing geo.Angle) {
	if finite(at, Point{X: a, Y: b}) && finite(Point{X: bearing.Degrees()}) && a >= 0 && b >= 0 {
		p.add(ellipse{at, a, b, bearing.Degrees() - 90, s})
	}
}

// Group draws what f draws as a named layer, in SVG an element with that name
// as its class. Where clip is not nil, nothing shows outside it.
func (p *Page) Group(name string, clip *Rect, f func()) {
	outer := p.items
	p.items = nil
	f()
	g := group{name, clip, p.items}
	p.items = outer
	if len(g.items) > 0 {
		p.add(g)
	}
}
