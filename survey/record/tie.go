package record

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// tied fills in how a spot is set out from the landmarks.
func (s *Spot) tied(l *locate.Location, of *locate.Spot, marks *setout.Marks) {
	f, ok := marks.Fix(of.At)
	if !ok {
		return
	}
	s.Side, s.Crossing = f.Side, f.Crossing
	for _, t := range f.Ties {
		if m := l.Spot(t.From, asbuilt.Center); m != nil {
			s.Ties = append(s.Ties, tie(m, of))
		}
	}
}

// tie returns the tie from a landmark to a spot. Its standard deviation treats
// landmark and spot as independent, which makes it too large rather than too
// small: readings from a landmark tie the two together.
func tie(m, s *locate.Spot) Tie {
	bearing := geo.Bearing(m.At, s.At)
	return Tie{From: m.Part, Distance: m.At.Dist(s.At), Sigma: math.Hypot(along(m.FromLandmarks, bearing), along(s.FromLandmarks, bearing))}
}

// along returns the standard deviation in metres, in a direction, of a point
// with the given 95 % ellipse.
func along(e geo.Ellipse, direction geo.Angle) float64 {
	sin, cos := math.Sincos(direction.Radians() - e.Bearing.Radians())
	return math.Hypot(e.SemiMajor*cos, e.SemiMinor*sin) / geo.Within95
}

// winds and ways name eight directions, from up clockwise.
var (
	winds = [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	ways  = [8]string{"up", "up and right", "right", "down and right", "down", "down and left", "left", "up and left"}
)

// toward returns the direction from one place to another in words: of the
// compass, or of the sheet where north is not known. It is empty where the two
// are the same to the centimetre.
func toward(from, to geo.Vec, north bool) string {
	if !(from.Dist(to) >= 0.01) {
		return ""
	}
	i := int(math.Round(geo.Bearing(from, to).Degrees()/45)) % 8
	if north {
		return winds[i]
	}
	return ways[i] + " on the sheet"
}
