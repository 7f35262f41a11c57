package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProgressStaysOffPipes expects no bar where stderr is a file, a pipe or no
// file at all, however long the work takes.
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

// TestProgress watches the line on a terminal: nothing before patience is over,
// then how far the work has come, and nothing once it is done.
func TestProgress(t *testing.T) {
	terminal := &paper{}
	p := show(terminal, 4, time.Hour)
	p.step("fit")
	assert.Empty(t, terminal.String(), "before patience is over")
	p.done()
	assert.Empty(t, terminal.String())

	p = show(terminal, 4, 0)
	p.step("fit")
	p.step("plan a hole")
	require.Eventually(t, func() bool { return screen(terminal) != "" }, 5*time.Second, time.Millisecond)
	assert.Equal(t, "[=======                       ]  25 % plan a hole", screen(terminal))
	p.share(0.5)
	p.step("draw")
	p.share(2)
	assert.Equal(t, "[======================        ]  75 % draw", screen(terminal))
	p.done()
	p.done()
	p.step("too late")
	assert.Empty(t, screen(terminal))
}

// screen is what a line of a terminal shows after what was written to it: each
// \r (ECMA-48, carriage return) goes back to its start, and what follows
// overwrites what is there.
func screen(terminal *paper) string {
	var line []byte
	for part := range strings.SplitSeq(terminal.String(), "\r") {
		line = append([]byte(part), line[min(len(part), len(line)):]...)
	}
	return strings.TrimRight(string(line), " ")
}
