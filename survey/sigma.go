package survey

import "math"

// Default is one row of the table of standard deviations that readings get
// where their row gives none.
type Default struct {
	Reading string // what it is of
	Sigma   string // one standard deviation
	Source  string
}

// judged marks a number that is engineering judgement checked by simulation.
const judged = "judgement, checked by simulation; no published source"

// Defaults is the one table of default standard deviations. The functions
// below it are the same numbers as code; a test holds the two together.
var Defaults = []Default{
	{"tape, tie of the log", "0.03 m and 0.2 % of the distance, in quadrature", "0.1 ft in 50 ft held level by two people: common practice, no published source"},
	{"tie written on the sketch", "0.15 m and 1 % of the distance", "half a foot, the accuracy WAC 246-272A-0265 asks of record drawings; the 1 % is judgement"},
	{"length written on the sketch", "0.15 m and 2 % of the length", "a record is often a round number of 10 ft pipes: common practice, no published source"},
	{"baseline station", "as a tape, and 1° of the offset", "squaring off by eye: common practice, no published source"},
	{"baseline offset", "as a tape, and 0.3° of the station", judged},
	{"gnss, each fix", "0.75 of accuracy/2.4477 per axis", "accuracy is the 95 % radius (W3C Geolocation); 2.4477 is the root of chi-square 0.95 with 2 degrees of freedom; the split is judgement"},
	{"gnss, common to a session", "0.66 of the median accuracy/2.4477 per axis, so that both together make the whole", "fixes of one session share most of their error; the split is judgement"},
	{"bearing, true", "2°", "hand compass: from memory, no published source"},
	{"bearing, magnetic", "2°, and 2° common to all (8° where no declination is given)", judged},
	{"cable", "one-sided: 0.15 m and 1 %; the straight distance is 0.93 ± 0.07 of the cable", judged},
	{"found on a lateral or header", "across: uniform over the width of trench and hole", "geometry"},
	{"found the start or the end", "0.15 m along, a quarter of the width across", judged},
	{"found the centre of a box or port", "0.10 m per axis", judged},
	{"found the centre of a tank", "0.25 m per axis", judged},
	{"found an edge or corner", "0.08 m", judged},
}

func tapeSigma(d float64) float64          { return math.Hypot(0.03, 0.002*d) }
func writtenTieSigma(d float64) float64    { return math.Hypot(0.15, 0.01*d) }
func writtenLengthSigma(l float64) float64 { return math.Hypot(0.15, 0.02*l) }

func stationSigma(station, offset float64) float64 {
	return math.Hypot(tapeSigma(station), math.Pi/180*offset)
}

func offsetSigma(station, offset float64) float64 {
	return math.Hypot(tapeSigma(offset), 0.3*math.Pi/180*station)
}

const (
	fixOwn    = 0.75 // of accuracy/geo.Within95: each fix
	fixCommon = 0.66 // of accuracy/geo.Within95: shared by a session
	usualFix  = 4.9  // metres at 95 %: a phone under open sky, GPS.gov, from memory

	bearingSigma      = 2 * math.Pi / 180
	declinationSigma  = 2 * math.Pi / 180
	noDeclination     = 8 * math.Pi / 180
	cableRatio        = 0.93
	cableRatioSigma   = 0.07
	endAlongSigma     = 0.15
	centreSigma       = 0.10
	tankCentreSigma   = 0.25
	edgeSigma         = 0.08
	beyondEndSigma    = 0.3  // a hole past the end of the line that it met
	wideSigma         = 1000 // metres: the sheet on the earth before any fix
	pointSigma        = 30   // metres: a hole or stake about where it is first guessed to lie
	unknownNorthSigma = 1.8  // radians: the standard deviation of a uniform direction
	heldSigma         = 1e-3 // metres and radians: what only holds the frame
)

func cableSigma(l float64) float64 { return 0.15 + 0.01*l }

// uniformSigma returns the standard deviation of a uniform error of ± half.
func uniformSigma(half float64) float64 { return half / math.Sqrt(3) }
