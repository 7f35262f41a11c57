package geojson_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt/geojson"
)

const aBox = `{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[5,5]},"properties":{"part":"box"}}`

// withBox returns a sketch in feet of a box and other features.
func withBox(features string) string {
	return `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[` + aBox + `,` + features + `]}`
}

// withSketch returns a sketch of a box with a member sketch.
func withSketch(sketch string) string {
	return `{"type":"FeatureCollection","sketch":` + sketch + `,"features":[` + aBox + `]}`
}

// problemCase is a faulty file and every line that is to be said of it, less
// the name of the file. The rules are those of RFC 7946 and RFC 8259 where the
// line says so, else of the package doc.
type problemCase struct {
	name, text string
	want       []string
}

func TestProblems(t *testing.T) {
	for group, cases := range map[string][]problemCase{
		"file":     problemsOfFile,
		"sketch":   problemsOfSketch,
		"features": problemsOfFeatures,
		"geometry": problemsOfGeometry,
		"wgs84":    problemsOfWgs84,
		"written":  problemsOfWritten,
	} {
		for _, tt := range cases {
			t.Run(group+"/"+tt.name, func(t *testing.T) {
				s, problems := geojson.Decode(strings.NewReader(tt.text), "sketch.geojson")
				assert.Nil(t, s)
				var got []string
				for _, p := range problems {
					assert.Equal(t, "sketch.geojson", p.File)
					p.File = ""
					got = append(got, strings.TrimPrefix(p.String(), ": "))
				}
				assert.Equal(t, tt.want, got)
			})
		}
	}
}
