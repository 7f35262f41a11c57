package survey

import "asfound/survey/finding"

// Percent writes a probability for people: finding.Percent.
func Percent(p float64) string { return finding.Percent(p) }
