package question

import (
	"math"
	"regexp"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
)

// How far a depth may be from what is expected. Judgement, no published source.
const (
	shallow = 0.6  // metres: less is not asked about
	deepest = 6.0  // metres: nothing of a dispersal field is dug for that deep by a crew with a shovel
	deeper  = 1.5  // metres below everything that is sought: an empty hole so deep is asked about
	scratch = 0.15 // metres: an empty hole so shallow says nothing
	unlike  = 0.6  // metres between the top of a thing and its bottom
)

// inchesLeft matches feet without inches, as a keypad writes a figure that was meant
// for inches: 47'0".
var inchesLeft = regexp.MustCompile(`^(\d+)'0"$`)

// wholeFeet writes such a figure as the one figure that it is.
func wholeFeet(written string) string {
	return inchesLeft.ReplaceAllString(written, "$1 ft")
}

// depth asks about a depth that is far from all that is known of depths here.
func (a *asked) depth(r *survey.Reading) {
	if r.Depth == nil {
		return
	}
	switch r.Kind {
	case survey.Found:
		a.met(r)
	case survey.Empty:
		a.empty(r)
	}
}

// met asks about the depth of what a hole met.
func (a *asked) met(r *survey.Reading) {
	found, near := false, math.Inf(1)
	expected := 0.0
	fits := func(d float64) bool {
		for i := range a.l.Spots {
			s := &a.l.Spots[i]
			if s.Depth == nil || s.Part != r.Target && string(s.Kind) != r.Target {
				continue
			}
			found = true
			allowed := max(shallow, surely*s.Depth.Sigma)
			if f := r.Feature; f != "" && f != s.Depth.Feature {
				allowed += unlike
			}
			off := math.Abs(d - s.Depth.Mean)
			if off < near {
				near, expected = off, s.Depth.Mean
			}
			if off <= allowed {
				return true
			}
		}
		return false
	}
	if d := r.Depth.Metres; fits(d) && d <= deepest || !found && d <= deepest {
		return
	}
	a.far(r, expected, found, func(l geo.Length) bool { return fits(l.Metres) && l.Metres <= deepest })
}

// empty asks about how deep a hole was empty: far below everything, or hardly
// begun and not stopped by anything.
func (a *asked) empty(r *survey.Reading) {
	lowest := 0.0
	for i := range a.l.Spots {
		if d := a.l.Spots[i].Depth; d != nil {
			lowest = max(lowest, d.Mean+2*d.Sigma)
		}
	}
	usual := func(d float64) bool { return (d >= scratch || r.Stopped != "") && d <= min(deepest, lowest+deeper) }
	if lowest == 0 || usual(r.Depth.Metres) {
		return
	}
	a.far(r, lowest, r.Depth.Metres > lowest, func(l geo.Length) bool { return usual(l.Metres) })
}

// far asks about a depth, with what it may have been meant as and with what was
// expected, where there is either.
func (a *asked) far(r *survey.Reading, expected float64, known bool, fits func(geo.Length) bool) {
	read := finding.Number("read", r.Depth.Metres)
	meant := a.meant(r.Depth, fits)
	switch {
	case meant != "" && known:
		a.add(finding.DepthFarMeant.New(read, finding.Number("fitted", expected), finding.Word("amount", meant)))
	case meant != "":
		a.add(finding.DepthOddMeant.New(read, finding.Word("amount", meant)))
	case known:
		a.add(finding.DepthFar.New(read, finding.Number("fitted", expected)))
	default:
		a.add(finding.DepthOdd.New(read))
	}
}
