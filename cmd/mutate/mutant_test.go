package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The changes of a few lines, by hand: what is text, storage, printed, a guard
// against rounding or infinite is left alone.
func TestChanges(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.go")
	require.NoError(t, os.WriteFile(name, []byte(`package a

func f(x, y float64) (string, bool) {
	s := make([]float64, 2*9)
	s[0] -= x * 2.5
	fmt.Println(1 + 2)
	least := math.Inf(1)
	return "a" + "b", !(x < -y) && y > 1e-9
}
`), 0o600))
	all, err := mutants([]string{name})
	require.NoError(t, err)
	var what []string
	for _, m := range all {
		what = append(what, m.what)
	}
	assert.ElementsMatch(t, []string{"0 → 1", "-= → +=", "* → /", "2.5 → 5", "! → nothing", "< → >=", "- → nothing", "&& → ||", "> → <="}, what)
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	for _, m := range all {
		assert.Equal(t, m.what, string(text[m.from:m.to])+" → "+map[bool]string{true: "nothing", false: m.with}[m.with == ""])
	}
	some := choose(all, 2, 1)
	require.Len(t, some, 2)
	assert.NotEqual(t, some[0].line, some[1].line)
	assert.Equal(t, some, choose(all, 2, 1), "the same seed tries the same")
	assert.Len(t, choose(all, 0, 1), len(all))
}
