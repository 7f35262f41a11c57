package geo

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The figures of a length: what swapping neighbouring digits, inches for tenths,
// and another unit make of it.
func TestFigures(t *testing.T) {
	texts := func(all []Length) string {
		var s []string
		for _, l := range all {
			s = append(s, l.Written)
		}
		return strings.Join(s, "; ")
	}
	assert.Equal(t, "63.2; 32.6", texts(DigitsSwapped("36.2", Foot)))
	assert.Equal(t, `84' 5"`, texts(DigitsSwapped(`48' 5"`, Foot)), "feet and inches are two numbers")
	assert.Empty(t, DigitsSwapped("44", Foot))
	assert.Equal(t, `12' 6"`, texts(TenthsForInches("12.6", Foot)))
	assert.Equal(t, `12' 11"`, texts(TenthsForInches("12.11", Foot)))
	assert.Equal(t, "12.6 ft", texts(TenthsForInches(`12' 6"`, Foot)))
	assert.Empty(t, TenthsForInches("12.6", Metre))
	assert.Empty(t, TenthsForInches("12.75", Foot))

	assert.Equal(t, "47 in; 47 cm; 47 m", texts(OtherUnits("47", Foot)))
	assert.Equal(t, "47 ft; 47 cm; 47 m", texts(OtherUnits(`47"`, Inch)))
	assert.Equal(t, "1.2 ft; 1.2 in; 1.2 cm", texts(OtherUnits("1.2 m", Metre)))
	assert.InDelta(t, 47*0.0254, OtherUnits("47", Foot)[0].Metres, 1e-12) // 1 in = 25.4 mm, by definition
	assert.Empty(t, OtherUnits(`3' 11"`, Foot), "two figures name their units")
	assert.Empty(t, OtherUnits("47", Pixel))
}
