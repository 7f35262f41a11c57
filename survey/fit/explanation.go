package fit

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// Explanation is one way to resolve what the log and the sheet leave open: what
// is wrong with the sheet, which part a hole met where the crew could not tell,
// on which side of two tapes a hole lies, which readings hold a blunder.
type Explanation struct {
	observe.Explanation
	Fault  drawing.Hypothesis
	turned map[string]bool // point name → the other crossing of its tapes
	prior  float64         // logarithm of the odds of what Met supposes
}

// with returns the explanation with one more hole's part settled, one of so many.
func (e Explanation) with(reading, part string, of int) Explanation {
	e.Met = put(e.Met, reading, part)
	e.prior -= math.Log(float64(of))
	return e
}

// turn returns the explanation with one more point on the other side of its tapes.
func (e Explanation) turn(point string) Explanation {
	e.turned = put(e.turned, point, true)
	return e
}

// blundered returns the explanation with a blunder in one more reading.
func (e Explanation) blundered(b *observe.Blunder) Explanation {
	e.Blunders = put(e.Blunders, b.Reading, b)
	if b.Met != "" {
		e.Met = put(e.Met, b.Reading, b.Met)
	}
	return e
}

// without returns the explanation without readings that are left to the belief.
func (e Explanation) without(l *observe.Log, left map[string]bool) Explanation {
	met := map[string]string{}
	for i := range l.Readings {
		r := &l.Readings[i]
		part, ok := e.Met[r.ID]
		if !ok {
			continue
		}
		if !left[r.ID] {
			met[r.ID] = part
		} else if l.Unnamed(r) {
			e.prior += math.Log(float64(len(l.Lines(r))))
		}
	}
	e.Met, e.Without = met, left
	return e
}

// Key returns a text that two explanations share where they read sheet and log
// alike.
func (e Explanation) Key() string {
	var blunders []string
	for _, id := range slices.Sorted(maps.Keys(e.Blunders)) {
		blunders = append(blunders, id+" "+e.Blunders[id].Cause.Key()+" "+e.Blunders[id].Instead)
	}
	return fmt.Sprint(e.Fault, e.Met, e.turned, blunders)
}

// put returns a copy of m with one more entry.
func put[V any](m map[string]V, k string, v V) map[string]V {
	c := map[string]V{}
	maps.Copy(c, m)
	c[k] = v
	return c
}
