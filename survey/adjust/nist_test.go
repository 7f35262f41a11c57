package adjust_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func reference(t *testing.T, name string, to any) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, to))
}

// digits returns how many significant digits of a computed number are right:
// the log relative error that NIST suggests for StRD.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	if want == 0 {
		return -math.Log10(math.Abs(got))
	}
	return math.Min(16, -math.Log10(math.Abs(got-want)/math.Abs(want)))
}

func floats(t *testing.T, raw json.RawMessage) []float64 {
	var many []float64
	if json.Unmarshal(raw, &many) == nil {
		return many
	}
	var one float64
	require.NoError(t, json.Unmarshal(raw, &one))
	return []float64{one}
}

// design builds the matrix of a NIST model from its name.
func design(t *testing.T, name string, rawX, rawY json.RawMessage) (a [][]float64, y []float64) {
	y = floats(t, rawY)
	var table [][]float64
	if json.Unmarshal(rawX, &table) == nil && len(table) > 0 { // several predictors
		for _, row := range table {
			a = append(a, append([]float64{1}, row...))
		}
		return a, y
	}
	degree, first := 1, 0
	switch name {
	case "Filip":
		degree = 10
	case "Pontius":
		degree = 2
	case "Wampler1", "Wampler2":
		degree = 5
	case "NoInt1", "NoInt2":
		first = 1
	}
	for _, x := range floats(t, rawX) {
		var row []float64
		for p := first; p <= degree; p++ {
			row = append(row, math.Pow(x, float64(p)))
		}
		a = append(a, row)
	}
	return a, y
}
