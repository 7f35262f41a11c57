package belief

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/observe"
	"asfound/survey/posterior"
)

// contact is one hole of several that met the same part, by places of a draw.
type contact struct {
	observe.Contact
	hole int
	most float64 // of its density over that of the fit
}

// apart is how many standard deviations of the fit off its part a hole lies only
// where the fit was told that the reading is wrong, or of another part: there it
// has no Gaussian to put right.
const apart = 6

// met returns what it says of the middle of a part where holes met it, for each
// part that holes met somewhere, at an edge or at a corner. The fit has Gaussians
// for them: each item is the exact density over those.
func (l *learner) met(live []survey.Reading) (items []posterior.Item) {
	byPart := map[string][]contact{}
	for i := range live {
		k, ok := l.post.Contact(&live[i])
		at, placed := l.post.PlaceOfPoint(live[i].Point)
		if ok && placed {
			byPart[k.Part] = append(byPart[k.Part], contact{k, at, k.Most()})
		}
	}
	for i := range l.parts {
		id := l.parts[i].part.ID
		if centre, ok := l.post.Place(asbuilt.SpotName{Part: id, Spot: asbuilt.Center}); ok && len(byPart[id]) > 0 {
			items = append(items, together(centre, byPart[id]))
		}
	}
	return items
}

// together returns what contacts with one part say together: it is turned one
// way for all of them, any way being as likely as another. A crew may have logged
// one wrongly; then the Gaussian of the fit is as good as anything.
func together(centre int, all []contact) posterior.Item {
	turns, most := 0, 1.0
	for i := range all {
		turns = max(turns, all[i].Turns())
		most *= practice.StrayHit + (1-practice.StrayHit)*max(1, all[i].most)
	}
	whole := math.Pi / 2 // a turn after which it is the same
	if all[0].Long != all[0].Wide {
		whole, turns = math.Pi, 2*turns
	}
	axes := make([]geo.Vec, turns)
	for k := range axes {
		axes[k].Y, axes[k].X = math.Sincos(whole * float64(k) / float64(turns))
	}
	return func(places []geo.Vec, _ []float64) float64 {
		sum := 0.0
		for _, e := range axes {
			product := 1.0
			for i := range all {
				product *= all[i].ratio(places[all[i].hole].Sub(places[centre]), e)
			}
			sum += product
		}
		return min(0, math.Log(sum/float64(turns)/most))
	}
}

// ratio returns how much denser it is that the hole lies at off from the middle
// of the part, whose long side runs along e, than the fit has it.
func (c *contact) ratio(off, e geo.Vec) float64 {
	square := off.Dot(off)
	if square > apart*apart*c.Sigma*c.Sigma {
		return 1
	}
	return practice.StrayHit + (1-practice.StrayHit)*c.Density(off.Dot(e), e.Cross(off))/c.Gaussian(square)
}
