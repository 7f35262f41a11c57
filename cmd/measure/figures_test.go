package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRead reads each kind of figure from the output of such commands.
func TestRead(t *testing.T) {
	times := "goos: linux\nBenchmarkNew/tapes-2   \t  36\t  34123456 ns/op\nBenchmarkNew/tapes-2   \t  36\t  33000000 ns/op\nBenchmarkNew/ties-2 \t 9\t 1200 ns/op\nBenchmarkOther-2 \t 9\t 1 ns/op\n"
	cells := `progress {"clean": [{"trust": "roughly", "mix": "tapes", "holes": 2, "spots": [{"rate": 0.5}, {"rate": 0.8}, {"rate": 0.96, "error": 0.01}]},
		{"trust": "to-scale", "mix": "ties", "holes": 0, "spots": [{"rate": 0.4}, {"rate": 0.7}, {"rate": 0.9, "error": 0.02}]}]}`
	for _, c := range []struct {
		name, printed, want string
		read                func(string) (string, error)
	}{
		{"least of the runs", times, "tapes 33 ms, ties 1.2 µs", perOperation("New")},
		{"ten runs", "real 0.42\nuser 0.30\nsys 0.02\n", "42 ms", wall},
		{"coverage", cells[len("progress "):], "45.0, 75.0 and 93.0 % over 2 cells; the lowest cell of the last 90.0 ± 2.0 % (to-scale ties 0 holes)", coverage("clean")},
		{"table", "says\n| a |\n|---|\n| 1 |\n\n| b |\n", "| a |\n|---|\n| 1 |", table},
		{"lines", "    Norris: 12 digits\n    Filip: 7.6 digits\n", "12 digits, 7.6 digits", lines(`(?m)^ +\S+: (\S+ digits)$`)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.read(c.printed)
			require.NoError(t, err)
			assert.Equal(t, c.want, got)
			_, err = c.read("")
			assert.Error(t, err, "nothing was printed")
		})
	}
}

// TestDocument checks the table against the data that it was made from.
func TestDocument(t *testing.T) {
	t.Chdir("../..")
	known, err := read()
	require.NoError(t, err)
	require.NotEmpty(t, known)
	text, err := os.ReadFile(filepath.Join(folder, "README.md"))
	require.NoError(t, err)
	assert.Equal(t, document(known), string(text), "go run ./cmd/measure writes it")
}
