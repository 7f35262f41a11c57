package geodesy

import (
	"fmt"

	"asfound/geo"
)

// LonLat is a position on the WGS 84 ellipsoid: geodetic longitude east and
// latitude north of the Greenwich meridian and the equator. Make one with New.
type LonLat struct{ Lon, Lat geo.Angle }

// New returns the position at lon, lat in degrees. It is an error for lon to
// lie outside [−180, 180] or lat outside [−90, 90], or for either to be NaN;
// the message says when the two look swapped.
func New(lon, lat float64) (LonLat, error) {
	ok := func(v, limit float64) bool { return v >= -limit && v <= limit }
	switch {
	case ok(lon, 180) && ok(lat, 90):
		return LonLat{geo.Degrees(lon), geo.Degrees(lat)}, nil
	case ok(lat, 180) && ok(lon, 90):
		return LonLat{}, fmt.Errorf("longitude %v, latitude %v: latitude must lie in -90…90; they look swapped", lon, lat)
	default:
		return LonLat{}, fmt.Errorf("longitude %v, latitude %v: want longitude in -180…180 and latitude in -90…90, in degrees", lon, lat)
	}
}
