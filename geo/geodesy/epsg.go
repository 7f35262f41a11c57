package geodesy

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"asfound/geo"
)

// ByEPSG returns the system of an EPSG code. Known are
//
//   - 4326 WGS 84, 4269 NAD83 and 6318 NAD83(2011), in degrees, and 3857;
//   - UTM on WGS 84 (32601–32660, 32701–32760), on NAD83 (26901–26923), on
//     NAD83(2011) (6328–6348) and on ETRS89 (25828–25837);
//   - the state plane zones of NAD83, NAD83(HARN), NAD83(NSRS2007) and
//     NAD83(2011), in metres, US survey feet or international feet, all but
//     Alaska zone 1.
//
// Any other code is an error.
func ByEPSG(code int) (CRS, error) {
	switch code {
	case 4326:
		return geographic(code, "WGS 84"), nil
	case 4269:
		return geographic(code, "NAD83"), nil
	case 6318:
		return geographic(code, "NAD83(2011)"), nil
	case 3857:
		return CRS{
			Code: code, Name: "WGS 84 / Pseudo-Mercator", Datum: "WGS 84", Unit: geo.Metre,
			Area: box(-180, -85.06, 180, 85.06), plane: webMercator{}, per: 1,
		}, nil
	}
	for _, f := range utmFamilies {
		if z := code - f.zone0; z >= f.first && z <= f.last {
			return f.zone(code, z), nil
		}
	}
	if c, ok := statePlane(code); ok {
		return c, nil
	}
	return CRS{}, fmt.Errorf("EPSG:%d is not known here; known are 4326, 4269, 6318, 3857, "+
		"UTM (WGS 84 326zz and 327zz, NAD83 269zz, NAD83(2011) 6328-6348, ETRS89 258zz) and the NAD83 state plane zones", code)
}

// ParseCRS returns the system that text names by its EPSG code: EPSG:2264,
// 2264 alone or urn:ogc:def:crs:EPSG::2264. It is an error if text names none,
// or one that ByEPSG does not know.
func ParseCRS(text string) (CRS, error) {
	name := strings.ToLower(strings.TrimSpace(text))
	for _, prefix := range []string{"urn:ogc:def:crs:epsg::", "epsg:"} {
		name = strings.TrimPrefix(name, prefix)
	}
	code, err := strconv.Atoi(strings.TrimSpace(name))
	if err != nil {
		return CRS{}, fmt.Errorf("found %q; want an EPSG code such as EPSG:2264", text)
	}
	return ByEPSG(code)
}

// geographic returns a system of degrees.
func geographic(code int, datum string) CRS {
	return CRS{
		Code: code, Name: datum, Datum: datum, Unit: Degree,
		Area: box(-180, -90, 180, 90), plane: degrees{}, per: 1,
	}
}

// A utmFamily is a run of codes, zone0 + zone number, on one datum.
type utmFamily struct {
	datum              string
	zone0, first, last int
	south              bool
	ellipsoid          Ellipsoid
}

// utmFamilies: EPSG dataset v10.076. NAD83(2011) begins with zones 59 and 60,
// which are counted −1 and 0 here.
var utmFamilies = []utmFamily{
	{"WGS 84", 32600, 1, 60, false, WGS84Ellipsoid},
	{"WGS 84", 32700, 1, 60, true, WGS84Ellipsoid},
	{"NAD83", 26900, 1, 23, false, GRS80},
	{"NAD83(2011)", 6329, -1, 19, false, GRS80},
	{"ETRS89", 25800, 28, 37, false, GRS80},
}

// zone returns zone z. Source of the parameters: NGA.SIG.0012, The Universal
// Grids and the Transverse Mercator.
func (f utmFamily) zone(code, z int) CRS {
	if z < 1 {
		z += 60
	}
	centre, hemisphere, fn := float64(6*z-183), "N", 0.0
	area := box(centre-3, 0, centre+3, 84)
	if f.south {
		hemisphere, fn, area = "S", 10000000, box(centre-3, -80, centre+3, 0)
	}
	return CRS{
		Code: code, Name: fmt.Sprintf("%s / UTM zone %d%s", f.datum, z, hemisphere), Datum: f.datum, Unit: geo.Metre,
		Area:  area,
		plane: newTransverseMercator(f.ellipsoid, radians(centre), 0, 0.9996, 500000, fn), per: 1,
	}
}

// box returns an area from degrees.
func box(west, south, east, north float64) Area {
	return Area{geo.Degrees(west), geo.Degrees(south), geo.Degrees(east), geo.Degrees(north)}
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
