package browser

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// allRows returns all readings of the browser as the log has them, each with its id.
func (b *tab) allRows() (rows []map[string]string) {
	b.t.Helper()
	var all [][2]json.RawMessage
	require.NoError(b.t, json.Unmarshal([]byte(b.rows()), &all))
	for _, e := range all {
		var id string
		var row map[string]string
		require.NoError(b.t, json.Unmarshal(e[0], &id))
		require.NoError(b.t, json.Unmarshal(e[1], &row))
		if row["id"] == "" {
			row["id"] = id
		}
		rows = append(rows, row)
	}
	return rows
}

// TestFollowed logs two holes on a pipe that the sketch does not have, then that it
// was followed from the one to the other: the row reaches the log in words, and the
// app shows what the engine believes with it.
func TestFollowed(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	for range 2 {
		b.settled()
		b.press("Log a hole")
		b.press("A pipe, not sure which")
		b.press("Save without depth")
		b.sees("Undo")
	}
	b.settled()
	before := b.radius()
	var holes []string
	for _, r := range b.logged("found")[len(b.logged("found"))-2:] {
		holes = append(holes, r["point"])
	}
	require.Len(t, holes, 2)

	b.press("Measure")
	b.press("a pipe followed")
	b.fill("Followed from", holes[1])
	b.sees("From and to are one hole")
	b.fill("Followed from", holes[0])
	b.fill("to", holes[1])
	b.fill("What was followed", "header")
	b.sees("without a break")
	b.look("phone-followed")
	b.press("Save")
	b.sees("Undo")
	b.settled()
	rows := b.logged("followed")
	require.Len(t, rows, 1)
	assert.Equal(t, []string{holes[0], holes[1], "header"}, []string{rows[0]["from"], rows[0]["to"], rows[0]["target"]})
	assert.NotContains(t, b.text(), "left out")

	const demo = "../../testdata/sites/demo"
	all := b.allRows()
	want := believed(t, demo, all)
	require.Empty(t, want.Problems)
	assert.InDelta(t, float64(want.Sought.Radius95), b.radius(), 1e-6)
	assert.NotEqual(t, before, b.radius(), "it says something")
	without := slices.DeleteFunc(slices.Clone(all), func(r map[string]string) bool { return r["kind"] == "followed" })
	assert.InDelta(t, before, float64(believed(t, demo, without).Sought.Radius95), 1e-6)

	words := "followed a pipe from " + holes[0] + " to " + holes[1]
	b.press("More")
	b.sees(words)
	b.press("withdraw: " + words)
	b.press("Yes, withdraw it")
	b.sees("withdrawn")
	b.press("Back")
	assert.InDelta(t, before, b.radius(), 1e-6, "as before")
	assert.Empty(t, b.log, "exceptions")
}
