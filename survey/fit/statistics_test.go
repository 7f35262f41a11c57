package fit

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// chi-square tails against critical values that SciPy and R agree on.
func TestChiSquareTail(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "stats_critical.csv"))
	require.NoError(t, err)
	seen := 0
	for line := range strings.Lines(string(b)) {
		f := strings.Split(line, ",")
		if f[0] != "chi2_quantile" {
			continue
		}
		var n, p, x float64
		require.NoError(t, json.Unmarshal([]byte("["+f[1]+","+f[3]+","+f[4]+"]"), &[]any{&n, &p, &x}))
		assert.InDelta(t, 1-p, chiSquareTail(x, n), 1e-8)
		seen++
	}
	assert.Greater(t, seen, 100)
}
