package entry_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/web/entry"
)

// some draws an entry from few ids, times and contents, so that everything that
// can collide does: equal times, ids sent twice with other content, rows and
// files with one name, and bodies that mean nothing.
var some = rapid.Custom(func(t *rapid.T) entry.Entry {
	of := func(name string, values ...string) string { return rapid.SampledFrom(values).Draw(t, name) }
	kind := of("kind", entry.KindSketch, entry.KindSettings, entry.KindReading, entry.KindReading, entry.KindFile, entry.KindAside, "order")
	body := fmt.Sprintf(`{"id": %q, "kind": "tape", "value": %q}`, of("row", "", "r2", "r3", id1, id2), of("value", "1", "2", ""))
	switch kind {
	case entry.KindSketch, entry.KindSettings:
		body = fmt.Sprintf(`{"title": %q}`, of("title", "a", "b", "c"))
	case entry.KindFile:
		body = fmt.Sprintf(`{"name": %q, "sha256": %q}`, of("name", "a.png", "A.png", "b/c", "../x"), of("sum", sum, "f"+sum[1:]))
	}
	if kind == entry.KindAside {
		body = fmt.Sprintf(`{"device": %q, "aside": %v}`, of("aside", "", id1, id2), rapid.Bool().Draw(t, "is aside"))
	}
	if rapid.IntRange(0, 9).Draw(t, "broken") == 0 {
		body = of("body", "", "null", "[1]", "{")
	}
	return entry.Entry{
		ID: of("id", id1, id2, id3, id1[:25]+"M", id1[:25]+"N", id1[:25]+"P"), Job: of("job", job, job, job[:25]+"G"), Kind: kind,
		At: noon.Add(time.Duration(rapid.IntRange(0, 3).Draw(t, "ms")) * time.Millisecond), By: of("by", "Phone 1", "Phone 2"),
		Body: json.RawMessage(body), Seq: int64(rapid.IntRange(0, 3).Draw(t, "seq")), Device: of("device", "", id1, id2),
	}
})

// Two phones that worked apart, sent some of it twice, and got each other's
// entries in any order, end with the same jobs.
func TestPhonesEndEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.SliceOfN(some, 0, 12).Draw(t, "entries")
		phone := func(name string) (held []entry.Entry) {
			held = slices.Clone(all)
			if len(all) > 0 {
				again := rapid.SliceOf(rapid.IntRange(0, len(all)-1)).Draw(t, name+" sent again")
				for _, i := range again {
					held = append(held, all[i])
				}
			}
			return rapid.Permutation(held).Draw(t, name)
		}
		one, two := phone("one"), phone("two")
		before := slices.Clone(one)
		jobs := entry.Fold(one)
		require.Equal(t, jobs, entry.Fold(two))
		require.Equal(t, before, one, "what was folded is as it was")
		for id, j := range jobs {
			require.Equal(t, id, j.ID)
			ids, names := map[string]bool{}, map[string]bool{}
			for _, row := range j.Rows {
				require.NotEmpty(t, row["id"])
				require.False(t, ids[row["id"]], "row id %s twice", row["id"])
				ids[row["id"]] = true
			}
			for _, f := range j.Files {
				require.False(t, names[f.Name], "file %s twice", f.Name)
				names[f.Name] = true
			}
		}
	})
}

// A random partition: what two phones logged apart, merged entry by entry in
// any interleaving, is the job that one phone with everything would hold, and
// every reading of distinct id is in it.
func TestNothingIsLostInAMerge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "readings")
		var one, two, all []entry.Entry
		for i := range n {
			e := reading(entry.NewID(noon, [10]byte{9: byte(i)}), fmt.Sprintf(`{"kind": "level", "point": "P%d", "value": "1"}`, i))
			e.At = noon.Add(time.Duration(rapid.IntRange(-5, 5).Draw(t, "minutes")) * time.Minute)
			all = append(all, e)
			if on := rapid.IntRange(0, 2).Draw(t, "phone"); on == 0 {
				one = append(one, e)
			} else if two = append(two, e); on == 2 { // had been sent before coverage went
				one = append(one, e)
			}
		}
		merged := rapid.Permutation(append(slices.Clone(one), two...)).Draw(t, "merged")
		got := entry.Fold(merged)[job]
		require.Equal(t, entry.Fold(all)[job], got)
		require.Len(t, got.Rows, n)
		seen := map[string]bool{}
		for _, row := range got.Rows {
			seen[row["point"]] = true
		}
		require.Len(t, seen, n)
	})
}

func TestLatestHolds(t *testing.T) {
	set := func(id string, ms int, title string) entry.Entry {
		return entry.Entry{ID: id, Job: job, Kind: entry.KindSettings, At: noon.Add(time.Duration(ms) * time.Millisecond), Body: json.RawMessage(`{"title":"` + title + `"}`)}
	}
	for _, tt := range []struct {
		name, want string
		entries    []entry.Entry
	}{
		{"greatest time", "late", []entry.Entry{set(id1, 5, "late"), set(id2, 4, "early")}},
		{"greatest id of equal times", "greater", []entry.Entry{set(id2, 5, "greater"), set(id1, 5, "less")}},
		{"within a millisecond the id", "greater", []entry.Entry{set(id2, 5, "greater"), {ID: id1, Job: job, Kind: entry.KindSettings, At: noon.Add(5*time.Millisecond + 999), Body: json.RawMessage(`{"title":"less"}`)}}},
	} {
		assert.JSONEq(t, `{"title":"`+tt.want+`"}`, string(entry.Fold(tt.entries)[job].Settings), tt.name)
	}
	arrived := func(e entry.Entry, seq int64) entry.Entry { e.Seq = seq; return e }
	assert.JSONEq(t, `{"title":"last"}`, string(entry.Fold([]entry.Entry{arrived(set(id2, 100_000_000, "clock ahead"), 1), arrived(set(id1, 5, "last"), 2)})[job].Settings), "a clock cannot bend the order")
	assert.JSONEq(t, `{"title":"here"}`, string(entry.Fold([]entry.Entry{arrived(set(id2, 100_000_000, "clock ahead"), 1), set(id1, 5, "here")})[job].Settings), "what this phone has not sent yet comes after")
	first, second := set(id1, 5, "first"), set(id1, 9, "second")
	first.Seq = 3
	assert.JSONEq(t, `{"title":"first"}`, string(entry.Fold([]entry.Entry{second, first})[job].Settings), "an id sent again with other content is what the server took")
}

// What a device sent, or a whole job, is set aside and taken up again by
// entries, of which the last to arrive decides.
func TestSetAside(t *testing.T) {
	const phone = "01JX4W7M5N6P8S0V2X4Z6B8D0H"
	level := func(id, point, device string, seq int64) entry.Entry {
		e := reading(id, `{"kind": "level", "point": "`+point+`", "value": "1"}`)
		e.Device, e.Seq = device, seq
		return e
	}
	aside := func(id, body string, seq int64) entry.Entry {
		return entry.Entry{ID: id, Job: job, Kind: entry.KindAside, At: noon.Add(-time.Hour), Seq: seq, Device: phone, Body: json.RawMessage(body)}
	}
	points := func(entries ...entry.Entry) (names []string) {
		for _, row := range entry.Fold(entries)[job].Rows {
			names = append(names, row["point"])
		}
		return names
	}
	theirs, other, ours := level(id1, "P1", phone, 1), level(id2, "P2", "01JX4W7M5N6P8S0V2X4Z6B8D0J", 2), level(id3, "P3", "", 3)
	off := aside(id1[:25]+"M", `{"device": "`+phone+`", "aside": true}`, 4)
	on := aside(id1[:25]+"N", `{"device": "`+phone+`", "aside": false}`, 5)
	assert.Equal(t, []string{"P2", "P3"}, points(theirs, other, ours, off), "an entry about a device holds though that device sent it")
	assert.Equal(t, []string{"P1", "P2", "P3"}, points(on, theirs, other, off, ours))
	whole := aside(id1[:25]+"P", `{"aside": true}`, 6)
	j := entry.Fold([]entry.Entry{theirs, ours, whole})[job]
	assert.True(t, j.Aside)
	assert.Len(t, j.Rows, 2, "it is all there")
	assert.False(t, entry.Fold([]entry.Entry{theirs, whole, aside(id1[:25]+"Q", `{"aside": false}`, 7)})[job].Aside)
}

func TestRowsAreNamed(t *testing.T) {
	j := entry.Fold([]entry.Entry{
		reading(id3, `{"id": "r2", "kind": "level"}`),
		reading(id1, `{"kind": "level", "note": ""}`),
		reading(id2, `{"id": "r2", "kind": "tape"}`),
	})[job]
	assert.Equal(t, []map[string]string{
		{"id": id1, "kind": "level"},
		{"id": "r2", "kind": "tape"},
		{"id": id3, "kind": "level"},
	}, j.Rows)
}

func TestFilesAreNamed(t *testing.T) {
	file := func(id, name string, ms int) entry.Entry {
		e := reading(id, `{"sha256": "`+id[25:26]+sum[1:]+`", "name": "`+name+`"}`)
		e.Kind, e.At = entry.KindFile, noon.Add(time.Duration(ms)*time.Millisecond)
		return e
	}
	a, b, c := "01JX4W8Z0K3V5T7Q9R2B4D6F81", "01JX4W8Z0K3V5T7Q9R2B4D6F82", "01JX4W8Z0K3V5T7Q9R2B4D6F83"
	j := entry.Fold([]entry.Entry{file(a, "scan.png", 2), file(b, "Scan.png", 1), file(c, "x/scan", 1)})[job]
	var names []string
	for _, f := range j.Files {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"Scan " + b + ".png", "scan.png", "x/scan"}, names, "the latest keeps its name")
}

func ExampleFold() {
	body := func(s string) json.RawMessage { return json.RawMessage(s) }
	phone1 := entry.Entry{ID: id1, Job: job, Kind: entry.KindReading, At: noon, By: "Phone 1", Body: body(`{"kind": "tape", "from": "A", "to": "H1", "value": "43'6\""}`)}
	phone2 := entry.Entry{ID: id2, Job: job, Kind: entry.KindReading, At: noon.Add(time.Minute), By: "Phone 2", Body: body(`{"kind": "void", "target": "` + id1 + `"}`)}
	for _, row := range entry.Fold([]entry.Entry{phone2, phone1, phone2})[job].Rows {
		fmt.Println(row["kind"], row["id"])
	}
	// Output:
	// tape 01JX4W8Z0K3V5T7Q9R2B4D6F8H
	// void 01JX4W8Z0K3V5T7Q9R2B4D6F8J
}

// quoted returns s as JSON has it.
func quoted(s string) string {
	b, _ := json.Marshal(s) // a string cannot fail
	return string(b)
}
