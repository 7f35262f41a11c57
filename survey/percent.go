package survey

import "fmt"

// Percent writes a probability for people, who should not read certainty into a
// rounded number: 7 %, under 1 %, over 99 %.
func Percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1 %"
	case p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
