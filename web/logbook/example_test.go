package logbook_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"asfound/web/entry"
	"asfound/web/logbook"
)

func ExampleStore_Take() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	b, err := logbook.Open(filepath.Join(folder, "asfound.db"))
	if err != nil {
		fmt.Println(err)
		return
	}
	defer b.Close()
	e := entry.Entry{ID: "01JX4W8Z0K3V5T7Q9R2B4D6F8H", Job: lot, Kind: entry.KindReading, At: noon, By: "Phone 1",
		Body: json.RawMessage(`{"kind": "tape", "from": "A", "to": "H1", "value": "43'6\""}`)}
	for range 2 { // the answer to the first was lost on the way
		taken, err := b.Take(context.Background(), "01JX4W7M5N6P8S0V2X4Z6B8D0H", []entry.Entry{e})
		fmt.Println(taken.Accepted, err)
	}
	j, err := b.Job(context.Background(), lot)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(j.Rows), "reading:", j.Rows[0]["value"])
	// Output:
	// [01JX4W8Z0K3V5T7Q9R2B4D6F8H] <nil>
	// [01JX4W8Z0K3V5T7Q9R2B4D6F8H] <nil>
	// 1 reading: 43'6"
}
