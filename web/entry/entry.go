package entry

import (
	"bytes"
	"cmp"
	"encoding/json"
	"time"
)

// The kinds of entry that Fold reads.
const (
	KindSketch   = "sketch"
	KindSettings = "settings"
	KindReading  = "reading"
	KindFile     = "file"
)

// Entry is one thing that was logged.
type Entry struct {
	ID   string          // made on the device of the entry; see NewID
	Job  string          // id of the job, of the same form
	Kind string          // what Body holds
	At   time.Time       // when, by the clock of the phone; counts to the millisecond
	By   string          // name of the phone
	Body json.RawMessage // see the kinds
	Seq  int64           // order of arrival at the server, from 1; 0: not there yet
}

// stamp is RFC 3339 with all three digits of the millisecond, so that times in
// UTC sort as text too.
const stamp = "2006-01-02T15:04:05.000Z07:00"

// wire is an entry as JSON has it.
type wire struct {
	ID   string          `json:"id" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
	Job  string          `json:"job" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
	Kind string          `json:"kind" jsonschema:"description=sketch\\, settings\\, reading or file; others are kept and passed on"`
	At   string          `json:"at" jsonschema:"format=date-time,description=By the clock of the phone."`
	By   string          `json:"by" jsonschema:"description=Name of the phone."`
	Body json.RawMessage `json:"body" jsonschema:"type=object,description=By the kind."`
	Seq  int64           `json:"seq,omitzero" jsonschema:"description=Order of arrival at the server."`
}

// JSONSchemaAlias tells the schema generator the form of the JSON.
func (Entry) JSONSchemaAlias() any { return wire{} }

// MarshalJSON writes the entry with its time in UTC, to the millisecond.
func (e Entry) MarshalJSON() ([]byte, error) {
	return json.Marshal(wire{e.ID, e.Job, e.Kind, e.At.UTC().Format(stamp), e.By, e.Body, e.Seq})
}

// UnmarshalJSON reads an entry. Its time is RFC 3339 and is cut to the
// millisecond. What the entry says is checked by Check, not here.
func (e *Entry) UnmarshalJSON(data []byte) error {
	var w wire
	if err := json.Unmarshal(data, &w); err != nil {
		return err
	}
	var at time.Time
	if w.At != "" {
		var err error
		if at, err = time.Parse(time.RFC3339, w.At); err != nil {
			return err
		}
	}
	*e = Entry{w.ID, w.Job, w.Kind, at.UTC().Truncate(time.Millisecond), w.By, w.Body, w.Seq}
	return nil
}

// Compare orders entries as a job has them: by time, then by id.
func Compare(a, b Entry) int {
	return cmp.Or(cmp.Compare(a.At.UnixMilli(), b.At.UnixMilli()), cmp.Compare(a.ID, b.ID))
}

// prefer orders entries of one id. The server keeps the one that came first;
// otherwise the order only has to be the same everywhere.
func prefer(a, b Entry) int {
	early := func(seq int64) uint64 { return uint64(seq) - 1 } // 0, not yet there, is last
	return cmp.Or(cmp.Compare(early(a.Seq), early(b.Seq)), Compare(a, b), cmp.Compare(a.Job, b.Job),
		cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.By, b.By), bytes.Compare(a.Body, b.Body))
}
