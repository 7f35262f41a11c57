package geojson

// Limits of a sketch.geojson. A sketch of one lot stays far below all of them.
const (
	MaxBytes     = 32 << 20 // of the file
	MaxDepth     = 64       // arrays and objects within one another
	MaxFeatures  = 10_000   // of the collection
	MaxPositions = 10_000   // and pieces of one feature
	MaxMembers   = 1000     // of one object
	MaxTies      = 100      // of one feature
	MaxID        = 80       // runes of an id
	MaxText      = 500      // runes of a name or another text
	MaxNote      = 10_000   // runes of sketch.note
	MaxProblems  = 200      // that are listed; one more says how many there were
	MaxExtent    = 20_000.0 // metres between positions of one sketch in wgs84
	maxLatitude  = 75.0     // degrees: beyond it nobody buries a dispersal field
	shownRunes   = 40       // of a value shown in a problem
	defaultUpDeg = 10.0     // degrees, sigma of an arrow that does not give one
)
