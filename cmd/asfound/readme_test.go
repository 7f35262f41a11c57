package main

import (
	"bytes"
	"context"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write what the commands of README.md print into it")

const readme = "README.md"

// fence is a fenced block of a Markdown file.
var fence = regexp.MustCompile("(?m)^```([a-z]*)\n((?s:.*?))^```\n")

// fileName is a line that names the file in the block after it: `lot7/a.csv`:
var fileName = regexp.MustCompile("`([^`]+)`:\n\n$")

// TestReadmeExample follows the worked example of this folder's README: it writes the
// files, runs the commands in order, and expects what the README shows.
func TestReadmeExample(t *testing.T) {
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	var printed string
	ran, shown := 0, 0
	made, end := "", 0
	for _, m := range fence.FindAllSubmatchIndex(text, -1) {
		before, language, body := string(text[end:m[0]]), string(text[m[2]:m[3]]), string(text[m[4]:m[5]])
		name := fileName.FindStringSubmatch(before)
		switch {
		case language == "sh" && strings.HasPrefix(body, "asfound"):
			for line := range strings.Lines(body) {
				printed = run(strings.Fields(line)[1:]...)
				ran++
			}
		case language == "text":
			shown++
			body = printed
		case name != nil:
			require.NoError(t, os.MkdirAll(filepath.Dir(name[1]), 0o755))
			require.NoError(t, os.WriteFile(name[1], []byte(body), 0o644))
		}
		made += before + "```" + language + "\n" + body + "```\n"
		end = m[1]
	}
	made += string(text[end:])
	assert.Equal(t, []int{5, 4}, []int{ran, shown}, "commands run and shown")
	for _, name := range []string{"map.svg", "map.pdf", "digplan.pdf", "record.pdf", "asbuilt.geojson"} {
		assert.FileExists(t, filepath.Join("out", name))
	}
	if *update {
		require.NoError(t, os.WriteFile(filepath.Join(from, readme), []byte(made), 0o644))
		return
	}
	if line, ok := firstDifference(string(text), made); !ok {
		t.Fatalf("cmd/asfound/README.md does not show what the commands print:\n%s\nto bring it up to date: go test ./cmd/asfound -run Readme -update", line)
	}
}

// TestReadmeQuotes expects the quotes of the README at the top to be in this
// folder's, which is held to what the commands print.
func TestReadmeQuotes(t *testing.T) {
	top, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	whole, err := os.ReadFile(readme)
	require.NoError(t, err)
	quoted := 0
	for _, m := range fence.FindAllStringSubmatch(string(top), -1) {
		if m[1] == "text" {
			quoted++
			assert.Contains(t, string(whole), m[2], "README.md quotes what asfound does not print")
		}
	}
	assert.Equal(t, 1, quoted, "quotes of README.md")
}

// number is a number in a text.
var number = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// firstDifference compares two texts word by word. Numbers may differ by one or
// by 5 %, since processors round the last digits differently, and lines may
// break elsewhere.
func firstDifference(shown, printed string) (words string, ok bool) {
	a, b := strings.Fields(shown), strings.Fields(printed)
	for i := range min(len(a), len(b)) {
		x, y := number.FindAllString(a[i], -1), number.FindAllString(b[i], -1)
		same := number.ReplaceAllString(a[i], "#") == number.ReplaceAllString(b[i], "#")
		for k := 0; same && k < len(x); k++ {
			v, _ := strconv.ParseFloat(x[k], 64)
			w, _ := strconv.ParseFloat(y[k], 64)
			same = math.Abs(v-w) <= max(1, 0.05*v)
		}
		if !same {
			from := max(0, i-8)
			return "shown:   " + strings.Join(a[from:i+1], " ") + "\nprinted: " + strings.Join(b[from:i+1], " "), false
		}
	}
	return "one is longer than the other", len(a) == len(b)
}

func TestFirstDifference(t *testing.T) {
	_, ok := firstDifference("within 4' 9\" of A", "within 4' 10\"\nof A")
	assert.True(t, ok)
	_, ok = firstDifference("within 4' 9\" of A", "within 7' 9\" of A")
	assert.False(t, ok)
	_, ok = firstDifference("within 4 of A", "within 4 of B")
	assert.False(t, ok)
	_, ok = firstDifference("a b", "a b c")
	assert.False(t, ok)
}

// from is the folder that the tests start in.
var from, _ = os.Getwd()

// run runs the command and returns what a terminal shows.
func run(args ...string) string {
	var screen bytes.Buffer
	Run(context.Background(), args, strings.NewReader(""), &screen, &screen)
	return screen.String()
}

// TestReadmeCommands expects the table of commands in the README to name the
// existing commands and flags, and no others.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile(readme)
	require.NoError(t, err)
	rows := map[string]string{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z]+)[^`]*` \\| [^|]+ \\| ?(.*?) ?\\|$").FindAllStringSubmatch(strings.ReplaceAll(string(text), `\|`, "/"), -1) {
		rows[m[1]] = m[2]
	}
	app := (&session{}).app()
	for _, c := range app.Commands {
		var flags []string
		for _, f := range c.Flags {
			flags = append(flags, "`--"+f.Names()[0]+"`")
		}
		shown, ok := rows[c.Name]
		assert.True(t, ok, "%s is not in the table of commands", c.Name)
		assert.Equal(t, strings.Join(flags, ", "), shown, c.Name)
	}
	known := map[string]bool{"version": true, "help": true}
	for _, c := range app.Commands {
		for _, f := range c.Flags {
			known[f.Names()[0]] = true
		}
	}
	for _, m := range regexp.MustCompile("--([a-z][a-z-]+)").FindAllStringSubmatch(string(text), -1) {
		assert.True(t, known[m[1]], "README.md names a flag --%s that no command has", m[1])
	}
}
