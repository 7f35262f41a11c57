package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestGenerated holds the generated files to the Go types.
func TestGenerated(t *testing.T) {
	t.Chdir("../..")
	files, err := generate()
	require.NoError(t, err)
	for name, want := range files {
		have, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, string(want) == string(have), "%s is not what the Go types make of it: run go generate ./web", name)
	}
}
