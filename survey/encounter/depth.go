package encounter

import (
	"math"

	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/depth"
)

// Above returns the chance that the top of a part of depth d lies above a depth
// in metres: the normal distribution of its top, with what the bottom of a hole
// may be out. Where nothing is known of its depth, or no stop depth is given, it
// is 1.
func Above(d depth.Depth, stop float64) float64 {
	if !(d.Sigma > 0) || stop <= 0 {
		return 1
	}
	// A uniform deviation has a variance of a third of its half-width's square.
	sigma := math.Hypot(d.Sigma, practice.BottomOut/math.Sqrt(3))
	return 0.5 * math.Erfc((d.Mean-stop)/(sigma*math.Sqrt2))
}

// Reaches returns the chance that a hole reaches a top that is known, given how
// far in metres its bottom lies below that.
func Reaches(below float64) float64 { return Within(below, practice.BottomOut) }

// StopDepth returns where a hole for something of depth d is called empty: so
// deep that its top lies above with 95 %, in whole centimetres, metres.
func StopDepth(d depth.Depth) float64 {
	return math.Ceil(100*(max(0, d.Mean)+geo.Below95*d.Sigma)) / 100
}
