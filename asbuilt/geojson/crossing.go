package geojson

import (
	"fmt"
	"strings"

	"github.com/peterstace/simplefeatures/geom"
	gogeom "github.com/twpayne/go-geom"
	"github.com/twpayne/go-geom/xy/lineintersector"
)

// crossing words an error of simplefeatures' Validate and says where the fault
// is. Of a ring that crosses itself Validate only knows where the ring starts,
// so the first crossing is looked for here.
func crossing(rings []geom.LineString, err error) string {
	for _, r := range rings {
		if place, ok := selfCrossing(r); ok {
			return "a ring that crosses or touches itself at or near " + place
		}
	}
	what := "rings that cross or touch each other, or lie outside the first"
	if _, place, ok := strings.Cut(err.Error(), "at or near {"); ok {
		place, _, _ = strings.Cut(place, "}")
		what += ", at or near [" + strings.ReplaceAll(place, " ", ", ") + "]"
	}
	return what
}

// selfCrossing returns where a closed ring first meets itself, other than at
// the vertices that join its sides.
func selfCrossing(ring geom.LineString) (place string, ok bool) {
	c := ring.Coordinates()
	n := c.Length() - 1
	v := make([]gogeom.Coord, n+1)
	for i := range v {
		p := c.GetXY(i)
		v[i] = gogeom.Coord{p.X, p.Y}
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			r := lineintersector.LineIntersectsLine(lineintersector.RobustLineIntersector{}, v[i], v[i+1], v[j], v[j+1])
			at := r.Intersection()
			neighbours := j == i+1 || i == 0 && j == n-1
			if len(at) > 1 || len(at) == 1 && !neighbours {
				return fmt.Sprintf("[%.10g, %.10g]", at[0][0], at[0][1]), true
			}
		}
	}
	return "", false
}
