package drawing

import (
	"math"
	"slices"

	"asfound/asbuilt"
)

// Fault names a way in which a whole sheet may be wrong.
type Fault string

// The faults of a sheet. A sheet without one is Sound.
const (
	Sound    Fault = ""
	Mirrored Fault = "mirrored"      // drawn from the other side of the paper
	Turned   Fault = "turned"        // its north note is a quarter or a half turn off
	Scaled   Fault = "wrong scale"   // its scale note or its unit is wrong
	Walled   Fault = "wrong wall"    // tank and field are drawn off another wall of the house
	Named    Fault = "wrong corners" // its corners bear other names than the crew's
	Other    Fault = "another lot"   // it shows another design than what lies there
)

// Hypothesis is one way in which a sheet may be wrong, or right, with what that
// does to the drawing.
type Hypothesis struct {
	Kind       Fault
	Odds       float64 // before the evidence
	Quarter    int     // Turned, Walled: quarter turns counter-clockwise; Named: corners on
	ScaleSigma float64 // standard deviation of the logarithm of the scale, 0: as the sheet's trust says
	Widen      float64 // factor of all discrepancies, 0: 1
}

// The odds of faults before any evidence. Judgement; no published source.
const (
	mirrorOdds        = 0.02 // of a mirrored sheet where nothing was said
	mirrorUnknownOdds = 0.3  // where the sketch says that it may be
	turnedOdds        = 0.005
	scaledOdds        = 0.01
	walledOdds        = 0.004
	namedOdds         = 0.004
	otherOdds         = 0.003

	anyScale = 0.9 // of the logarithm: feet taken for metres are 1.19
	anyPlace = 6   // times the usual discrepancy: another lot
)

// Hypotheses lists the faults that a sheet may have, the sound sheet first;
// their odds add up to one.
func Hypotheses(s *asbuilt.Sketch) []Hypothesis {
	all := []Hypothesis{{Kind: Sound, Odds: 1}}
	if s.Known != nil { // a finished job has found its faults
		return all
	}
	mirror := mirrorOdds
	if s.MirrorUnknown {
		mirror = mirrorUnknownOdds
	}
	all = append(all, Hypothesis{Kind: Mirrored, Odds: mirror})
	for q := 1; q <= 3; q++ {
		if s.Up != nil {
			all = append(all, Hypothesis{Kind: Turned, Quarter: q, Odds: turnedOdds})
		}
	}
	if len(cornersOf(s)) >= 2 {
		for q := 1; q <= 3; q++ {
			all = append(all, Hypothesis{Kind: Walled, Quarter: q, Odds: walledOdds})
		}
	}
	for q := 1; q < min(len(cornersOf(s)), 8); q++ {
		all = append(all, Hypothesis{Kind: Named, Quarter: q, Odds: namedOdds})
	}
	all = append(all, Hypothesis{Kind: Scaled, Odds: scaledOdds, ScaleSigma: anyScale},
		Hypothesis{Kind: Other, Odds: otherOdds, ScaleSigma: anyScale, Widen: anyPlace})
	all[0].Odds = 1
	for _, f := range all[1:] {
		all[0].Odds -= f.Odds
	}
	return all
}

// cornersOf returns the ids of the landmarks that are corners of a drawn
// building, in their order around it.
func cornersOf(s *asbuilt.Sketch) (ids []string) {
	type corner struct {
		id string
		at asbuilt.Position
	}
	var all []corner
	var middle asbuilt.Position
	scale, _ := priorScale(s)
	for i := range s.Parts {
		p := &s.Parts[i]
		if v, ok := p.Point(asbuilt.Center); ok && p.Kind == asbuilt.Landmark && onBuilding(s, v, 0.3/scale) {
			all = append(all, corner{p.ID, v})
			middle = middle.Add(v)
		}
	}
	if len(all) == 0 {
		return nil
	}
	middle = middle.Scale(1 / float64(len(all)))
	angle := func(c corner) float64 { return math.Atan2(c.at.Y-middle.Y, c.at.X-middle.X) }
	slices.SortStableFunc(all, func(a, b corner) int {
		switch d := angle(a) - angle(b); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	for _, c := range all {
		ids = append(ids, c.id)
	}
	return ids
}

// namesOf returns, for each corner, the corner of the sheet that the crew means
// by its name, when the crew's names run n corners on.
func namesOf(corners []string, n int) map[string]string {
	to := map[string]string{}
	for i, id := range corners {
		to[id] = corners[(i+n)%len(corners)]
	}
	return to
}
