package entry

import (
	"bytes"
	"cmp"
	"encoding/json"
	"reflect"
	"time"
)

// The kinds of entry that Fold reads.
const (
	KindSketch   = "sketch"
	KindSettings = "settings"
	KindReading  = "reading"
	KindFile     = "file"
	KindAside    = "aside"
)

// Entry is one thing that was logged.
type Entry struct {
	ID   string          // made on the device of the entry; see NewID
	Job  string          // id of the job, of the same form
	Kind string          // what Body holds
	At   time.Time       // when, by the clock of the phone; counts to the millisecond
	By   string          // name of the phone
	Body json.RawMessage // see the kinds
	Over string          // of a sketch or settings: id of the one in whose place it was made; "": none, or not known

	// What the server says of it; a phone cannot.
	Seq     int64     // order of arrival, from 1; 0: not there yet
	Arrived time.Time // by the clock of the server
	Device  string    // id of the device that sent it; "": none did, or it is not known
	Sender  string    // name of that device, by which it joined
}

// stamp is RFC 3339 with all three digits of the millisecond, so that times in
// UTC sort as text too.
const stamp = "2006-01-02T15:04:05.000Z07:00"

// wire is an entry as JSON has it.
type wire struct {
	ID   string          `json:"id" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
	Job  string          `json:"job" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
	Kind string          `json:"kind" jsonschema:"description=sketch\\, settings\\, reading\\, file or aside; others are kept and passed on"`
	At   string          `json:"at" jsonschema:"format=date-time,description=By the clock of the phone."`
	By   string          `json:"by" jsonschema:"description=Name of the phone."`
	Body json.RawMessage `json:"body" jsonschema:"type=object,description=By the kind."`
	Over string          `json:"over,omitempty" jsonschema:"description=Of a sketch or settings: id of the one in whose place it was made."`

	Seq     int64  `json:"seq,omitzero" jsonschema:"description=Order of arrival at the server."`
	Arrived string `json:"arrived,omitempty" jsonschema:"format=date-time,description=By the clock of the server."`
	Device  string `json:"device,omitempty" jsonschema:"description=Id of the device that sent it\\, as the server knows it."`
	Sender  string `json:"sender,omitempty" jsonschema:"description=Name of that device."`
}

// JSONSchemaAlias tells the schema generator the form of the JSON.
func (Entry) JSONSchemaAlias() any { return wire{} }

// MarshalJSON writes the entry with its times in UTC, to the millisecond.
func (e Entry) MarshalJSON() ([]byte, error) {
	w := wire{ID: e.ID, Job: e.Job, Kind: e.Kind, At: e.At.UTC().Format(stamp), By: e.By, Body: e.Body, Over: e.Over, Seq: e.Seq, Device: e.Device, Sender: e.Sender}
	if !e.Arrived.IsZero() {
		w.Arrived = e.Arrived.UTC().Format(stamp)
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads an entry. Its times are RFC 3339 and are cut to the
// millisecond. What the entry says is checked by Check, not here.
func (e *Entry) UnmarshalJSON(data []byte) error {
	var w wire
	if err := json.Unmarshal(data, &w); err != nil {
		return err
	}
	at, err := timeOf(w.At)
	if err != nil {
		return err
	}
	arrived, err := timeOf(w.Arrived)
	if err != nil {
		return err
	}
	*e = Entry{ID: w.ID, Job: w.Job, Kind: w.Kind, At: at, By: w.By, Body: w.Body, Over: w.Over, Seq: w.Seq, Arrived: arrived, Device: w.Device, Sender: w.Sender}
	return nil
}

// timeOf reads a time, the zero time from "".
func timeOf(s string) (at time.Time, err error) {
	if s != "" {
		at, err = time.Parse(time.RFC3339, s)
	}
	return at.UTC().Truncate(time.Millisecond), err
}

// Same reports whether two entries say the same. JSON that means the same may
// be written differently: a phone that sends it again has read it before.
func Same(a, b Entry) bool {
	return a.ID == b.ID && a.Job == b.Job && a.Kind == b.Kind && a.At.UnixMilli() == b.At.UnixMilli() && a.By == b.By &&
		(bytes.Equal(a.Body, b.Body) || meansSame(a.Body, b.Body))
}

func meansSame(a, b json.RawMessage) bool {
	var one, two any
	return json.Unmarshal(a, &one) == nil && json.Unmarshal(b, &two) == nil && reflect.DeepEqual(one, two)
}

// Compare orders entries as a job has them: by time, then by id.
func Compare(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.At.UnixMilli(), b.At.UnixMilli()), cmp.Compare(a.ID, b.ID))
}

// compareArrival orders entries by their arrival at the server; those that are not
// there yet come after, in the order of Compare. It decides which sketch and
// settings apply: a clock that is wrong cannot bend it.
func compareArrival(a, b Entry) int {
	return cmp.Or(cmp.Compare(early(a.Seq), early(b.Seq)), Compare(a, b))
}

// early has 0, not yet there, come last.
func early(seq int64) uint64 { return uint64(seq) - 1 }

// prefer orders entries of one id. The server keeps the one that came first;
// otherwise the order only has to be the same everywhere.
func prefer(a, b Entry) int {
	return cmp.Or(compareArrival(a, b), cmp.Compare(a.Job, b.Job),
		cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.By, b.By), bytes.Compare(a.Body, b.Body), cmp.Compare(a.Device, b.Device))
}
