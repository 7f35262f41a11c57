package entry_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
)

// One phone traced the sketch anew while another logged holes on the old one:
// what does not fit is set aside by name, the rest is the job.
func TestReadSetsAside(t *testing.T) {
	drawn := reading(id3, sketch[:len(sketch)-2]+"]}")
	drawn.Kind = entry.KindSketch
	add := func(n string, body string) entry.Entry { return reading(id1[:25]+n, body) }
	j := entry.Fold([]entry.Entry{drawn,
		add("1", `{"kind": "tape", "from": "A", "to": "B", "value": "40", "note": "two\nlines"}`),
		add("2", `{"kind": "found", "point": "H1", "target": "L9", "depth": "2"}`),
		add("3", `{"kind": "void", "target": "01JX4W8Z0K3V5T7Q9R2B4D6F82"}`),
		add("4", `{"kind": "found", "point": "H2", "target": "L1", "depth": "2"}`),
	})[job]
	got, aside := j.Read()
	require.NotNil(t, got)
	var ids []string
	for _, r := range got.Readings {
		ids = append(ids, r.ID)
	}
	assert.Equal(t, []string{id1[:25] + "1", id1[:25] + "4"}, ids)
	require.Len(t, aside, 2)
	assert.Equal(t, `reading "01JX4W8Z0K3V5T7Q9R2B4D6F82"`, aside[0].Place)
	assert.Contains(t, aside[0].String(), `found "L9"; want a part of the sketch`)
	assert.Equal(t, `reading "01JX4W8Z0K3V5T7Q9R2B4D6F83"`, aside[1].Place)
	assert.Len(t, j.Rows, 4, "nothing is taken from the job itself")
}

// The scan of a sketch may arrive after the sketch.
func TestReadWithoutScan(t *testing.T) {
	drawn := reading(id3, `{"type": "FeatureCollection", "sketch": {"scan": "scan.png", `+sketch[len(`{"type": "FeatureCollection", "sketch": {`):])
	drawn.Kind = entry.KindSketch
	got, aside := entry.Fold([]entry.Entry{drawn})[job].Read()
	require.NotNil(t, got)
	require.Len(t, aside, 1)
	assert.Contains(t, aside[0].String(), `sketch.scan: found "scan.png"`)
}

func TestReadWithoutSketch(t *testing.T) {
	got, problems := entry.Fold([]entry.Entry{reading(id1, `{"kind": "void", "target": "r1"}`)})[job].Read()
	assert.Nil(t, got)
	assert.ErrorContains(t, problems.Err(), "no such file")
}
