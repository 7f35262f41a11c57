package asbuilt

import "asfound/geo"

// Kind is what a part is.
type Kind string

// The kinds of part a sketch may hold.
const (
	Building Kind = "building"
	Landmark Kind = "landmark"
	Tank     Kind = "tank"
	Box      Kind = "box"
	Header   Kind = "header"
	Lateral  Kind = "lateral"
	Port     Kind = "port"
	Well     Kind = "well"
	Boundary Kind = "boundary"
	Water    Kind = "water"
	Driveway Kind = "driveway"
	Utility  Kind = "utility"
	NoDig    Kind = "no-dig"
)

// Form is the form of a Shape.
type Form int

// The forms of a shape.
const (
	Point   Form = iota // one vertex
	Line                // two or more vertices, in flow order
	Polygon             // three or more vertices, not closed, exterior ring only
)

// FormOf returns the form of an outline.
func FormOf(o geo.Outline) Form {
	switch {
	case o.Closed:
		return Polygon
	case len(o.Vertices) == 1:
		return Point
	}
	return Line
}

// Shape is one piece of a part's geometry on the sketch. Rings are
// kept without the repeated last vertex; holes of polygons are not kept.
type Shape struct {
	Form     Form
	Vertices []Position
}

// Length returns the drawn length of the shape along its vertices, in drawing
// units; of a polygon, its perimeter.
func (s Shape) Length() (l float64) {
	for i := 1; i < len(s.Vertices); i++ {
		l += s.Vertices[i-1].Dist(s.Vertices[i])
	}
	if n := len(s.Vertices); s.Form == Polygon && n > 1 {
		l += s.Vertices[n-1].Dist(s.Vertices[0])
	}
	return l
}

// Spot names a place on a part.
type Spot string

// The spots of a part.
const (
	On     Spot = "on"     // somewhere on it
	Start  Spot = "start"  // where flow enters: the box end of a lateral
	End    Spot = "end"    // the distal end
	Edge   Spot = "edge"   // the side of a trench, tank or box
	Corner Spot = "corner" // a corner of a tank or box
	Center Spot = "center" // the middle of a tank or box, the point of a landmark
)

// SpotName names a spot of a part: {"box", Center}, {"L2", End}.
type SpotName struct {
	Part string
	Spot Spot
}

// Tie is a written distance from a landmark to a spot of a part.
type Tie struct {
	At       Spot
	From     string // landmark id
	Distance geo.Length
}

// Bed is what a lateral lies in.
type Bed string

// The beds of a lateral.
const (
	Gravel  Bed = "gravel"
	Chamber Bed = "chamber"
	Pipe    Bed = "pipe"
)

// BoxKind distinguishes a distribution box from a drop box.
type BoxKind string

// The kinds of box.
const (
	Distribution BoxKind = "distribution" // all outlets at one level
	Drop         BoxKind = "drop"         // stepped sites have several
)

// Part is one feature of the sketch. Members that a kind does not use are
// zero; lengths that were not written are nil.
type Part struct {
	ID     string
	Kind   Kind
	Name   string
	Shapes []Shape // one for all kinds but the surroundings, which may have several

	BoxKind BoxKind
	Outlets int
	Size    *geo.Length // side of a box
	From    string      // the box that feeds a lateral; empty: the nearest
	Of      string      // the lateral of a port
	Bed     Bed
	Width   *geo.Length // of the trench
	Length  *geo.Length // written length of a line
	Cover   *geo.Length // ground to crown or lid, as recorded
	Invert  *geo.Length // height of the invert above the record's datum
	Grade   *float64    // fall per length, 0.005 = 6 in in 100 ft
	Ties    []Tie

	Clearance *geo.Length // of a utility or no-dig

	// Feature is the part's place in the file, counted from 1, for messages.
	Feature int
}

// Point returns the drawn place of spot sp: the only vertex of a point, the
// first and last vertices of a line, the centroid of a polygon's vertices. ok
// is false where the part has no such single place.
func (p *Part) Point(sp Spot) (v Position, ok bool) {
	if len(p.Shapes) == 0 || len(p.Shapes[0].Vertices) == 0 {
		return Position{}, false
	}
	s := p.Shapes[0]
	switch {
	case s.Form == Line && sp == Start:
		return s.Vertices[0], true
	case s.Form == Line && sp == End:
		return s.Vertices[len(s.Vertices)-1], true
	case s.Form != Line && sp == Center:
		for _, w := range s.Vertices {
			v = v.Add(w)
		}
		return v.Scale(1 / float64(len(s.Vertices))), true
	}
	return Position{}, false
}
