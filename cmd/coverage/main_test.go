package main

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/simulate"
)

func TestWhatCannotBeRunIsRefused(t *testing.T) {
	for _, args := range [][]string{{"-sites", "1"}, {"-part", "depths"}, {"-part", ""}, {"-lots", "4"}} {
		assert.Error(t, run(args, io.Discard, io.Discard), strings.Join(args, " "))
	}
}

// However many cells are tried at once, the numbers and their order are the
// same.
func TestWorkersDoNotMatter(t *testing.T) {
	cells := simulate.Clean()[:4]
	var want []row
	for _, workers := range []int{1, 3} {
		s := study{sites: 2, workers: workers, progress: io.Discard}
		got, err := s.cover("clean", cells)
		require.NoError(t, err)
		if want == nil {
			want = got
		}
		assert.Equal(t, want, got)
	}
	assert.Equal(t, []int{0, 1, 2, 3}, []int{want[0].Holes, want[1].Holes, want[2].Holes, want[3].Holes})
}

func TestReportReadsAsTableAndJSON(t *testing.T) {
	s := study{sites: 2, workers: 1, progress: io.Discard}
	rows, err := s.cover("clean", simulate.Clean()[:2])
	require.NoError(t, err)
	r := report{Sites: 2, Clean: rows}
	var table bytes.Buffer
	p := &printer{w: &table}
	r.print(p)
	require.NoError(t, p.err)
	assert.Contains(t, table.String(), "to-scale      tapes        0")
	b, err := json.Marshal(r)
	require.NoError(t, err, "no NaN")
	var back report
	require.NoError(t, json.Unmarshal(b, &back))
	assert.Equal(t, rows[1].Spots, back.Clean[1].Spots)
}

// The marks of the table: outside by chance, and surely.
func TestMark(t *testing.T) {
	assert.Equal(t, " ", mark(share{0.95, 0.01, 100}, 0.93, 0.97))
	assert.Equal(t, "?", mark(share{0.92, 0.01, 100}, 0.93, 0.97))
	assert.Equal(t, "*", mark(share{0.90, 0.01, 100}, 0.93, 0.97))
}
