package api

import (
	"asfound/survey/export"
	"asfound/survey/locate"
)

// Sought is what is known of what the job seeks. Of several that would do (any
// lateral, any of the drop boxes; either end of a line) it is the one that is
// known best: the one to go for.
type Sought struct {
	Part  string `json:"part"`
	Kind  string `json:"kind"`
	Spot  string `json:"spot"`
	State string `json:"state"`
	export.Place
	Radius95   export.Metres  `json:"radius95"` // holds it with 95 %, relative to the landmarks
	Depth      *export.Metres `json:"depth"`    // null: not known
	DepthSigma *export.Metres `json:"depth_sigma"`
	DepthTo    string         `json:"depth_to,omitempty"`
}

// sought returns what is known of what the job seeks, nil where nothing is.
func sought(l *locate.Location) *Sought {
	at := soughtSpot(l)
	if at < 0 {
		return nil
	}
	s := export.NewLocation(&locate.Location{Job: l.Job, Fit: l.Fit, Frame: l.Frame, Spots: l.Spots[at : at+1]}).Spots[0]
	return &Sought{s.Part, s.Kind, s.Spot, s.State, s.Place, s.FromLandmarks.Radius95, s.Depth, s.DepthSigma, s.DepthTo}
}

// soughtSpot returns the index of the spot of what is sought that is known
// best, -1 where there is none.
func soughtSpot(l *locate.Location) int {
	best := -1
	for i := range l.Spots {
		s := &l.Spots[i]
		if s.Part != l.Job.Settings.Seek && string(s.Kind) != l.Job.Settings.Seek {
			continue
		}
		if best < 0 || s.Landmarks95 < l.Spots[best].Landmarks95 {
			best = i
		}
	}
	return best
}
