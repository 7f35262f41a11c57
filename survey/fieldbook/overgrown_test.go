package fieldbook_test

import (
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/fieldbook"
)

// TestOvergrownFiles has each reader refuse what would take many times the size of
// the file, by name, in less than a second and 200 MB.
func TestOvergrownFiles(t *testing.T) {
	const many = 1_000_000
	readings := func(s string) asbuilt.Problems {
		_, p := fieldbook.DecodeReadings(strings.NewReader(s), "readings.csv", geo.Foot)
		return p
	}
	settings := func(s string) asbuilt.Problems {
		_, p := fieldbook.DecodeSettings(strings.NewReader(s), "job.json")
		return p
	}
	gpx := func(s string) asbuilt.Problems {
		_, p := fieldbook.DecodeGPX(strings.NewReader(s), "lot.gpx")
		return p
	}
	nmea := func(s string) asbuilt.Problems {
		_, p := fieldbook.DecodeNMEA(strings.NewReader(s), "A.nmea", "A")
		return p
	}
	for _, tt := range []struct {
		name, text, want string
		read             func(string) asbuilt.Problems
	}{
		{"columns of the header", "kind" + strings.Repeat(",a", many-1) + "\n", "readings.csv, row 1: found 1000000 columns; want at most 100", readings},
		{"columns of a row", "kind,note\n\"condition\n\",wet\ncondition" + strings.Repeat(",", many-1), "readings.csv, row 4: found 1000000 columns; want at most 100", readings},
		{"depth of settings", `{"office": ` + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000) + "}", "job.json", settings},
		{"elements of GPX", "<gpx>" + strings.Repeat("<a>", many) + strings.Repeat("</a>", many) + "</gpx>", "lot.gpx: found elements more than 64 deep within one another", gpx},
		{"elements of a waypoint", `<gpx><wpt lat="1" lon="2"><!-- > -->` + strings.Repeat("<a>", many), "lot.gpx: found elements more than 64 deep within one another", gpx},
		{"attributes", `<gpx><wpt lat="1"` + strings.Repeat(` a=">"`, many) + "/></gpx>", "lot.gpx: found an element with 1000001 attributes", gpx},
		{"entities", `<!DOCTYPE gpx [<!ENTITY a "` + strings.Repeat("x", many) + `">]><gpx><wpt lat="1" lon="2"><name>` + strings.Repeat("&a;", many) + "</name></wpt></gpx>", "lot.gpx", gpx},
		{"fields of a sentence", signed("GPGGA" + strings.Repeat(",", many)), "A.nmea", nmea},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			problems := tt.read(tt.text)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			require.NotEmpty(t, problems)
			assert.Contains(t, problems[0].String(), tt.want)
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(200<<20), "bytes")
			assert.Less(t, took, time.Second)
		})
	}
}

// A table of exactly as many columns as there may be is read, whatever its cells hold.
func TestAsManyColumnsAsThereMayBe(t *testing.T) {
	head := "kind,target,note" + strings.Repeat(",", fieldbook.MaxColumns-3)
	readings, problems := decode(head + "\ncondition,L1,\"" + strings.Repeat(",\n", 200) + "\"\n")
	require.Empty(t, problems)
	assert.Len(t, readings, 1)
}

// Deep elements side by side, empty ones, comments and sections are not depth.
func TestManyElementsAreNotDeep(t *testing.T) {
	s := `<?xml version="1.0"?><gpx>` + strings.Repeat(`<extensions><a b="/>"/><!-- <c> --><![CDATA[<d>]]></extensions>`, 1000) + `<wpt lat="1" lon="2"><name>A</name></wpt></gpx>`
	readings, problems := fieldbook.DecodeGPX(strings.NewReader(s), "lot.gpx")
	require.Empty(t, problems)
	assert.Len(t, readings, 1)
}
