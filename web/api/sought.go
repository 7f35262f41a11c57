package api

import (
	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/locate"
)

// sought returns what is known of what the job seeks, nil where nothing is.
func sought(l *locate.Location) *answer.Sought {
	at := soughtSpot(l)
	if at < 0 {
		return nil
	}
	s := export.NewLocation(&locate.Location{Job: l.Job, Fit: l.Fit, Frame: l.Frame, Spots: l.Spots[at : at+1]}, language.English).Spots[0]
	return &answer.Sought{Part: s.Part, Kind: s.Kind, Spot: s.Spot, State: s.State, Place: s.Place, Radius95: s.FromLandmarks.Radius95,
		Depth: s.Depth, DepthSigma: s.DepthSigma, DepthTo: s.DepthTo}
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
