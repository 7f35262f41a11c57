//go:build unix

package folder_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey/folder"
)

// Pipes, devices and links that lead nowhere are refused by name, and never waited for.
func TestOnlyFilesAreRead(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "readings.csv"), 0o644))
	require.NoError(t, syscall.Mkfifo(filepath.Join(dir, "lot.gpx"), 0o644))
	require.NoError(t, os.Symlink("/dev/zero", filepath.Join(dir, "job.json")))
	require.NoError(t, os.Symlink("sketch.geojson", filepath.Join(dir, "sketch.geojson")))
	require.NoError(t, os.Symlink(".", filepath.Join(dir, "A.nmea")))
	done := make(chan asbuilt.Problems, 1)
	go func() {
		_, p := folder.Read(os.DirFS(dir))
		done <- p
	}()
	select {
	case problems := <-done:
		var all []string
		for _, p := range problems {
			all = append(all, p.String())
		}
		assert.Equal(t, []string{
			"sketch.geojson: found stat sketch.geojson: too many levels of symbolic links; want a readable file",
			"job.json: found a device; want a readable file",
			"readings.csv: found a named pipe; want a readable file",
			"lot.gpx: found a named pipe; want a readable file",
			"A.nmea: found a folder; want a readable file",
		}, all)
	case <-time.After(5 * time.Second):
		t.Fatal("it waits for somebody who writes to the pipe")
	}
}
