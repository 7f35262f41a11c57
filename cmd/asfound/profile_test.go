package main

import (
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProfiles expects both profiles of a run, in the form that go tool pprof
// reads: a gzip stream (github.com/google/pprof, proto/profile.proto).
func TestProfiles(t *testing.T) {
	cpu, memory := filepath.Join(t.TempDir(), "cpu"), filepath.Join(t.TempDir(), "memory")
	out := &strings.Builder{}
	code := Run(t.Context(), []string{"--cpuprofile", cpu, "--memprofile=" + memory, "check", "../../testdata/sites/demo"}, strings.NewReader(""), out, io.Discard)
	require.Equal(t, Done, code)
	assert.Contains(t, out.String(), "no problems")
	for _, name := range []string{cpu, memory} {
		f, err := os.Open(name)
		require.NoError(t, err)
		z, err := gzip.NewReader(f)
		require.NoError(t, err)
		text, err := io.ReadAll(z)
		require.NoError(t, err)
		assert.NotEmpty(t, text)
		require.NoError(t, f.Close())
	}
	for _, args := range [][]string{{"--cpuprofile"}, {"--memprofile=", "check"}} {
		assert.Equal(t, Misused, Run(t.Context(), args, strings.NewReader(""), io.Discard, io.Discard), "%v", args)
	}
	assert.Equal(t, Refused, Run(t.Context(), []string{"--cpuprofile", t.TempDir(), "check"}, strings.NewReader(""), io.Discard, io.Discard), "a folder")
}

// TestVersion holds that the version is what the build recorded and nothing
// else.
func TestVersion(t *testing.T) {
	b := &debug.BuildInfo{GoVersion: "go1.26.3", Main: debug.Module{Version: "v0.2.0"}}
	assert.Equal(t, "v0.2.0 (go1.26.3)", versionOf(b))
	for _, none := range []string{"", "(devel)"} {
		b.Main.Version = none
		assert.Equal(t, unknown, versionOf(b))
	}
}
