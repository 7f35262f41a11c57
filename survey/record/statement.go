package record

import (
	"fmt"
	"strings"

	"asfound/survey/finding"
	"asfound/survey/locate"
)

// doubts gathers what the fit warns of.
func (r *Record) doubts(l *locate.Location) {
	for _, s := range l.Fit.Suspects {
		r.Doubts = append(r.Doubts, finding.Suspect.New(finding.Readings(s.Reading), finding.About(s.Blunder)))
	}
	open, settled := Warnings(l)
	r.Doubts = append(r.Doubts, open...)
	r.Settled = settled
	for _, d := range l.DepthSuspects {
		r.Doubts = append(r.Doubts, finding.Suspect.New(finding.Readings(d.Reading), finding.About(d.Cause)))
	}
}

// sure is the probability from which a trench that was met counts as known:
// the doubt that remains is no more than any region of 95 % leaves.
const sure = 0.95

// Warnings divides what the fit says about the readings into what is open, and
// must be known before anything is used, and what is settled: which trench a
// hole met, where that is practically certain.
func Warnings(l *locate.Location) (open, settled []finding.Finding) {
	if l.Fit == nil {
		return nil, nil
	}
	for _, w := range l.Fit.Warnings {
		if metForSure(l, w) {
			settled = append(settled, w)
		} else {
			open = append(open, w)
		}
	}
	return open, settled
}

// metForSure reports whether a warning of the fit concerns a hole that met one
// trench with practical certainty.
func metForSure(l *locate.Location, warning finding.Finding) bool {
	if warning.Code != finding.MetOneOf {
		return false
	}
	for _, id := range warning.Readings {
		for part, odds := range l.Fit.MetOdds(id) {
			if part != "" && odds >= sure {
				return true
			}
		}
	}
	return false
}

// method writes the statements of method and accuracy.
//
// The words "Compiled to meet … horizontal accuracy at 95 % confidence level"
// are those of the National Standard for Spatial Data Accuracy
// (FGDC-STD-007.3-1998) for data that were not tested against 20 or more check
// points of an independent source of higher accuracy. No yard has so many, so
// the word "tested" is never used here.
func (r *Record) method(l *locate.Location) {
	sheet := "the old sketch"
	if r.Drawn != "" {
		sheet += " (drawn " + r.Drawn + ")"
	}
	r.Method = fmt.Sprintf("%s and the readings of the log were fitted together by least squares, with the sheet's own errors of scale, turn and drafting as prior beliefs. "+
		"It rests on %s: %d observed numbers with a redundancy of %.1f. Regions hold the true place with 95 %%, relative to the landmarks. Distances are level, on the ground.",
		strings.ToUpper(sheet[:1])+sheet[1:], r.Rests.Words(), l.Fit.Readings, l.Fit.Redundancy)
	r.Accuracy = r.accuracy()
	r.Limits = []finding.Finding{finding.NotASurvey.New(), finding.Utilities.New(), finding.CoversToday.New(), finding.CodeDecides.New()}
}

// accuracy says how accurate the record is, by what its spots rest on.
func (r *Record) accuracy() (says []finding.Finding) {
	if r.Doubtful != nil {
		return []finding.Finding{finding.NoAccuracy.New(finding.About(*r.Doubtful))}
	}
	if !r.Rests.any() {
		return []finding.Finding{finding.NoReading.New()}
	}
	worst, n := map[locate.State]float64{}, map[locate.State]int{}
	for _, p := range r.Parts {
		for _, s := range p.Spots {
			n[s.State]++
			worst[s.State] = max(worst[s.State], s.Radius95)
		}
	}
	of := func(state locate.State) (spots, accuracy finding.Argument) {
		return finding.Number("spots", float64(n[state])), finding.Number("accuracy", worst[state])
	}
	if spots, accuracy := of(locate.Seen); n[locate.Seen] > 0 {
		says = append(says, finding.AccuracySeen.New(spots, accuracy))
	}
	if spots, accuracy := of(locate.Inferred); n[locate.Inferred] > 0 {
		says = append(says, finding.AccuracyInferred.New(spots, accuracy))
	}
	if spots, accuracy := of(locate.Recorded); n[locate.Recorded] > 0 {
		says = append(says, finding.AccuracyRecorded.New(spots, accuracy))
	}
	if n[locate.Seen]+n[locate.Inferred] > 0 {
		says = append(says, finding.NotTested.New())
	}
	return says
}
