package export_test

import (
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo/language"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/rehearse"
)

// Every member is there, lists are lists even where they are empty, and no
// number is NaN or infinite.
func TestRehearsal(t *testing.T) {
	l, plan := quillback(t, false)
	r := &rehearse.Rehearsal{Seek: "box", Plays: 10, Found: 0.9, Count: []int{5, 4}, Plan: plan,
		Holes:  rehearse.Spread{Median: 1, Mean: 7.4, P90: 60},
		Offers: []rehearse.Offer{{Kind: rehearse.Tape, What: "a tape", Radius: rehearse.Change{Before: 2, After: math.NaN()}}}}
	m := parsed(t, text(t, func(w io.Writer) error { return export.RehearsalJSON(w, l, r, language.English) }))
	assert.Equal(t, "box", m["seek"])
	assert.Equal(t, 10.0, m["plays"])
	assert.Equal(t, []any{5.0, 4.0}, m["count"])
	assert.Equal(t, map[string]any{"median": 1.0, "mean": 7.4, "p90": 60.0}, m["holes"])
	one := m["readings"].([]any)[0].(map[string]any)
	assert.Equal(t, "tape", one["kind"])
	assert.Equal(t, 2.0, one["radius95_before"])
	assert.Nil(t, one["radius95_after"])

	m = parsed(t, text(t, func(w io.Writer) error {
		return export.RehearsalJSON(w, l, &rehearse.Rehearsal{Seek: "box", Remark: []finding.Finding{finding.NothingToPlay.New()}}, language.English)
	}))
	assert.Equal(t, []any{}, m["count"])
	assert.Equal(t, []any{}, m["readings"])
	assert.Equal(t, []any{}, m["cautions"])
	assert.Equal(t, "There is nothing to look for.", m["remark"])
}
