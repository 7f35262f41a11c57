package geodesy

import (
	"fmt"
	"math"

	"asfound/geo"
)

// Degree is the unit of the coordinates of a geographic system. It is no unit
// of length.
const Degree geo.Unit = "deg"

// CRS is a coordinate reference system of the EPSG dataset: how longitude and
// latitude become the eastings and northings of an office's files. Get one
// from ByEPSG or ParseCRS.
//
// Coordinates are always x (east) before y (north), whatever order the dataset
// gives the axes.
//
// No datum shift is applied. A position given on WGS 84 is taken as it stands
// for one on NAD83 or ETRS89; in the conterminous United States the two differ
// by 1 to 2 m, which is more than a tape's error, so anyone who takes such
// coordinates as exact must be warned.
type CRS struct {
	Code  int
	Name  string   // "NAD83(2011) / North Carolina"
	Datum string   // "NAD83(2011)"
	Unit  geo.Unit // of a coordinate
	Area  Area     // where the system is meant to be used

	plane projection
	per   float64 // metres of one Unit; 1 for Degree
}

// projection turns a position into a plane point in metres and back.
type projection interface {
	forward(LonLat) geo.Vec
	inverse(geo.Vec) LonLat
}

// Area is a box of longitudes and latitudes. It crosses the antimeridian where
// West is greater than East.
type Area struct{ West, South, East, North geo.Angle }

// Forward returns the coordinates of p in the system, in c.Unit. Far outside
// c.Area they mean nothing and may not be finite.
func (c CRS) Forward(p LonLat) geo.Vec { return c.plane.forward(p).Scale(1 / c.per) }

// Inverse returns the position of v, coordinates in c.Unit. It is an error if v
// is not a position on the earth in this system.
func (c CRS) Inverse(v geo.Vec) (LonLat, error) {
	p := c.plane.inverse(v.Scale(c.per))
	q, err := New(trim(p.Lon.Degrees(), 180), trim(p.Lat.Degrees(), 90))
	if err != nil {
		return LonLat{}, fmt.Errorf("x %v, y %v is not a position in EPSG:%d %s", v.X, v.Y, c.Code, c.Name)
	}
	return q, nil
}

// trim brings v, degrees, back to limit where only rounding put it beyond.
func trim(v, limit float64) float64 {
	if a := math.Abs(v); a > limit && a < limit+1e-9 {
		return math.Copysign(limit, v)
	}
	return v
}

// Covers reports whether p lies in the area the system is meant for. A point
// outside is most often given in the wrong zone or the wrong unit.
func (c CRS) Covers(p LonLat) bool {
	lon, lat := p.Lon.Degrees(), p.Lat.Degrees()
	w, e := c.Area.West.Degrees(), c.Area.East.Degrees()
	between := w <= lon && lon <= e
	if w > e {
		between = lon >= w || lon <= e
	}
	return between && c.Area.South.Degrees() <= lat && lat <= c.Area.North.Degrees()
}

// Grid returns how the plane lies at p: scale, the length on the plane of one
// metre on the ellipsoid, no unit, and convergence, the bearing of grid north
// from true north. Divided by 1 + h/R, h the height and R the radius, scale is
// the factor from ground to grid that a tape reading needs. Both are
// differences over 200 m, good to 1e-9; for a geographic system they mean
// nothing.
func (c CRS) Grid(p LonLat) (scale float64, convergence geo.Angle) {
	site := NewSite(p, 0)
	south := c.plane.forward(site.LonLat(geo.Vec{Y: -100}))
	north := c.plane.forward(site.LonLat(geo.Vec{Y: 100}))
	d := north.Sub(south)
	return d.Norm() / 200, geo.Radians(-math.Atan2(d.X, d.Y))
}
