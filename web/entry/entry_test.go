package entry_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/web/entry"
)

// The examples of the ULID specification's own implementation and of its text
// (https://github.com/ulid/javascript, https://github.com/ulid/spec, both from
// memory).
func TestIDIsULID(t *testing.T) {
	id := entry.NewID(time.UnixMilli(1469918176385), [10]byte{})
	assert.Equal(t, "01ARYZ6S41", id[:10], "the time of the published example")
	assert.Equal(t, "0000000000000000", id[10:])
	all := [10]byte{255, 255, 255, 255, 255, 255, 255, 255, 255, 255}
	assert.Equal(t, "7ZZZZZZZZZZZZZZZZZZZZZZZZZ", entry.NewID(time.UnixMilli(1<<48-1), all), "the largest valid ULID")
	for _, tt := range []struct {
		id string
		ok bool
	}{
		{"01ARZ3NDEKTSV4RRFFQ69G5FAV", true},
		{"7ZZZZZZZZZZZZZZZZZZZZZZZZZ", true},
		{"8ZZZZZZZZZZZZZZZZZZZZZZZZZ", false},
		{"01arz3ndektsv4rrffq69g5fav", false},
		{"01ARZ3NDEKTSV4RRFFQ69G5FA", false},
		{"01ARZ3NDEKTSV4RRFFQ69G5FAU", false},
		{"", false},
	} {
		assert.Equal(t, tt.ok, entry.ValidID(tt.id), tt.id)
	}
}

func TestLaterIDsSortLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ms := rapid.Int64Range(0, 1<<48-2)
		a, b := ms.Draw(t, "a"), ms.Draw(t, "b")
		random := rapid.Custom(func(t *rapid.T) (r [10]byte) {
			copy(r[:], rapid.SliceOfN(rapid.Byte(), 10, 10).Draw(t, "bytes"))
			return r
		})
		x, y := entry.NewID(time.UnixMilli(a), random.Draw(t, "x")), entry.NewID(time.UnixMilli(b), random.Draw(t, "y"))
		assert.True(t, entry.ValidID(x) && entry.ValidID(y))
		if a < b {
			assert.Less(t, x, y)
		}
	})
}

const (
	id1 = "01JX4W8Z0K3V5T7Q9R2B4D6F8H"
	id2 = "01JX4W8Z0K3V5T7Q9R2B4D6F8J"
	id3 = "01JX4W8Z0K3V5T7Q9R2B4D6F8K"
	job = "01JX4W7M5N6P8S0V2X4Z6B8D0F"
)

var noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

func reading(id, body string) entry.Entry {
	return entry.Entry{ID: id, Job: job, Kind: entry.KindReading, At: noon, By: "Phone 1", Body: json.RawMessage(body)}
}

func TestJSON(t *testing.T) {
	const text = `{"id":"01JX4W8Z0K3V5T7Q9R2B4D6F8H","job":"01JX4W7M5N6P8S0V2X4Z6B8D0F","kind":"reading",` +
		`"at":"2026-05-04T12:00:00.000Z","by":"Phone 1","body":{"kind":"tape"},"seq":7}`
	var e entry.Entry
	require.NoError(t, json.Unmarshal([]byte(text), &e))
	want := reading(id1, `{"kind":"tape"}`)
	want.Seq = 7
	assert.Equal(t, want, e)
	back, err := json.Marshal(e)
	require.NoError(t, err)
	assert.Equal(t, text, string(back))

	e.At = noon.Add(1234567)
	e.Seq = 0
	back, err = json.Marshal(e)
	require.NoError(t, err)
	assert.Contains(t, string(back), `"at":"2026-05-04T12:00:00.001Z"`)
	assert.NotContains(t, string(back), "seq")
	require.NoError(t, json.Unmarshal([]byte(`{"at":"2026-05-04T08:00:00.0019-04:00"}`), &e))
	assert.Equal(t, noon.Add(time.Millisecond), e.At, "in UTC, to the millisecond")
	assert.Error(t, json.Unmarshal([]byte(`{"at":"noon"}`), &e))
}
