package record

import (
	"fmt"
	"strings"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
)

// doubts gathers what the fit warns of.
func (r *Record) doubts(l *locate.Location) {
	for _, s := range l.Fit.Suspects {
		r.Doubts = append(r.Doubts, fmt.Sprintf("%s %s", s.Reading, s.Says))
	}
	open, settled := Warnings(l)
	r.Doubts = append(r.Doubts, open...)
	r.Settled = settled
	for _, d := range l.DepthSuspects {
		r.Doubts = append(r.Doubts, fmt.Sprintf("%s does not fit the other depths: measure it again", d.Reading))
	}
}

// sure is the probability from which a trench that was met counts as known:
// what is left open then is no more than any region of 95 % leaves.
const sure = 0.95

// Warnings divides what the fit says of the readings: what is open, and must be
// known before anything is used, and what is settled, such as which trench a
// hole met where that is as good as sure.
func Warnings(l *locate.Location) (open, settled []string) {
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

// metForSure reports whether a warning of the fit is of a hole that met one
// trench as good as surely.
func metForSure(l *locate.Location, warning string) bool {
	for _, r := range l.Job.Live() {
		if r.Kind != survey.Found || !strings.HasPrefix(warning, fmt.Sprintf("%s (%s) is ", r.Point, r.ID)) {
			continue
		}
		for part, odds := range l.Fit.MetOdds(r.ID) {
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
// that "tested" is never said here.
func (r *Record) method(l *locate.Location) {
	sheet := "the old sketch"
	if r.Drawn != "" {
		sheet += " (drawn " + r.Drawn + ")"
	}
	r.Method = fmt.Sprintf("%s and the readings of the log were fitted together by least squares, with the sheet's own errors of scale, turn and drafting as prior beliefs. "+
		"It rests on %s: %d observed numbers with a redundancy of %.1f. Regions hold the true place with 95 %%, relative to the landmarks. Distances are level, on the ground.",
		strings.ToUpper(sheet[:1])+sheet[1:], r.Rests.Words(), l.Fit.Readings, l.Fit.Redundancy)
	r.Accuracy = r.accuracy()
	r.Limits = []string{
		"Not a survey, and not for the determination of boundaries or setbacks: a licensed surveyor or designer must confirm.",
		"Not a locate of utilities: call before you dig (811 in the US) and wait for the marks.",
		"Covers are of the ground on the day of the readings; later fill or grading changes them.",
		"Local code and licensed practice decide what may be opened, repaired or recorded.",
	}
}

// accuracy says how accurate the record is, by what its spots rest on.
func (r *Record) accuracy() (says []string) {
	if r.Doubtful != "" {
		return []string{"No accuracy is stated: " + r.Doubtful + "."}
	}
	if !r.Rests.any() {
		return []string{"No accuracy is stated: no reading has been taken, and the old sketch is all there is."}
	}
	worst, n := map[locate.State]float64{}, map[locate.State]int{}
	for _, p := range r.Parts {
		for _, s := range p.Spots {
			n[s.State]++
			worst[s.State] = max(worst[s.State], s.Radius95)
		}
	}
	for _, state := range []locate.State{locate.Seen, locate.Inferred} {
		if n[state] > 0 {
			says = append(says, fmt.Sprintf("%s %s: compiled to meet %s horizontal accuracy at 95 %% confidence level, relative to the landmarks.",
				plural(n[state], "spot", "spots"), state, accuracy(worst[state], r.Unit)))
		}
	}
	if n[locate.Recorded] > 0 {
		says = append(says, fmt.Sprintf("%s recorded only: not measured; no accuracy is claimed beyond what such sheets usually have (%s at 95 %%).",
			plural(n[locate.Recorded], "spot", "spots"), accuracy(worst[locate.Recorded], r.Unit)))
	}
	if n[locate.Seen]+n[locate.Inferred] > 0 {
		says = append(says, "Estimated from the adjustment, not tested: the National Standard for Spatial Data Accuracy (FGDC-STD-007.3-1998) asks of a test 20 or more check points of an independent source of higher accuracy; there are none here.")
	}
	return says
}

// accuracy writes a radius in the words of the standard: metres or feet.
func accuracy(m float64, u geo.Unit) string {
	if u == geo.Metre {
		return fmt.Sprintf("%.2f metres", m)
	}
	return fmt.Sprintf("%.1f feet", m/0.3048)
}
