package geodesy

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// record is one row of a file of testdata/reference, by column name.
type record map[string]string

func (r record) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, "column %s", column)
	return v
}

func (r record) position(t *testing.T, lon, lat string) LonLat {
	t.Helper()
	p, err := New(r.number(t, lon), r.number(t, lat))
	require.NoError(t, err)
	return p
}

// reference reads a file of testdata/reference; the notes at its head say
// where its values come from. It fails where there are fewer rows than wanted,
// so that a test cannot pass on an emptied file.
func reference(t *testing.T, name string, atLeast int) []record {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	var records []record
	for _, row := range rows[1:] {
		rec := record{}
		for i, column := range rows[0] {
			rec[column] = row[i]
		}
		records = append(records, rec)
	}
	require.GreaterOrEqual(t, len(records), atLeast)
	return records
}
