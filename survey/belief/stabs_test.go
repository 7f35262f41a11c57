package belief

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
)

// However many stabs a row has, and whatever they felt, it cannot rule a place out by
// more than that 1 row in 100 is wrong as a whole, and no probability is above 1; a
// row without contact is no likelier with one stab more.
func TestARowRulesNothingOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) geo.Vec {
			return geo.Vec{X: rapid.Float64Range(-2, 2).Draw(t, name+"x"), Y: rapid.Float64Range(-2, 2).Draw(t, name+"y")}
		}
		places := []geo.Vec{at("from"), at("to"), at("box"), at("a"), at("b")}
		shift := []float64{rapid.Float64Range(-4, 4).Draw(t, "hits"), rapid.Float64Range(-4, 4).Draw(t, "stones")}
		deep := func([]float64) float64 { return 1 }
		s := stabs{rates: rates{Rodding: survey.Rodding{Hits: rapid.Float64Range(0.1, 0.999).Draw(t, "rate"), Stones: rapid.Float64Range(0.001, 0.1).Draw(t, "stony")}},
			from: 0, to: 1, number: rapid.IntRange(1, 99).Draw(t, "stabs"), radius: 0.02, none: rapid.Bool().Draw(t, "none"), plain: rapid.Bool().Draw(t, "plain"),
			may: []felt{{Body: encounter.Body{Reach: 0.34, Out: 0.08}, Places: encounter.Places{Centre: 2}, deep: deep, plain: true},
				{Body: encounter.Pipe(), Places: encounter.Places{Vertices: []int{3, 4}}, deep: deep}}}
		p := s.likely(places, shift)
		assert.GreaterOrEqual(t, p, math.Log(0.005)-1e-12)
		assert.LessOrEqual(t, p, 1e-12)
		if s.none && s.number == 1 {
			twice := s
			twice.to, twice.number = 0, 2
			assert.LessOrEqual(t, twice.likely(places, shift), p+1e-12)
		}
	})
}
