package geo

import (
	"fmt"
	"math"
)

// Clock writes an angle clockwise from where an observer faces as the time on the
// face of a clock whose 12 is there, to the half hour: 75° is 2:30.
func Clock(a Angle) string {
	halves := int(math.Mod(math.Round(a.Degrees()/15), 24)+24) % 24
	hour := halves / 2
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d:%02d", hour, halves%2*30)
}
