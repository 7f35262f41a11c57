package observe

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
)

// The figures of a length: what swapping neighbouring digits, and inches for
// tenths, make of it.
func TestFigures(t *testing.T) {
	texts := func(all []geo.Length) string {
		var s []string
		for _, l := range all {
			s = append(s, l.Written)
		}
		return strings.Join(s, "; ")
	}
	assert.Equal(t, "63.2; 32.6", texts(transposed("36.2", geo.Foot)))
	assert.Equal(t, `84' 5"`, texts(transposed(`48' 5"`, geo.Foot)), "feet and inches are two numbers")
	assert.Empty(t, transposed("44", geo.Foot))
	assert.Equal(t, `12' 6"`, texts(misread("12.6", geo.Foot)))
	assert.Equal(t, `12' 11"`, texts(misread("12.11", geo.Foot)))
	assert.Equal(t, "12.6 ft", texts(misread(`12' 6"`, geo.Foot)))
	assert.Empty(t, misread("12.6", geo.Metre))
	assert.Empty(t, misread("12.75", geo.Foot))
}
