package survey

import (
	"fmt"
	"math"

	"asfound/geo"
)

// slip is a blunder that shifts a reading by a fixed amount, and its odds
// before the evidence. The odds are judgement; no published source.
type slip struct {
	shift float64 // metres, added to what should have been read
	odds  float64
	says  string
}

const foot = 0.3048

var slips = []slip{
	{+foot, 0.010, "reads 1.00 ft long: tape held at the 1 ft mark?"},
	{-foot, 0.010, "reads 1.00 ft short: a foot dropped?"},
	{+10 * foot, 0.005, "reads 10 ft long: a tens figure misread?"},
	{-10 * foot, 0.005, "reads 10 ft short: a tens figure misread?"},
	{+1, 0.003, "reads 1 m long: tape held at the 1 m mark?"},
	{-1, 0.003, "reads 1 m short: a metre dropped?"},
}

// blunder says in words what would explain a residual that stands out. The
// odds of a shift D against a good reading are, with k = D/σ and redundancy ρ,
// ln π + k r − ½ k² ρ (r whitened), without fitting again; an unexplained gross
// error is uniform over 30 m. Source: the likelihood ratio of a mean shift,
// e.g. Koch, Parameter Estimation and Hypothesis Testing, ch. 4.
func blunder(r Residual, unit geo.Unit) string {
	off := (r.Observed - r.Fitted) / math.Max(r.Redundancy, 1e-6) // against the rest alone
	if r.Degrees {
		return fmt.Sprintf("reads %.1f° off what the rest says: measure it again", off)
	}
	white := (r.Observed - r.Fitted) / r.Sigma
	best, says := math.Log(0.01)-math.Log(30)+math.Log(2*math.Pi*r.Sigma*r.Sigma/r.Redundancy)/2+r.Standardized*r.Standardized/2, ""
	for _, s := range slips {
		k := s.shift / r.Sigma
		if l := math.Log(s.odds) + k*white - k*k*r.Redundancy/2; l > best {
			best, says = l, s.says
		}
	}
	if says != "" {
		return says
	}
	word := "long"
	if off < 0 {
		word = "short"
	}
	shown := fmt.Sprintf("%.2f m", math.Abs(off))
	if unit == geo.Foot {
		shown = fmt.Sprintf("%.2f ft", math.Abs(off)/foot)
	}
	return fmt.Sprintf("reads %s %s against the rest: measure it again", shown, word)
}
