package survey

import "asfound/asbuilt/practice"

// Rodding is how far a crew can rely on its probe rod.
type Rodding struct {
	Hits   float64 // chance that a stab over a part, and deep enough, feels it
	Stones float64 // chance that a stab elsewhere feels something hard
}

// Rodding returns the job's, or what is usual where it does not say.
func (s Settings) Rodding() Rodding {
	if s.Rod != nil {
		return *s.Rod
	}
	return Rodding{Hits: practice.RodHits, Stones: practice.RodStones}
}
