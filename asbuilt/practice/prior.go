package practice

// Prior is what is believed of a quantity before anything is written or
// measured: a normal distribution.
type Prior struct {
	Mean, Sigma float64 // metres, or fall per length
	Source      string
}

// What is believed of depths and grades before any reading.
var (
	// Cover is the ground above the crown of a lateral, metres. Codes ask for
	// 12 in at least and for trench bottoms at 18 to 36 in.
	Cover = Prior{0.55, 0.20, "12 in at least over the crown (Southborough MA; UPC summary), trench bottom 18 to 36 in down (Rapid City SD 13.20.500); the spread is common practice, no published source"}

	// RecordedCover is what a cover written on the record is off by, metres:
	// lawns are dressed, fill is spread.
	RecordedCover = Prior{0, 0.15, "common practice, no published source"}

	// Fill is what was added to the ground since the record, metres.
	Fill = Prior{0.05, 0.10, "common practice, no published source"}

	// BoxCover is the ground above the lid of a box, metres: 12 to 24 in.
	BoxCover = Prior{0.45, 0.15, "common practice, no published source"}

	// TankCover is the ground above the lid of a tank, metres: 6 to 24 in.
	TankCover = Prior{0.38, 0.20, "common practice, no published source"}

	// LateralGrade is the fall of a lateral per length: 0 to 4 in per 100 ft.
	LateralGrade = Prior{0.002, 0.0015, "0.5 to 4 in per 100 ft (Rapid City SD 13.20.500), at most 3 in per 100 ft (UPC summary), level (Switzerland County IN)"}

	// HeaderGrade is the fall of a header per length: 1 to 2 %.
	HeaderGrade = Prior{0.015, 0.005, "1/8 to 1/4 in per foot of building sewer (IPC 704.1), 1.04 to 2.08 %; that headers follow it is common practice, no published source"}

	// BoxLid is how far the lid of a box stands above its outlet inverts,
	// metres.
	BoxLid = Prior{0.25, 0.10, "outlets at least 4 in above the floor (Ramsey MN 8.30) of a box 12 to 20 in high (common practice, no published source)"}

	// BoxOutlet is by how much the outlet inverts of a levelled box differ
	// from each other, metres.
	BoxOutlet = Prior{0, 0.006, "outlets of equal invert (Ramsey MN 8.30), proved with water (Switzerland County IN); the spread is common practice, no published source"}
)
