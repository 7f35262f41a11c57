package plot

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/finding"
	"asfound/survey/probe"
	"asfound/survey/rehearse"
)

// The picture says how many holes to expect and what a reading would buy; bars
// beyond the thirtieth are put into it, and plays given up have one of their
// own.
func TestRehearsal(t *testing.T) {
	loc := invent(invention{})
	count := make([]int, 45)
	count[0], count[1], count[44] = 500, 300, 150
	r := &rehearse.Rehearsal{Seek: "box", Plays: 1000, Found: 0.95, Count: count,
		Holes: rehearse.Spread{Median: 2, Mean: 9.1, P90: 45}, Minutes: rehearse.Spread{Median: 60, Mean: 200, P90: 900},
		Offers: []rehearse.Offer{{What: "a tape from landmark A to landmark C", Radius: rehearse.Change{Before: 2, After: 1.5}, Holes: rehearse.Change{Before: 9.1, After: 7.2}}},
		Plan:   &probe.Plan{Cautions: []finding.Finding{finding.Utilities.New()}}}
	d, err := Rehearsal(loc, r, MapOptions{})
	require.NoError(t, err)
	var b strings.Builder
	require.NoError(t, d.Pages[0].WriteSVG(&b))
	for _, want := range []string{"in 1000 plays", "the mean is 9.1", "30+", "given up after", "a tape from landmark A", "7.2", "call 811"} {
		assert.Contains(t, b.String(), want)
	}

	r = &rehearse.Rehearsal{Seek: "box", Remark: []finding.Finding{finding.NowhereToDig.New(finding.Parts("box"))}}
	d, err = Rehearsal(loc, r, MapOptions{})
	require.NoError(t, err)
	b.Reset()
	require.NoError(t, d.Pages[0].WriteSVG(&b))
	assert.Contains(t, b.String(), "under a building")

	_, err = Rehearsal(nil, r, MapOptions{})
	require.Error(t, err)
}
