package answer

// LonLats is the answer of the stage lonlat: where places of a coordinate reference
// system lie on the earth.
type LonLats struct {
	// Of the system in the EPSG dataset.
	Name string `json:"name"`
	// What the system counts from. One that is not WGS 84 may lie 1 to 2 m beside it: no
	// shift is applied.
	Datum string `json:"datum"`
	// In the order asked for.
	Places []LonLat `json:"places"`
}
