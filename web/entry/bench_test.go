package entry_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/web/entry"
)

// BenchmarkRead measures what each look at a phone's job begins with. One row
// in twenty does not fit the sketch, and as many withdraw such a row.
func BenchmarkRead(b *testing.B) {
	for _, n := range []int{60, 2000} {
		j := entry.Job{Sketch: json.RawMessage(sketch)}
		for i := range n {
			row := map[string]string{"id": fmt.Sprintf("id %d", i), "kind": "tape", "from": "A", "to": fmt.Sprintf("H%d", i/2), "value": "43'6\"", "by": "Phone 1", "note": "dry"}
			switch i % 20 {
			case 7:
				row = map[string]string{"id": row["id"], "kind": "found", "point": "H1", "target": "L9", "depth": "2"}
			case 8:
				row = map[string]string{"id": row["id"], "kind": "void", "target": fmt.Sprintf("id %d", i-1)}
			}
			j.Rows = append(j.Rows, row)
		}
		b.Run(fmt.Sprint(n, " rows"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				job, aside := j.Read()
				require.NotNil(b, job)
				require.Len(b, aside, n/10)
			}
		})
	}
}
