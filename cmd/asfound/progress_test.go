package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProgressStaysOffPipes wants nothing of the bar where stderr is a file, a
// pipe or no file at all, however long the work takes.
func TestProgressStaysOffPipes(t *testing.T) {
	name := filepath.Join(t.TempDir(), "stderr")
	f, err := os.Create(name)
	require.NoError(t, err)
	p := watch(f, 3)
	p.step("fit")
	time.Sleep(patience + 300*time.Millisecond)
	p.step("draw")
	p.done()
	require.NoError(t, f.Close())
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Empty(t, string(text))

	var b bytes.Buffer
	p = watch(&b, 1)
	p.step("fit")
	p.done()
	assert.Empty(t, b.String())
}
