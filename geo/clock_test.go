package geo_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
)

// The hour hand of a clock turns by 30° an hour.
func TestClock(t *testing.T) {
	for degrees, want := range map[float64]string{0: "12:00", 7: "12:00", 8: "12:30", 15: "12:30", 75: "2:30", 90: "3:00", 180: "6:00", 351: "11:30", 353: "12:00", -90: "9:00", -15: "11:30", 735: "12:30", -719: "12:00"} {
		assert.Equal(t, want, geo.Clock(geo.Degrees(degrees)), "%v", degrees)
	}
}
