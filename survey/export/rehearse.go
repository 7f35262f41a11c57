package export

import (
	"io"
	"strings"

	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/rehearse"
)

// Rehearsal is the answer of rehearse.
type Rehearsal struct {
	Seek     string    `json:"seek"`
	Plays    int       `json:"plays"`    // 0: nothing could be rehearsed, remark says why
	MostDug  int       `json:"most_dug"` // holes after which a play was given up
	Found    Number    `json:"found"`    // share of the plays in which what is sought was met
	Holes    Spread    `json:"holes"`    // until it was met
	Minutes  Spread    `json:"minutes"`  // of digging until then
	Count    []int     `json:"count"`    // of the plays that ended with the first hole, the second, ...
	Readings []Offer   `json:"readings"` // what a further reading would buy
	Cautions []string  `json:"cautions"` // for the whole job
	Findings []Finding `json:"findings"` // the same as data
	Remark   string    `json:"remark,omitempty"`
	Doubtful string    `json:"doubtful,omitempty"` // why the answer must not be trusted as it stands
}

// Spread is how a number is spread over the plays.
type Spread struct {
	Median Number `json:"median"`
	Mean   Number `json:"mean"`
	P90    Number `json:"p90"` // nine plays in ten stayed within it
}

// Offer is what one further reading would buy: each number before it, and what
// it is expected to be after it.
type Offer struct {
	Kind         string `json:"kind"` // tape, satellite, level, lateral or next-hole
	What         string `json:"what"`
	RadiusBefore Metres `json:"radius95_before"` // of what is sought, from the landmarks
	RadiusAfter  Metres `json:"radius95_after"`
	HolesBefore  Number `json:"holes_before"` // to be expected until it is met
	HolesAfter   Number `json:"holes_after"`  // the reading's own hole included
	DepthBefore  Metres `json:"depth_sigma_before"`
	DepthAfter   Metres `json:"depth_sigma_after"`
	Minutes      Number `json:"minutes"` // that the reading's hole takes, 0: it needs none
}

// NewRehearsal returns the answer of rehearse.
func NewRehearsal(l *locate.Location, r *rehearse.Rehearsal) Rehearsal {
	spread := func(s rehearse.Spread) Spread { return Spread{Number(s.Median), Number(s.Mean), Number(s.P90)} }
	out := Rehearsal{Seek: r.Seek, Plays: r.Plays, MostDug: rehearse.Most, Found: Number(r.Found), Holes: spread(r.Holes), Minutes: spread(r.Minutes),
		Count: append([]int{}, r.Count...), Readings: []Offer{}, Cautions: []string{}, Findings: []Finding{},
		Remark: strings.Join(finding.Sentences(r.Remark, l.Job.Settings.Unit), " "), Doubtful: finding.Says(l.Fit.Doubtful, l.Job.Settings.Unit)}
	if r.Plan != nil {
		out.Cautions = finding.Sentences(r.Plan.Cautions, l.Job.Settings.Unit)
		out.Findings = newFindings(r.Plan.Cautions, l.Job.Settings.Unit)
	}
	for _, o := range r.Offers {
		out.Readings = append(out.Readings, Offer{string(o.Kind), o.What, Metres(o.Radius.Before), Metres(o.Radius.After),
			Number(o.Holes.Before), Number(o.Holes.After), Metres(o.Depth.Before), Metres(o.Depth.After), Number(o.Minutes)})
	}
	return out
}

// RehearsalJSON writes the answer of rehearse. The error is the writer's.
func RehearsalJSON(w io.Writer, l *locate.Location, r *rehearse.Rehearsal) error {
	return write(w, NewRehearsal(l, r))
}
