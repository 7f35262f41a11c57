package simulate

import (
	"context"
	"fmt"
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/posterior"
)

// Score is how the answer for one site compares with its truth.
type Score struct {
	Seed  uint64
	Spots []SpotScore
	Met   []MetScore

	Doubtful bool // the fit itself says that it must not be trusted
	Suspects []fit.Suspect
	Sheet    []fit.SheetFault
}

// SpotScore is the answer for one spot that digging finds.
type SpotScore struct {
	Name asbuilt.SpotName

	// Content is the probability that the belief has nearer than the truth, and
	// FromLandmarks the same relative to the landmarks: uniform where beliefs
	// are honest. A region of 95 % holds the truth where it is at most 0.95.
	Content, FromLandmarks float64

	// Depth is that probability for the depth of the crown of a lateral or the
	// lid of the box, in the narrowest interval about its mean; NaN where the
	// truth has no depth of it.
	Depth float64

	Error, Radius95 float64 // metres, relative to the landmarks
}

// MetScore is what the fit says of the part that a hole met where the crew
// could not tell.
type MetScore struct {
	Probability float64 // of the likeliest part
	Right       bool    // it is that part
	OfTruth     float64 // probability of the true part
}

// Assess fits and locates a site's job and scores the answer.
func (s *Site) Assess() (Score, error) {
	solved, err := fit.Solve(context.Background(), s.Job)
	if err != nil {
		return Score{}, fmt.Errorf("invented lot %d: %w", s.Order.Seed, err)
	}
	loc, err := locate.Locate(context.Background(), s.Job, solved)
	if err != nil {
		return Score{}, fmt.Errorf("invented lot %d: %w", s.Order.Seed, err)
	}
	score := Score{Seed: s.Order.Seed, Doubtful: solved.Doubtful != nil, Suspects: solved.Suspects, Sheet: solved.Sheet}
	p := loc.Posterior
	frame, laid := s.frame(solved, p), s.onLandmarks(p)
	for _, r := range s.spots() {
		truth := s.Truth[r]
		g, ok := p.Spot(r)
		if !ok {
			continue
		}
		on := laid(truth)
		spot := SpotScore{Name: r, Content: g.Content(frame(truth)), FromLandmarks: g.ContentFromLandmarks(on),
			Depth: math.NaN(), Error: on.Dist(g.At), Radius95: g.Landmarks95}
		if v, ok := s.depth(r); ok {
			feature := survey.Crown
			if r.Part == "box" {
				feature = survey.Top
			}
			if d, ok := loc.DepthTo(r.Part, g.At, feature); ok {
				spot.Depth = math.Erf(math.Abs(v-d.Mean) / (math.Sqrt2 * d.Sigma))
			}
		}
		score.Spots = append(score.Spots, spot)
	}
	for i := range s.Job.Readings {
		r := &s.Job.Readings[i]
		if solved.MetOdds(r.ID) == nil { // the log says which
			continue
		}
		odds := p.MetOdds(r.ID)
		m := MetScore{OfTruth: odds[s.Met[r.ID]], Probability: odds[p.Met(r.ID)]}
		m.Right = p.Met(r.ID) == s.Met[r.ID]
		score.Met = append(score.Met, m)
	}
	return score, nil
}

// spots lists the spots that digging finds, in a fixed order.
func (s *Site) spots() []asbuilt.SpotName {
	names := []asbuilt.SpotName{{Part: "tank", Spot: asbuilt.Center}, {Part: "box", Spot: asbuilt.Center}}
	for k := range s.plan.start {
		names = append(names, asbuilt.SpotName{Part: lateral(k), Spot: asbuilt.Start}, asbuilt.SpotName{Part: lateral(k), Spot: asbuilt.End})
	}
	return names
}

// depth returns the true depth of a spot in metres.
func (s *Site) depth(name asbuilt.SpotName) (metres float64, ok bool) {
	if _, ok := s.down.line[name.Part]; !ok {
		return 0, false
	}
	if name.Spot == asbuilt.End {
		return s.down.depth(name.Part, 1), true
	}
	return s.down.depth(name.Part, 0), true
}

// frame returns the motion that brings the truth into the frame of a fit: where
// that is on the earth, from earth to earth, else by the landmarks.
func (s *Site) frame(f *fit.Fit, p *posterior.Posterior) func(geo.Vec) geo.Vec {
	if f.Frame.Kind == survey.Geodetic {
		origin, _ := geodesy.New(lotLon, lotLat)
		lot := geodesy.NewSite(origin, 0)
		return func(v geo.Vec) geo.Vec { return f.Frame.Site.Vec(lot.LonLat(v)) }
	}
	return s.onLandmarks(p)
}

// onLandmarks returns the turn and shift that lay the true landmarks on those
// believed, as well as they can.
func (s *Site) onLandmarks(p *posterior.Posterior) func(geo.Vec) geo.Vec {
	var from, to []geo.Vec
	for i := range s.plan.corners {
		k := asbuilt.SpotName{Part: mark(i), Spot: asbuilt.Center}
		g, ok := p.Spot(k)
		if ok && p.Refers(k.Part) {
			from, to = append(from, s.Truth[k]), append(to, g.At)
		}
	}
	return geo.Rigid(from, to).Move
}
