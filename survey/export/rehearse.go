package export

import (
	"io"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/rehearse"
)

// NewRehearsal returns the answer of rehearse in a language.
func NewRehearsal(l *locate.Location, r *rehearse.Rehearsal, in language.Tag) answer.Rehearsal {
	spread := func(s rehearse.Spread) answer.Spread {
		return answer.Spread{Median: answer.Number(s.Median), Mean: answer.Number(s.Mean), P90: answer.Number(s.P90)}
	}
	to := reader(l, in)
	out := answer.Rehearsal{Seek: r.Seek, Plays: r.Plays, MostDug: rehearse.Most, Found: answer.Number(r.Found), Holes: spread(r.Holes), Minutes: spread(r.Minutes),
		Count: append([]int{}, r.Count...), Readings: []answer.Offer{}, Cautions: []string{}, Findings: []answer.Finding{},
		Remark: together(r.Remark, to), Doubtful: finding.Says(l.Fit.Doubtful, to)}
	if r.Plan != nil {
		out.Cautions, out.Findings = finding.Sentences(r.Plan.Cautions, to), NewFindings(r.Plan.Cautions, to)
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
func RehearsalJSON(w io.Writer, l *locate.Location, r *rehearse.Rehearsal, in language.Tag) error {
	return write(w, NewRehearsal(l, r, in))
}
