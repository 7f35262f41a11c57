package geodesy

import "math"

// Geocentric returns the earth-centred, earth-fixed coordinates in metres of
// the point height metres above the ellipsoid at p: X towards longitude 0 on
// the equator, Z towards the north pole. Source: IOGP Guidance Note 7-2,
// section 4.1.1, EPSG method 9602.
func (e Ellipsoid) Geocentric(p LonLat, height float64) (x, y, z float64) {
	sφ, cφ := math.Sincos(p.Lat.Radians())
	sλ, cλ := math.Sincos(p.Lon.Radians())
	e2 := e.eccentricity2()
	ν := e.SemiMajor / math.Sqrt(1-e2*sφ*sφ)
	return (ν + height) * cφ * cλ, (ν + height) * cφ * sλ, ((1-e2)*ν + height) * sφ
}

// ENU returns how far the point height metres above the ellipsoid at p lies
// east, north and up of the origin, in metres on the three straight axes
// there. up is not a difference of heights: the level surface falls away by
// 78 mm at 1 km. The engine works in the plane of Site; this is the frame of
// satellite receivers, and an independent check. Source: IOGP Guidance Note
// 7-2, section 4.1.2, EPSG method 9836.
func (e Ellipsoid) ENU(origin LonLat, originHeight float64, p LonLat, height float64) (east, north, up float64) {
	x0, y0, z0 := e.Geocentric(origin, originHeight)
	x, y, z := e.Geocentric(p, height)
	dx, dy, dz := x-x0, y-y0, z-z0
	sφ, cφ := math.Sincos(origin.Lat.Radians())
	sλ, cλ := math.Sincos(origin.Lon.Radians())
	east = -sλ*dx + cλ*dy
	north = -sφ*cλ*dx - sφ*sλ*dy + cφ*dz
	up = cφ*cλ*dx + cφ*sλ*dy + sφ*dz
	return east, north, up
}
