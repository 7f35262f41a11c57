package answer

import "encoding/json"

// Geometry is a Geometry (RFC 7946, 3.1).
type Geometry struct {
	// Point, LineString, Polygon or MultiPolygon.
	Type string `json:"type"`
	// Longitude and latitude in degrees, or metres east and north where the
	// frame is local; nested as the type has them.
	Coordinates json.RawMessage `json:"coordinates" jsonschema:"type=array"`
}

// CoordinateUnit is the unit of the coordinates of a file.
type CoordinateUnit string

// The units of coordinates.
const (
	CoordinatesInDegrees CoordinateUnit = "deg"
	CoordinatesInMetres  CoordinateUnit = "m"
)

// Collection is a FeatureCollection (RFC 7946, 3.3) with the foreign members
// frame and unit (6.1): the files predictions.geojson and plan.geojson. Where
// the frame is geodetic its positions are longitude, latitude on WGS 84 (4).
// Where it is local they are metres of the field frame: section 4 allows another
// reference system by prior arrangement, and frame is that arrangement; no
// longitude or latitude is made up.
type Collection struct {
	// FeatureCollection.
	Type  string `json:"type"`
	Frame Frame  `json:"frame"`
	// Of a coordinate.
	Unit     CoordinateUnit `json:"unit"`
	Features []Feature      `json:"features"`
}

// Feature is a Feature (RFC 7946, 3.2).
type Feature struct {
	// Feature.
	Type string `json:"type"`
	ID   string `json:"id"`
	// Null: an unlocated Feature.
	Geometry *Geometry `json:"geometry" jsonschema:"nullable"`
	// By their role.
	Properties any `json:"properties" jsonschema:"anyof_ref=#/$defs/SpotProperties;#/$defs/RegionProperties;#/$defs/HoleProperties;#/$defs/TieProperties"`
}

// SpotProperties is what the Feature of a spot says.
type SpotProperties struct {
	// spot.
	Role string `json:"role" jsonschema:"enum=spot"`
	Spot
	*Grid
}

// Grid is a place in the coordinate system that the settings name. It is left
// out where they name none, or where nothing ties the job to the earth. Geometry
// stays on WGS 84 (RFC 7946, 4).
type Grid struct {
	// East, in the system's own unit, to the millimetre or to nine decimals of a degree.
	X Decimal `json:"x,omitempty" jsonschema:"type=number"`
	// North, likewise.
	Y Decimal `json:"y,omitempty" jsonschema:"type=number"`
	// EPSG code of the system, such as EPSG:2264.
	CRS string `json:"crs,omitempty"`
}

// Reference is what a region is relative to.
type Reference string

// What a region is relative to.
const (
	OfEarth     Reference = "earth"     // as a position in the frame
	OfLandmarks Reference = "landmarks" // as a crew with tapes finds it
)

// RegionProperties is what the Feature of an ellipse or a corridor says: what
// lies within it with 95 %, and relative to what.
type RegionProperties struct {
	// ellipse or corridor.
	Role string `json:"role" jsonschema:"enum=ellipse,enum=corridor"`
	// Id of the part.
	Part string `json:"part"`
	Kind string `json:"kind"`
	// center, start or end; left out for a corridor.
	Spot  string    `json:"spot,omitempty"`
	State State     `json:"state"`
	Of    Reference `json:"relative_to"`
}

// HoleProperties is what the Feature of a planned hole says.
type HoleProperties struct {
	// hole.
	Role string `json:"role" jsonschema:"enum=hole"`
	Proposal
	*Grid
}

// TieProperties is what the Feature of a tape to a planned hole says.
type TieProperties struct {
	// tie.
	Role string `json:"role" jsonschema:"enum=tie"`
	// Of the hole.
	Rank int `json:"rank"`
	Tie
}

// AsBuilt is the corrected as-built, asbuilt.geojson: a sketch that the next
// crew can put into a job folder as it stands, with foreign members.
type AsBuilt struct {
	// FeatureCollection.
	Type string `json:"type"`
	// As in sketch.geojson.
	Sketch json.RawMessage `json:"sketch" jsonschema:"type=object"`
	Frame  Frame           `json:"frame"`
	// How accurate the record is, for people.
	Accuracy []string `json:"accuracy"`
	// What the record is not good for, for people.
	Limits []string `json:"limits"`
	// Why the record must not be trusted as it stands, for people.
	Doubts   []string         `json:"doubts"`
	Features []AsBuiltFeature `json:"features"`
	// The log that it rests on: a row each, by the columns of readings.csv.
	Readings []map[string]string `json:"readings"`
}

// AsBuiltFeature is a part of the corrected as-built.
type AsBuiltFeature struct {
	// Feature.
	Type     string    `json:"type"`
	ID       string    `json:"id"`
	Geometry *Geometry `json:"geometry" jsonschema:"nullable"`
	// Those of a part of sketch.geojson, and beside them the members of
	// AsBuiltSpot: as they are named, and for the two ends of a line with start_
	// or end_ before their names.
	Properties map[string]json.RawMessage `json:"properties"`
}

// AsBuiltSpot is what the corrected as-built says of a part or of one spot of it
// beside what a sketch does.
type AsBuiltSpot struct {
	State State `json:"state,omitempty"`
	// Radius that holds it with 95 %, relative to the landmarks, metres.
	Accuracy *Metres `json:"accuracy,omitempty"`
	// How far it lies from the old sketch, metres.
	Moved *Metres `json:"moved,omitempty"`
	// In which direction, for people.
	MovedToward string `json:"moved_toward,omitempty"`
	// Of today's ground over it, metres.
	CoverToday *Metres `json:"cover_today,omitempty"`
	// Metres.
	CoverSigma *Metres `json:"cover_sigma,omitempty"`
}
