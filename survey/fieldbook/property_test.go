package fieldbook_test

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/fieldbook"
)

// Fixes, bearings, times and words come back as they were, whatever they hold:
// angles to 1e-9 degrees, which is 0.1 mm on the ground.
func TestRoundTripOfTheRest(t *testing.T) {
	words := rapid.StringMatching(`[A-Za-zäß"',;#=+][A-Za-z0-9äß "',;\n]{0,20}[A-Za-z0-9]`)
	rapid.Check(t, func(t *rapid.T) {
		p, err := geodesy.New(rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat"))
		if err != nil {
			t.Fatal(err)
		}
		doubt := geo.Degrees(rapid.Float64Range(0.001, 180).Draw(t, "sigma"))
		at := time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "time"), rapid.Int64Range(0, 999_999_999).Draw(t, "ns")).UTC()
		name := words.Draw(t, "name")
		want := []survey.Reading{
			{ID: "a", Kind: survey.GNSS, Point: name, Position: p, Accuracy: rapid.Float64Range(0.001, 1e4).Draw(t, "accuracy"), Time: at, Note: words.Draw(t, "note")},
			{ID: "b", Kind: survey.Bearing, From: name, To: "elsewhere", Azimuth: geo.Degrees(rapid.Float64Range(0, 360).Draw(t, "azimuth")), North: survey.TrueNorth, SigmaA: &doubt},
			{ID: words.Draw(t, "id"), Kind: survey.Condition, Target: name, Note: words.Draw(t, "note"), By: words.Draw(t, "by")},
		}
		var b bytes.Buffer
		if err := fieldbook.EncodeReadings(&b, want); err != nil {
			t.Fatal(err)
		}
		got, problems := decode(b.String())
		if len(problems) > 0 || len(got) != len(want) {
			t.Fatalf("%v\n%s", problems, b.String())
		}
		near := func(what string, a, b geo.Angle) {
			if d := a.Degrees() - b.Degrees(); d > 1e-9 || d < -1e-9 {
				t.Fatalf("%s %v came back as %v", what, a.Degrees(), b.Degrees())
			}
		}
		near("longitude", want[0].Position.Lon, got[0].Position.Lon)
		near("latitude", want[0].Position.Lat, got[0].Position.Lat)
		near("azimuth", want[1].Azimuth, got[1].Azimuth)
		near("doubt", *want[1].SigmaA, *got[1].SigmaA)
		for i, r := range want {
			g := got[i]
			before := fmt.Sprintf("%q", []string{r.ID, string(r.Kind), r.Point, r.From, r.To, r.Target, r.By, r.Note, fmt.Sprint(r.Accuracy), r.Time.String()})
			after := fmt.Sprintf("%q", []string{g.ID, string(g.Kind), g.Point, g.From, g.To, g.Target, g.By, g.Note, fmt.Sprint(g.Accuracy), g.Time.String()})
			if before != after {
				t.Fatalf("%s\ncame back as\n%s", before, after)
			}
		}
	})
}
