package survey

import (
	"maps"
	"math"
)

// explanation is one way to read what the log and the sheet leave open: what
// is wrong with the sheet, which part a hole met where the crew could not tell,
// on which side of two tapes a hole lies, which readings hold a slip.
type explanation struct {
	fault  fault
	met    map[string]string // reading id → part id
	turned map[string]bool   // point name → the other crossing of its tapes
	slips  map[string]*slip  // reading id → what is wrong with it
	loose  map[string]bool   // reading id → it is left to the belief
	prior  float64           // logarithm of the odds of what met supposes
}

// with returns the explanation with one more hole's part settled, one of so many.
func (e explanation) with(reading, part string, of int) explanation {
	e.met = put(e.met, reading, part)
	e.prior -= math.Log(float64(of))
	return e
}

// turn returns the explanation with one more point on the other side of its tapes.
func (e explanation) turn(point string) explanation {
	e.turned = put(e.turned, point, true)
	return e
}

// slipped returns the explanation with a slip in one more reading.
func (e explanation) slipped(s *slip) explanation {
	e.slips = put(e.slips, s.reading, s)
	if s.met != "" {
		e.met = put(e.met, s.reading, s.met)
	}
	return e
}

// put returns a copy of m with one more entry.
func put[V any](m map[string]V, k string, v V) map[string]V {
	c := map[string]V{}
	maps.Copy(c, m)
	c[k] = v
	return c
}
