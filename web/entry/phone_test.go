package entry_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
)

// onPhone runs the app's own source on text, which is in as JSON, and returns the
// JSON of what an expression in it comes to.
func onPhone(t *testing.T, source, expression string, in any) []byte {
	node := long.Program(t, "node")
	script := filepath.Join(t.TempDir(), "phone.mjs")
	out, err := exec.Command("go", "tool", "-modfile=../../.ci/tools.mod", "esbuild", "../app/source/"+source, "--bundle", "--format=esm", "--log-level=error", "--outfile="+script).CombinedOutput()
	require.NoError(t, err, "%s", out)
	f, err := os.OpenFile(script, os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = f.WriteString(`
let text = "";
for await (const part of process.stdin) text += part;
console.log(JSON.stringify(await (` + expression + `)));
`)
	require.NoError(t, err)
	require.NoError(t, f.Close())
	data, err := json.Marshal(in)
	require.NoError(t, err)
	run := exec.Command(node, script)
	run.Stdin = bytes.NewReader(data)
	var complaint bytes.Buffer
	run.Stderr = &complaint
	text, err := run.Output()
	require.NoError(t, err, complaint.String())
	return text
}

// The app finds the type of a file as the server does: on files that begin as each
// known one does, cut short and changed by a byte.
func TestPhoneTypesAlike(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var heads [][]byte
	for _, begin := range []string{
		"\x89PNG\r\n\x1a\n", "\xFF\xD8\xFF", "GIF87a", "GIF89a", "RIFF....WEBPVP8 ", "....ftypheic", "....ftypheix", "....ftypmif1", "....ftypmsf1", "....ftypavif", "%PDF-1.7", "<svg ", "",
	} {
		head := append([]byte(begin), make([]byte, 20)...)
		heads = append(heads, head, head[:len(begin)], head[:max(0, len(begin)-1)])
		for range 20 {
			bent := bytes.Clone(head)
			bent[rng.IntN(12)] ^= byte(1 << rng.IntN(8))
			heads = append(heads, bent)
		}
	}
	text := onPhone(t, "type.ts", `Promise.all(JSON.parse(text).map(async (head) => (await typed(new Blob([Uint8Array.from(atob(head), (c) => c.charCodeAt(0))]))).type))`, heads)
	var phone []string
	require.NoError(t, json.Unmarshal(text, &phone))
	require.Len(t, phone, len(heads))
	known := 0
	for i, head := range heads {
		want := entry.TypeOf(head)
		assert.Equal(t, want, phone[i], "%q", head)
		if want != entry.Plain {
			known++
		}
	}
	assert.Greater(t, known, len(heads)/3)
}

// The app combines entries in its own language, and must make the same job as
// the server: the app's own source is run on sets of entries with equal times,
// equal row ids and duplicates.
func TestPhoneFoldsAlike(t *testing.T) {
	sets := sets(200)
	text := onPhone(t, "entry.ts", `JSON.parse(text).map((entries) => fold(`+quoted(job)+`, entries))`, sets)
	var phone []struct {
		Sketch, Settings map[string]any
		Rows             []map[string]string
		Aside            bool
	}
	require.NoError(t, json.Unmarshal(text, &phone))
	require.Len(t, phone, len(sets))
	rows := 0
	for i, entries := range sets {
		want := entry.Fold(entries)[job]
		rows += len(want.Rows)
		require.Len(t, phone[i].Rows, len(want.Rows))
		require.Equal(t, want.Aside, phone[i].Aside)
		for k := range want.Rows {
			assert.Equal(t, want.Rows[k], phone[i].Rows[k])
		}
		for name, pair := range map[string]struct {
			server json.RawMessage
			phone  map[string]any
		}{"sketch": {want.Sketch, phone[i].Sketch}, "settings": {want.Settings, phone[i].Settings}} {
			var server map[string]any
			if pair.server != nil {
				require.NoError(t, json.Unmarshal(pair.server, &server))
			}
			if len(server)+len(pair.phone) > 0 { // the app has {} for no settings
				assert.Equal(t, server, pair.phone, name)
			}
		}
	}
	assert.Greater(t, rows, len(sets), "the sets have rows to compare")
}

// sets makes sets of entries of one job.
func sets(n int) (all [][]entry.Entry) {
	dice := rand.New(rand.NewPCG(3, 4))
	of := func(values ...string) string { return values[dice.IntN(len(values))] }
	for range n {
		var set []entry.Entry
		order := dice.Perm(20) // of arrival: each number once, as a server gives them
		for i := range 1 + dice.IntN(12) {
			e := reading(entry.NewID(noon, [10]byte{0: byte(dice.IntN(256)), 9: byte(i)}), "")
			e.Kind, e.At = of(entry.KindReading, entry.KindReading, entry.KindSketch, entry.KindSettings, entry.KindAside, "order"), noon.Add(time.Duration(dice.IntN(4))*time.Millisecond)
			row := map[string]string{"kind": "level", "value": fmt.Sprint(i)}
			if id := of("", "", "r2", "r3", "r4"); id != "" {
				row["id"] = id
			}
			body, _ := json.Marshal(row) // texts
			e.Body = body
			if e.Kind == entry.KindAside {
				e.Body = json.RawMessage(fmt.Sprintf(`{"device": %q, "aside": %v}`, of("", id1, id2), dice.IntN(2) == 0))
			}
			if dice.IntN(3) > 0 { // the server has it
				e.Seq, e.Device, e.Arrived = int64(1+order[i]), of("", id1, id2, id3), noon
			}
			set = append(set, e)
			if dice.IntN(3) == 0 {
				set = append(set, e)
			}
		}
		dice.Shuffle(len(set), func(i, j int) { set[i], set[j] = set[j], set[i] })
		all = append(all, set)
	}
	return all
}
