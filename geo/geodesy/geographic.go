package geodesy

import (
	"math"

	"asfound/geo"
)

// degrees is the "projection" of a geographic system: longitude and latitude
// in degrees, in that order, as GeoJSON writes them.
type degrees struct{}

func (degrees) forward(p LonLat) geo.Vec { return geo.Vec{X: p.Lon.Degrees(), Y: p.Lat.Degrees()} }

func (degrees) inverse(v geo.Vec) LonLat { return LonLat{geo.Degrees(v.X), geo.Degrees(v.Y)} }

// webMercator is the spherical Mercator of web maps, EPSG method 1024: the
// formulas of a sphere of radius a, fed with geodetic latitudes. Its lengths
// are too long by 1/cos φ. Source: IOGP Guidance Note 7-2, section 3.5.1.1.
type webMercator struct{}

func (webMercator) forward(p LonLat) geo.Vec {
	a := WGS84Ellipsoid.SemiMajor
	return geo.Vec{X: a * p.Lon.Radians(), Y: a * math.Asinh(math.Tan(p.Lat.Radians()))}
}

func (webMercator) inverse(v geo.Vec) LonLat {
	a := WGS84Ellipsoid.SemiMajor
	return LonLat{geo.Radians(v.X / a), geo.Radians(math.Atan(math.Sinh(v.Y / a)))}
}
