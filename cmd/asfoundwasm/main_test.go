package main_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/testdata/long"
	"asfound/testdata/sites"
	"asfound/web/api"
	"asfound/web/app/build"
	"asfound/web/entry"
)

// said is the engine's answer in a browser.
type said struct {
	OK           bool
	Body, Error  string
	Milliseconds float64
}

// TestSameNumbersInABrowser asks the engine as WebAssembly, loaded as a page
// loads it, and the same code here, about all invented sites: no number may differ by more than 1e-9
// (relative to itself, where it is over 1), and no text at all. The other machine is the JavaScript engine V8
// in Node.js; without it the test is skipped.
func TestSameNumbersInABrowser(t *testing.T) {
	node := long.Program(t, "node")
	if testing.Short() {
		t.Skip("builds the engine for another machine")
	}
	dir := t.TempDir()
	engine := filepath.Join(dir, "engine.wasm")
	require.NoError(t, build.Engine(t.Context(), "../..", engine, t.Output()))
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)

	asked := requests(t)
	text, err := json.Marshal(asked)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "requests.json"), text, 0o600))
	ask := exec.Command(node, "testdata/ask.js", filepath.Join(strings.TrimSpace(string(goroot)), "lib/wasm/wasm_exec.js"), engine, filepath.Join(dir, "requests.json"))
	ask.Stderr = os.Stderr
	text, err = ask.Output()
	require.NoError(t, err)
	var there struct{ Answers, Misused []said }
	require.NoError(t, json.Unmarshal(text, &there))
	require.Len(t, there.Answers, len(asked))

	numbers := 0
	for i, q := range asked {
		name := q[0] + " " + fmt.Sprint(i)
		here, err := api.Run(t.Context(), q[0], []byte(q[1]))
		require.Equal(t, err == nil, there.Answers[i].OK, "%s: %s", name, there.Answers[i].Error)
		if err != nil {
			text, _ := json.Marshal(err)
			assert.JSONEq(t, string(text), there.Answers[i].Error)
			continue
		}
		if q[0] == "paper" {
			comparePapers(t, name, here, []byte(there.Answers[i].Body))
			continue
		}
		var a, b any
		require.NoError(t, json.Unmarshal(here, &a))
		require.NoError(t, json.Unmarshal([]byte(there.Answers[i].Body), &b))
		numbers += same(t, name, a, b)
		t.Logf("%-12s %7.1f ms in WebAssembly", name, there.Answers[i].Milliseconds)
	}
	assert.Greater(t, numbers, 500*len(sitesAsked(t)), "nothing was compared")
	for _, m := range there.Misused {
		assert.False(t, m.OK)
		assert.Contains(t, m.Error, "asfound.run wants")
	}
}

// sitesAsked returns the sites that are tried.
func sitesAsked(t *testing.T) []string {
	t.Helper()
	all := []string{"demo", "metric-gnss", "two-tapes", "day-before"}
	return all[:long.Size(t, 1, len(all))]
}

// requests asks every stage about every site, and some things that are refused.
func requests(t *testing.T) (asked [][2]string) {
	t.Helper()
	for _, site := range sitesAsked(t) {
		fsys, err := fs.Sub(sites.Folders, site)
		require.NoError(t, err)
		n := byte(0)
		newID := func() string { n++; return entry.NewID(time.Unix(0, 0), [10]byte{9: n}) }
		id := newID()
		entries, _, err := entry.FromFolder(fsys, id, newID, time.Unix(0, 0), "test")
		require.NoError(t, err)
		job := api.JobOf(entry.Fold(entries)[id])
		for _, q := range []struct {
			stage string
			more  map[string]any
		}{
			{"check", nil}, {"belief", map[string]any{"with": []string{"history"}}}, {"plan", nil},
			{"paper", map[string]any{"name": "asbuilt.geojson"}}, {"paper", map[string]any{"name": "map.svg"}},
			{"paper", map[string]any{"name": "record.pdf", "date": "2026-05-04"}},
		} {
			m := map[string]any{"job": job}
			maps.Copy(m, q.more)
			text, err := json.Marshal(m)
			require.NoError(t, err)
			asked = append(asked, [2]string{q.stage, string(text)})
		}
	}
	return append(asked, [2]string{"length", `{"text": "43' 6 1/2\"", "unit": "ft"}`}, [2]string{"belief", `{"job": {}}`}, [2]string{"tea", `{}`})
}

// comparePapers holds two files to one another. GeoJSON is compared number by
// number. On sheets a place is printed to a hundredth of a point, where a
// difference in the sixteenth digit may change the last one printed; it is
// enough that they exist and have the same size.
func comparePapers(t *testing.T, at string, here, there []byte) {
	t.Helper()
	var a, b answer.Paper
	require.NoError(t, json.Unmarshal(here, &a))
	require.NoError(t, json.Unmarshal(there, &b))
	assert.Equal(t, a.Name, b.Name, at)
	assert.InEpsilon(t, len(a.Bytes), len(b.Bytes), 0.01, at)
	if strings.HasSuffix(a.Name, "json") {
		var x, y any
		require.NoError(t, json.Unmarshal(a.Bytes, &x))
		require.NoError(t, json.Unmarshal(b.Bytes, &y))
		assert.Positive(t, same(t, at, x, y), at)
	}
}

// same compares two decoded JSON values and returns how many numbers it saw.
// They must agree to 1e-9, except for the chances of a plan and what they weigh of
// following a line: those are sums of exponentials over a thousand draws, printed to
// six digits, and the processor's own exponential differs from the browser's in the
// last bit.
func same(t *testing.T, at string, a, b any) (numbers int) {
	t.Helper()
	switch a := a.(type) {
	case float64:
		b, ok := b.(float64)
		within := 1e-9 * max(1, math.Abs(a))
		if strings.HasSuffix(at, "chance") || strings.HasSuffix(at, "chance_next") || strings.Contains(at, "follow.") || strings.Contains(at, ".meets.") {
			within = 2e-6 * max(1, math.Abs(a))
		}
		if !ok || math.Abs(a-b) > within {
			t.Errorf("%s: %v here, %v in the browser", at, a, b)
		}
		return 1
	case []any:
		b, _ := b.([]any)
		require.Len(t, b, len(a), at)
		for i := range a {
			numbers += same(t, fmt.Sprintf("%s[%d]", at, i), a[i], b[i])
		}
	case map[string]any:
		b, _ := b.(map[string]any)
		require.Len(t, b, len(a), at)
		for k := range a {
			numbers += same(t, at+"."+k, a[k], b[k])
		}
	default:
		assert.Equal(t, a, b, at)
	}
	return numbers
}
