package geodesy

import "asfound/geo"

// Site is the local ground frame of a site: a plane in metres whose distances
// are those that a tape held level on the ground measures.
type Site struct {
	Origin LonLat
}

// NewSite returns the ground frame about origin. height is the ground's height
// above the ellipsoid in metres, 0 where unknown (an error of 15 m in it makes
// 0.9 mm in 400 m).
func NewSite(origin LonLat, height float64) *Site { return &Site{Origin: origin} }

// Vec returns the place of p in the frame, metres east and north of the origin.
func (s *Site) Vec(p LonLat) geo.Vec { panic("not written yet") }

// LonLat returns the position of v, the inverse of Vec.
func (s *Site) LonLat(v geo.Vec) LonLat { panic("not written yet") }
