package entry

import "asfound/survey/fieldbook"

// Limits of an entry. A job of one lot stays far below all of them.
const (
	MaxBody    = 32 << 20             // bytes of a body: the largest sketch.geojson that is read
	MaxBy      = 80                   // runes of the name of a phone
	MaxColumns = fieldbook.MaxColumns // of a reading
	MaxColumn  = 80                   // bytes of the name of a column
	MaxCell    = 4096                 // bytes of one text of a reading
	MaxName    = 200                  // bytes of the name of a file
	MaxFile    = 64 << 20             // bytes of a file
	MaxFiles   = 1000                 // of a job folder
	MaxRows    = 100_000              // of a log
	maxKind    = 32                   // bytes of the name of a kind
	maxShown   = 40                   // runes of a value shown in a problem
	maxListed  = 200                  // problems that are listed
)
