package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func say(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

// left lists all files and folders below dir.
func left(t *testing.T, dir string) (names []string) {
	t.Helper()
	require.NoError(t, filepath.WalkDir(dir, func(name string, _ fs.DirEntry, err error) error {
		if name != dir {
			rel, _ := filepath.Rel(dir, name)
			names = append(names, filepath.ToSlash(rel))
		}
		return err
	}))
	return names
}

func TestOutboxWritesAll(t *testing.T) {
	dir := t.TempDir()
	o := &outbox{dir: filepath.Join(dir, "new", "out")}
	o.add("a.txt", say("one"))
	o.add("job/b.txt", say("two"))
	require.NoError(t, o.send())
	assert.Equal(t, []string{"new", "new/out", "new/out/a.txt", "new/out/job", "new/out/job/b.txt"}, left(t, dir))
	text, err := os.ReadFile(filepath.Join(dir, "new", "out", "a.txt"))
	require.NoError(t, err)
	assert.Equal(t, "one", string(text))
	info, err := os.Stat(filepath.Join(dir, "new", "out", "a.txt"))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o644), info.Mode())

	o = &outbox{dir: o.dir}
	o.add("a.txt", say("three"))
	require.NoError(t, o.send(), "a second run writes over the first")
	text, err = os.ReadFile(filepath.Join(dir, "new", "out", "a.txt"))
	require.NoError(t, err)
	assert.Equal(t, "three", string(text))
}

// TestOutboxWritesNone expects nothing to be left, whatever goes wrong.
func TestOutboxWritesNone(t *testing.T) {
	tests := []struct {
		name    string
		prepare func(t *testing.T, dir string)
		fill    func(o *outbox)
		wants   string
		left    []string
	}{
		{"a file cannot be drawn", nil, func(o *outbox) {
			o.add("a.txt", say("one"))
			o.add("b.txt", func(io.Writer) error { return errors.New("no room for the legend") })
		}, "b.txt: no room for the legend", nil},
		{"a folder has the name of a file", func(t *testing.T, dir string) {
			require.NoError(t, os.MkdirAll(filepath.Join(dir, "out", "b.txt"), 0o755))
		}, func(o *outbox) {
			o.add("a.txt", say("one"))
			o.add("b.txt", say("two"))
		}, "b.txt is a folder", []string{"out", "out/b.txt"}},
		{"a file has the name of the folder", func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "out"), []byte("mine"), 0o644))
		}, func(o *outbox) { o.add("a.txt", say("one")) }, "out is a file", []string{"out"}},
		{"a file cannot be created", nil, func(o *outbox) {
			o.add("a.txt", say("one"))
			o.add("\x00/b.txt", say("two"))
		}, "invalid argument", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			if tt.prepare != nil {
				tt.prepare(t, dir)
			}
			o := &outbox{dir: filepath.Join(dir, "out")}
			tt.fill(o)
			assert.ErrorContains(t, o.send(), tt.wants)
			assert.Equal(t, tt.left, left(t, dir))
		})
	}
}
