package geojson_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt/geojson"
	"asfound/asbuilt/practice"
)

// FuzzDecode gives Decode anything. What it refuses, it must refuse with a
// message of bounded length; what it accepts, it must write and read back as
// the same sketch.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(sample))
	for _, cases := range [][]problemCase{problemsOfFile, problemsOfSketch, problemsOfFeatures, problemsOfGeometry, problemsOfWgs84, problemsOfWritten} {
		for _, tt := range cases {
			f.Add([]byte(tt.text))
		}
	}
	f.Add([]byte(`{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[180,75]},"properties":{"part":"box"}}]}`))
	f.Add([]byte("\xEF\xBB\xBF" + strings.Repeat("[", 70)))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, problems := geojson.Decode(bytes.NewReader(data), "s")
		for _, p := range problems {
			require.NotEmpty(t, p.Want)
			require.LessOrEqual(t, len(p.String()), 1000)
		}
		if s == nil {
			require.NotEmpty(t, problems)
			return
		}
		require.Empty(t, problems)
		practice.Cautions(s)
		for i := range s.Parts {
			s.BoxOf(&s.Parts[i])
		}
		var b bytes.Buffer
		require.NoError(t, geojson.Encode(&b, s))
		back, problems := geojson.Decode(bytes.NewReader(b.Bytes()), "s")
		require.NoError(t, problems.Err(), b.String())
		require.Len(t, back.Parts, len(s.Parts))
		for i, p := range back.Parts {
			assert.Equal(t, s.Parts[i].ID, p.ID)
			assert.Len(t, p.Shapes, len(s.Parts[i].Shapes))
		}
	})
}
