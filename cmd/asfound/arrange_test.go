package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestArrange(t *testing.T) {
	tests := []struct {
		name string
		line string
		want string // the ordered line, or "! " and a part of the error
	}{
		{"flags after the folder", "locate lot7 --format json", "locate --format json -- lot7"},
		{"flags before the folder", "locate --format json lot7", "locate --format json -- lot7"},
		{"flags on both sides", "locate --seek box lot7 --out=o", "locate --seek box --out=o -- lot7"},
		{"flags before the command", "--unit m locate lot7", "locate --unit m -- lot7"},
		{"a value that is a command's name", "locate --seek check lot7", "locate --seek check -- lot7"},
		{"a value that looks like a flag", "locate --out --x lot7", "locate --out --x -- lot7"},
		{"a folder behind two dashes", "check -- --format", "check -- --format"},
		{"one dash", "check - --format json", "check --format json -- -"},
		{"help anywhere", "locate lot7 -h", "locate --help"},
		{"help of nothing", "help", "--help"},
		{"no value", "check lot7 --format", "! needs a value"},
		{"a value cut off", "check lot7 --format -- x", "! needs a value"},
		{"a flag of another command", "check --seek box lot7", "! check has no flag --seek"},
		{"a flag and no command", "--format json", "! before any command"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := arrange((&session{}).app(), strings.Fields(tt.line))
			if want, ok := strings.CutPrefix(tt.want, "! "); ok {
				assert.ErrorContains(t, err, want)
				return
			}
			assert.NoError(t, err)
			assert.Equal(t, tt.want, strings.Join(got, " "))
		})
	}
}

// TestAnyLineIsAnswered throws any words at the command: it ends with one of
// its codes, and where it fails it says why and leaves stdout empty.
func TestAnyLineIsAnswered(t *testing.T) {
	t.Chdir(t.TempDir())
	words := []string{"check", "fit", "help", "completion", "--", "-", "--format", "--format=json", "--unit", "-h", "--version",
		"json", "nowhere", "--seek", "", "=", "---", "--=", "-format", "é", "\x00", "bash"}
	rapid.Check(t, func(t *rapid.T) {
		args := rapid.SliceOfN(rapid.SampledFrom(words), 0, 5).Draw(t, "args")
		var out, errs bytes.Buffer
		code := Run(context.Background(), args, strings.NewReader(""), &out, &errs)
		if code == Done {
			assert.NotEmpty(t, out.String())
			assert.Empty(t, errs.String())
			return
		}
		assert.Contains(t, []int{Refused, Misused}, code)
		assert.Empty(t, out.String())
		assert.NotEmpty(t, errs.String())
	})
}
