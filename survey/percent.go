package survey

import (
	"asfound/geo/language"
	"asfound/survey/finding"
)

// Percent writes a probability for people who read English: finding.Percent.
func Percent(p float64) string { return finding.Percent(p, language.English) }
