package practice

import "asfound/survey/finding"

// The rules of excavation in the United States that a crew with a shovel or a
// small machine meets: 29 CFR 1926 subpart P. Other countries have others; the
// depth of the way out is a setting of the job.
const (
	WayOutDepth  = 1.2192 // metres: a trench this deep needs a way out: 4 ft, 29 CFR 1926.651(c)(2)
	WayOutReach  = 7.62   // metres: how far it may be from anyone in the trench: 25 ft, the same
	ProtectDepth = 1.524  // metres: from here a cut needs protection against cave-in: 5 ft, 29 CFR 1926.652(a)(1)
)

// Safety returns what stands before every dig of a job whose trenches need a
// way out from a depth of entry metres.
func Safety(entry float64) []finding.Finding {
	return finding.Safety(entry, ProtectDepth, WayOutReach)
}

// Deep returns the caution for a hole that may be dug to a depth in metres, of
// a job whose trenches need a way out from entry metres; ok is false where it
// needs none. A depth that is not known, 0 or less, has a caution of its own.
func Deep(depth, entry float64) (f finding.Finding, ok bool) {
	reach, way := finding.Number("reach", WayOutReach), finding.Number("entry", entry)
	switch {
	case !(depth > 0):
		return finding.DepthUnknown.New(way, reach), true
	case depth >= ProtectDepth:
		return finding.CaveIn.New(finding.Number("protect", ProtectDepth), reach), true
	case depth >= entry:
		return finding.WayOut.New(way, reach), true
	}
	return f, false
}

// UtilityMet returns the caution for a hole that ended on a line which is not of the
// system, as a reading says.
func UtilityMet(hole, reading string) finding.Finding {
	return finding.UtilityMet.New(finding.Word("hole", hole), finding.Readings(reading), finding.Number("kept", ToleranceZone))
}
