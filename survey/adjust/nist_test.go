package adjust_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/adjust"
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

// NIST Statistical Reference Datasets, linear regression: certified estimates,
// standard deviations and residual sums of squares. Nine digits, or as many as
// the data allow in double precision: Filip (degree 10, condition 1e15) and
// the sums of squares of the fits that are all but exact lose some.
func TestNISTLinear(t *testing.T) {
	var sets []struct {
		Name      string
		X, Y      json.RawMessage
		Certified struct {
			B, SD json.RawMessage
			SSR   float64
		}
	}
	reference(t, "nist_linear.json", &sets)
	least := map[string]float64{"Filip": 6.5, "Longley": 9, "Norris": 11, "Pontius": 10, "NoInt1": 12, "NoInt2": 12, "Wampler1": 8, "Wampler2": 9}
	seen := 0
	for _, s := range sets {
		want, known := least[s.Name]
		require.True(t, known, s.Name)
		t.Run(s.Name, func(t *testing.T) {
			a, y := design(t, s.Name, s.X, s.Y)
			r, err := adjust.Linear(a, y, nil)
			require.NoError(t, err)
			worst := 16.0
			b := floats(t, s.Certified.B)
			require.Len(t, r.X, len(b))
			for i, v := range b {
				worst = math.Min(worst, digits(r.X[i], v))
			}
			assert.GreaterOrEqual(t, worst, want, "digits of the estimates")
			if s.Certified.SSR > 1e-6 {
				s2 := r.SSR / float64(r.Redundancy)
				sd := 16.0
				for i, v := range floats(t, s.Certified.SD) {
					sd = math.Min(sd, digits(math.Sqrt(s2*r.Cofactor[i][i]), v))
				}
				assert.GreaterOrEqual(t, sd, want-0.5, "digits of the standard deviations")
				assert.GreaterOrEqual(t, digits(r.SSR, s.Certified.SSR), want, "digits of the sum of squares")
			}
			t.Logf("%.1f digits", worst)
		})
		seen++
	}
	assert.GreaterOrEqual(t, seen, 8)
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

func TestLinearRefusesWhatIsNotDetermined(t *testing.T) {
	_, err := adjust.Linear([][]float64{{1, 2}}, []float64{1}, nil)
	assert.ErrorIs(t, err, adjust.ErrRank)
	_, err = adjust.Linear([][]float64{{1, 2}, {2, 4}, {3, 6}}, []float64{1, 2, 3}, nil)
	assert.ErrorIs(t, err, adjust.ErrRank)
	_, err = adjust.Linear(nil, nil, nil)
	assert.ErrorIs(t, err, adjust.ErrRank)
}
