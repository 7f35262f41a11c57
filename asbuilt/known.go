package asbuilt

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/mat"
)

// Known is what a finished job knew of its corrected as-built, so that the next one
// need not begin anew: how far off each place may be, all of them together, and how
// deep each part lies.
type Known struct {
	Places []Vertex
	// Covariance of the places relative to the landmarks, metres²: x and y of each
	// place in turn, in the axes of the sketch; the lower triangle, row by row.
	Covariance []float64
	Covers     []Cover
	// Of the covers, metres²: the lower triangle, row by row.
	CoverCovariance []float64
}

// Vertex is a place of a sketch: a vertex of a line, or the middle of any other part.
type Vertex struct {
	Part  string
	Index int // of the vertex; 0 for a middle
}

// Cover is how deep the top of a part, of a lateral or header its crown, lies at a
// vertex below the ground of the day, metres.
type Cover struct {
	Vertex
	Mean float64
}

// MaxKnown is how many places a sketch may carry a covariance of: that of more fills
// megabytes.
const MaxKnown = 200

// check reports what is wrong with what is known of a sketch.
func (k *Known) check(s *Sketch, add func(field, found, want string)) {
	if max(len(k.Places), len(k.Covers)) > MaxKnown {
		add("sketch.known.places", fmt.Sprintf("%d places", len(k.Places)), fmt.Sprintf("at most %d", MaxKnown))
		return
	}
	if _, ok := s.MetresPerUnit(); !ok {
		add("sketch.known", "a sketch of unknown scale", "a unit of the ground: what is known is in metres")
	}
	var seen []Vertex
	place := func(field string, v Vertex) {
		switch p := s.Part(v.Part); {
		case p == nil || len(p.Shapes) == 0:
			add(field, strconv.Quote(v.Part), "the id of a part of the sketch")
		case v.Index < 0 || v.Index > 0 && (p.Shapes[0].Form != Line || v.Index >= len(p.Shapes[0].Vertices)):
			add(field, fmt.Sprintf("vertex %d of %s", v.Index, v.Part), "a vertex that it has, from 0")
		case slices.Contains(seen, v):
			add(field, fmt.Sprintf("vertex %d of %s", v.Index, v.Part), "each place once")
		}
		seen = append(seen, v)
	}
	for i, v := range k.Places {
		place(fmt.Sprintf("sketch.known.places[%d]", i), v)
	}
	seen = nil
	for i, c := range k.Covers {
		field := fmt.Sprintf("sketch.known.covers[%d]", i)
		place(field, c.Vertex)
		if !(math.Abs(c.Mean) <= MaxLength) {
			add(field, fmt.Sprint(c.Mean), "metres")
		}
	}
	if _, err := k.Matrix(); err != nil {
		add("sketch.known.covariance", fmt.Sprintf("%d numbers", len(k.Covariance)), err.Error())
	}
	if _, err := k.CoverMatrix(); err != nil {
		add("sketch.known.cover_covariance", fmt.Sprintf("%d numbers", len(k.CoverCovariance)), err.Error())
	}
}

// Matrix returns the covariance of the places; the error says why it is none.
func (k *Known) Matrix() (*mat.SymDense, error) { return square(2*len(k.Places), k.Covariance) }

// CoverMatrix returns the covariance of the covers; the error says why it is none.
func (k *Known) CoverMatrix() (*mat.SymDense, error) { return square(len(k.Covers), k.CoverCovariance) }

// square returns a covariance by its lower triangle; nil where it is of nothing.
func square(n int, triangle []float64) (*mat.SymDense, error) {
	if len(triangle) != n*(n+1)/2 {
		return nil, fmt.Errorf("%d numbers, the lower triangle of %d by %d", n*(n+1)/2, n, n)
	}
	if n == 0 {
		return nil, nil
	}
	c, at := mat.NewSymDense(n, nil), 0
	for i := range n {
		for j := range i + 1 {
			v := triangle[at]
			if math.IsNaN(v) || math.Abs(v) > MaxCoordinate*MaxCoordinate {
				return nil, errors.New("numbers of square metres")
			}
			c.SetSym(i, j, v)
			at++
		}
	}
	for i := range n { // a millimetre: the landmarks hold the places, so that the rest alone has no inverse
		c.SetSym(i, i, c.At(i, i)+1e-6)
	}
	var f mat.Cholesky
	if !f.Factorize(c) {
		return nil, errors.New("a covariance: positive definite")
	}
	return c, nil
}
