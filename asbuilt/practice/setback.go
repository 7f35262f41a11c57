package practice

import "asfound/asbuilt"

// Setback is a distance that codes ask for between the trenches of a
// dispersal field and something else. Codes differ: it is a ground for a
// caution, never a finding.
type Setback struct {
	From     asbuilt.Kind
	Distance float64 // metres, from the nearest wall of the trench
	Source   string
}

// Setbacks returns the setbacks of a dispersal field, one for each kind, the
// most usual of the codes read.
func Setbacks() []Setback {
	return []Setback{
		{asbuilt.Well, 30.48, "100 ft: North Carolina rule .1950(a) as quoted by others, a Massachusetts town (ecode360.com/29286279), Marion County OR; 75 ft in Orono MN"},
		{asbuilt.Water, 15.24, "50 ft from stream or lake: North Carolina rule .1950(a) as quoted by others; 100 ft for listed waters, and in Marion County OR"},
		{asbuilt.Boundary, 3.048, "10 ft: North Carolina rule .1950(a) as quoted by others, a Massachusetts town (ecode360.com/29286279)"},
		{asbuilt.Building, 1.524, "5 ft from a foundation (15 ft from a basement): North Carolina rule .1950(a) as quoted by others; 20 ft in a Massachusetts town and in Orono MN"},
	}
}
