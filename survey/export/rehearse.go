package export

import (
	"io"

	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/rehearse"
)

// NewRehearsal returns the answer of rehearse.
func NewRehearsal(l *locate.Location, r *rehearse.Rehearsal) answer.Rehearsal {
	spread := func(s rehearse.Spread) answer.Spread {
		return answer.Spread{Median: answer.Number(s.Median), Mean: answer.Number(s.Mean), P90: answer.Number(s.P90)}
	}
	unit := l.Job.Settings.Unit
	out := answer.Rehearsal{Seek: r.Seek, Plays: r.Plays, MostDug: rehearse.Most, Found: answer.Number(r.Found), Holes: spread(r.Holes), Minutes: spread(r.Minutes),
		Count: append([]int{}, r.Count...), Readings: []answer.Offer{}, Cautions: []string{}, Findings: []answer.Finding{},
		Remark: together(r.Remark, unit), Doubtful: finding.Says(l.Fit.Doubtful, unit)}
	if r.Plan != nil {
		out.Cautions, out.Findings = finding.Sentences(r.Plan.Cautions, unit), NewFindings(r.Plan.Cautions, unit)
	}
	for _, o := range r.Offers {
		out.Readings = append(out.Readings, answer.Offer{Kind: string(o.Kind), What: o.What,
			RadiusBefore: answer.Metres(o.Radius.Before), RadiusAfter: answer.Metres(o.Radius.After),
			HolesBefore: answer.Number(o.Holes.Before), HolesAfter: answer.Number(o.Holes.After),
			DepthBefore: answer.Metres(o.Depth.Before), DepthAfter: answer.Metres(o.Depth.After), Minutes: answer.Number(o.Minutes)})
	}
	return out
}

// RehearsalJSON writes the answer of rehearse. The error is the writer's.
func RehearsalJSON(w io.Writer, l *locate.Location, r *rehearse.Rehearsal) error {
	return write(w, NewRehearsal(l, r))
}
