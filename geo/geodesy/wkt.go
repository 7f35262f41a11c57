package geodesy

import (
	"fmt"
	"strconv"
)

// PROJ returns the site's frame as a PROJ string, an ordinary transverse
// Mercator system that other software reads.
func (s *Site) PROJ() string {
	lon, lat, k := s.parameters()
	return fmt.Sprintf("+proj=tmerc +lat_0=%s +lon_0=%s +k=%s +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs +type=crs", lat, lon, k)
}

// WKT returns the site's frame as well-known text of the first version (OGC
// 01-009), which GeoPackage asks for.
func (s *Site) WKT() string {
	lon, lat, k := s.parameters()
	return `PROJCS["Site ground frame",` +
		`GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],` +
		`PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]],` +
		`PROJECTION["Transverse_Mercator"],` +
		`PARAMETER["latitude_of_origin",` + lat + `],PARAMETER["central_meridian",` + lon + `],PARAMETER["scale_factor",` + k + `],` +
		`PARAMETER["false_easting",0],PARAMETER["false_northing",0],` +
		`UNIT["metre",1,AUTHORITY["EPSG","9001"]],AXIS["Easting",EAST],AXIS["Northing",NORTH]]`
}

// WKT2 returns the site's frame as well-known text of the second version (ISO
// 19162:2019).
func (s *Site) WKT2() string {
	lon, lat, k := s.parameters()
	degree, metre := `ANGLEUNIT["degree",0.0174532925199433]`, `LENGTHUNIT["metre",1]`
	return `PROJCRS["Site ground frame",` +
		`BASEGEOGCRS["WGS 84",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563,` + metre + `]],` +
		`PRIMEM["Greenwich",0,` + degree + `],ID["EPSG",4326]],` +
		`CONVERSION["Local transverse Mercator at ground height",METHOD["Transverse Mercator",ID["EPSG",9807]],` +
		`PARAMETER["Latitude of natural origin",` + lat + `,` + degree + `,ID["EPSG",8801]],` +
		`PARAMETER["Longitude of natural origin",` + lon + `,` + degree + `,ID["EPSG",8802]],` +
		`PARAMETER["Scale factor at natural origin",` + k + `,SCALEUNIT["unity",1],ID["EPSG",8805]],` +
		`PARAMETER["False easting",0,` + metre + `,ID["EPSG",8806]],` +
		`PARAMETER["False northing",0,` + metre + `,ID["EPSG",8807]]],` +
		`CS[Cartesian,2],AXIS["easting (E)",east,ORDER[1]],AXIS["northing (N)",north,ORDER[2]],` + metre + `]`
}

// parameters returns the origin in degrees and the scale, in full, as text.
func (s *Site) parameters() (lon, lat, k string) {
	text := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return text(s.Origin.Lon.Degrees()), text(s.Origin.Lat.Degrees()), text(s.Scale())
}
