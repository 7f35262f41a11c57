package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// TestAuditAndSalvage finds a sound store sound, damages a page of it, finds that,
// and saves the rest.
func TestAuditAndSalvage(t *testing.T) {
	folder := t.TempDir()
	data, out := filepath.Join(folder, "asfound.db"), filepath.Join(folder, "new.db")
	b, err := logbook.Open(data)
	require.NoError(t, err)
	var sent []entry.Entry
	for n := range 100 {
		sent = append(sent, entry.Entry{ID: entry.NewID(time.Now(), [10]byte{9: byte(n)}), Job: "01JX4W7M5N6P8S0V2X4Z6B8D0F", Kind: entry.KindReading, At: time.Now(), By: "Phone 1",
			Body: json.RawMessage(`{"kind": "condition", "target": "box", "note": "` + strings.Repeat("seen ", 100) + `"}`)})
	}
	_, err = b.Take(t.Context(), "", sent)
	require.NoError(t, err)
	require.NoError(t, b.Close())
	run := func(want int, args ...string) (string, string) {
		t.Helper()
		var says, errs bytes.Buffer
		require.Equal(t, want, Run(t.Context(), args, strings.NewReader(""), &says, &errs), "%s%s", &says, &errs)
		return says.String(), errs.String()
	}
	says, _ := run(Done, "audit", "--data", data)
	assert.Contains(t, says, "is sound; the last entry is number 100")

	text, err := os.ReadFile(data)
	require.NoError(t, err)
	at := bytes.LastIndex(text, []byte("seen seen")) / 4096 * 4096
	clear(text[at : at+4096])
	require.NoError(t, os.WriteFile(data, text, 0o600))
	_, says = run(Refused, "audit", "--data", data)
	assert.Contains(t, says, "the store is damaged")
	_, says = run(Refused, "backup", "--data", data, "--out", out)
	assert.Contains(t, says, "the store is damaged")

	says, why := run(Doubtful, "salvage", "--data", data, "--out", out)
	assert.Contains(t, says, "saved to "+out)
	assert.Contains(t, says, "missing: entry ")
	assert.Contains(t, says, sent[99].ID, "by its id")
	assert.Contains(t, why, "may not have everything")
	_, says = run(Done, "audit", "--data", out)
	assert.Empty(t, says)
	run(Refused, "salvage", "--data", data, "--out", out)
	run(Misused, "salvage", "--data", data)
	run(Refused, "audit", "--data", filepath.Join(folder, "none.db"))
	assert.NoFileExists(t, filepath.Join(folder, "none.db"))
}
