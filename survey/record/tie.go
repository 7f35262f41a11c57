package record

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
)

const (
	k95     = 2.4477468306808166 // semi-axis of a 95 % ellipse over its standard deviation, √(−2 ln 0.05)
	reach   = 30.48              // metres, 100 ft: a longer tape is a nuisance. Common practice, no published source
	tooNear = 0.5                // metres: a tape so short fixes no direction
)

// tape is the standard deviation in metres of a tape of d metres: 0.1 ft in 50
// ft held level by two people (common practice, no published source).
func tape(d float64) float64 { return math.Hypot(0.03, 0.002*d) }

// reference returns the landmarks that new ties may run from: those that the
// readings refer to, or all where there are no two of them.
func reference(l *locate.Location) []locate.Spot {
	var all, some []locate.Spot
	for _, s := range l.Spots {
		if s.Kind != asbuilt.Landmark {
			continue
		}
		all = append(all, s)
		if l.Posterior != nil && l.Posterior.Refers(s.Part) {
			some = append(some, s)
		}
	}
	if len(some) >= 2 {
		return some
	}
	return all
}

// ties returns the two landmarks whose tapes fix a spot best, and the nearest
// of the others as a check. Two circles cross best at a right angle: the error
// of the place is that of the tapes over the sine of the angle (Ghilani & Wolf,
// Adjustment Computations, error propagation).
func ties(s *locate.Spot, marks []locate.Spot) (list []Tie, side string, crossing geo.Angle) {
	best := math.Inf(1)
	var a, b *locate.Spot
	for i := range marks {
		for j := range i {
			u, v := marks[j].At.Sub(s.At), marks[i].At.Sub(s.At)
			du, dv := u.Norm(), v.Norm()
			if du < tooNear || dv < tooNear {
				continue
			}
			sin := math.Min(1, math.Abs(u.Cross(v))/(du*dv))
			cost := math.Hypot(tape(du), tape(dv)) / math.Max(sin, 1e-3)
			if max(du, dv) > reach {
				cost *= 3
			}
			if cost < best {
				best, a, b, crossing = cost, &marks[j], &marks[i], geo.Radians(math.Asin(sin))
			}
		}
	}
	if a == nil {
		return nil, "", geo.Angle{}
	}
	if a.Part > b.Part {
		a, b = b, a
	}
	list = []Tie{tie(a, s), tie(b, s)}
	side = Side(a, b, s.At)
	var others []*locate.Spot
	for i := range marks {
		if m := &marks[i]; m.Part != a.Part && m.Part != b.Part && m.At.Dist(s.At) >= tooNear {
			others = append(others, m)
		}
	}
	slices.SortStableFunc(others, func(x, y *locate.Spot) int { return cmp.Compare(x.At.Dist(s.At), y.At.Dist(s.At)) })
	if len(others) > 0 {
		list = append(list, tie(others[0], s))
	}
	return list, side, crossing
}

// Side says on which side of two landmarks a place lies, since two tapes cross
// on both: "right of the line from A to B".
func Side(a, b *locate.Spot, at geo.Vec) string {
	side := "left"
	if _, offset := geo.AlongAcross(a.At, b.At, at); offset > 0 {
		side = "right"
	}
	return fmt.Sprintf("%s of the line from %s to %s", side, a.Part, b.Part)
}

// tie returns the tie from a landmark to a spot. Its standard deviation takes
// landmark and spot for independent, which makes it rather too large than too
// small: readings from a landmark tie the two together.
func tie(m, s *locate.Spot) Tie {
	bearing := geo.Bearing(m.At, s.At)
	return Tie{m.Part, m.At.Dist(s.At), math.Hypot(along(m.FromLandmarks, bearing), along(s.FromLandmarks, bearing))}
}

// along returns the standard deviation in metres, in a direction, of a point
// with the given 95 % ellipse.
func along(e geo.Ellipse, direction geo.Angle) float64 {
	sin, cos := math.Sincos(direction.Radians() - e.Bearing.Radians())
	return math.Hypot(e.SemiMajor*cos, e.SemiMinor*sin) / k95
}

// winds and ways name eight directions, from up clockwise.
var (
	winds = [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	ways  = [8]string{"up", "up and right", "right", "down and right", "down", "down and left", "left", "up and left"}
)

// toward returns the direction from one place to another in words: of the
// compass, or of the sheet where nothing tells north. It is empty where the two
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
