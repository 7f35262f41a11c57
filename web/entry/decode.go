package entry

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// Refused is an entry that was not taken, and why.
type Refused struct {
	ID    string `json:"id"`
	Error string `json:"error"` // every problem, a line each
}

// Decode reads {"entries": [...]} and checks each entry: a bad one does not
// keep the others from being taken. The error is for text that is not such an
// object at all.
func Decode(data []byte) (good []Entry, refused []Refused, err error) {
	var whole struct {
		Entries []json.RawMessage `json:"entries"`
	}
	if err := json.Unmarshal(data, &whole); err != nil {
		return nil, nil, fmt.Errorf(`found something other than {"entries": [...]}: %w`, err)
	}
	if whole.Entries == nil {
		return nil, nil, errors.New(`found no member entries; want {"entries": [...]}`)
	}
	for _, raw := range whole.Entries {
		var e Entry
		err := json.Unmarshal(raw, &e)
		if err == nil {
			e.Seq, e.Arrived, e.Device, e.Sender = 0, time.Time{}, "", "" // the server says these
			err = e.Check()
		}
		if err != nil {
			var name struct{ ID string }
			_ = json.Unmarshal(raw, &name) // only to name it; it may have none
			refused = append(refused, Refused{name.ID, err.Error()})
			continue
		}
		good = append(good, e)
	}
	return good, refused, nil
}
