package fieldbook_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fieldbook"
)

const settingsText = `{"title": "Invented lot 9", "permit": "INVENTED-9", "unit": "m", "site": {"lon": -123.4, "lat": -48.9, "accuracy": 60},
 "crs": "EPSG:32617", "hole": {"radius": 0.2, "depth_limit": "8 ft"}, "entry_depth": "4 ft", "seek": "box", "declination": -7.5, "follow": {"pipe": 2.5, "loses": 0.3}, "rod": {"stones": 0.1}}`

func TestSettings(t *testing.T) {
	s, problems := fieldbook.DecodeSettings(strings.NewReader(settingsText), "job.json")
	require.Empty(t, problems)
	assert.Equal(t, geo.Metre, s.Unit)
	assert.Equal(t, 32617, s.EPSG)
	assert.Equal(t, 0.2, s.Hole.Radius)
	assert.InDelta(t, 8*0.3048, s.Hole.DepthLimit, 1e-12)
	assert.InDelta(t, 1.2192, s.EntryDepth, 1e-12)
	assert.InDelta(t, -7.5, s.Declination.Degrees(), 1e-12)
	assert.Equal(t, 60.0, s.Site.Accuracy)
	assert.Equal(t, survey.Following{Pipe: 2.5, Trench: 3, Loses: 0.3}, s.Following(), "what is not said is as usual")

	assert.Equal(t, survey.Rodding{Hits: 0.85, Stones: 0.1}, s.Rodding(), "what is not said is as usual")

	s, problems = fieldbook.DecodeSettings(strings.NewReader(`{"tools": {"cable": {}, "sonde": {"minutes": 30, "open": 15}}}`), "job.json")
	require.Empty(t, problems)
	assert.Equal(t, []survey.Pushing{{Name: "cable", Open: 60, Minutes: 15, Reaches: 0.85}, {Name: "sonde", Open: 15, Minutes: 30, Reaches: 0.85}}, s.Pushing)
	crew, rod := s.Crew()
	require.Len(t, crew, 1)
	assert.Equal(t, "shovel", crew[0].Name, "what is pushed digs nothing")
	assert.Nil(t, rod)

	s, problems = fieldbook.DecodeSettings(strings.NewReader("{}"), "job.json")
	require.Empty(t, problems)
	assert.Equal(t, survey.DefaultSettings(), s)
}

func TestSettingsProblems(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{``, `job.json`},
		{`[1]`, `want one JSON object`},
		{"{\"title\": \"a\",\n \"unit\" \"ft\"}", `job.json, line 2`},
		{`{"unti": "m"}`, `job.json, unti: found "m"; want unit, if that was meant`},
		{`{"unit": "yd"}`, `job.json, unit: found "yd"; want "ft" or "m"`},
		{`{"title": 7}`, `job.json, title: found 7; want text in double quotes`},
		{`{"site": {"lon": 200, "lat": 3}}`, `job.json, site: found`},
		{`{"site": {"lon": 20}}`, `want an object such as {"lon"`},
		{`{"crs": "EPSG:1"}`, `job.json, crs: found "EPSG:1"; want an EPSG code`},
		{`{"hole": {"radius": -1}}`, `job.json, hole.radius: found -1`},
		{`{"hole": 3}`, `job.json, hole: found 3`},
		{`{"follow": 3}`, `job.json, follow: found 3; want an object such as {"pipe": 5`},
		{`{"follow": {"pipe": -1}}`, `job.json, follow.pipe: found -1; want minutes a metre, 0 or more`},
		{`{"follow": {"loses": 15}}`, `job.json, follow.loses: found 15; want the chance to lose a line on 5 m, 0 to 1`},
		{`{"follow": {"trenches": 3}}`, `job.json, follow.trenches: found 3; want pipe, trench (minutes a metre) or loses`},
		{`{"tools": {"cable": 3}}`, `job.json, tools.cable: found 3; want an object, {} for the usual`},
		{`{"tools": {"cable": {"reaches": 85}}}`, `job.json, tools.cable.reaches: found 85; want the chance that it gets to what is sought, 0 to 1`},
		{`{"tools": {"sonde": {"open": -1}}}`, `job.json, tools.sonde.open: found -1; want minutes, 0 or more`},
		{`{"tools": {"sonde": {"radius": 1}}}`, `job.json, tools.sonde.radius: found 1; want open, minutes (minutes) or reaches (a chance)`},
		{`{"rod": 3}`, `job.json, rod: found 3; want an object such as {"hits": 0.85, "stones": 0.02}`},
		{`{"rod": {"hits": 85}}`, `job.json, rod.hits: found 85; want a chance between 0.001 and 0.999`},
		{`{"rod": {"hits": "often"}}`, `job.json, rod.hits: found "often"; want a chance`},
		{`{"rod": {"misses": 0.2}}`, `job.json, rod.misses: found 0.2; want hits or stones`},
		{`{"rod": {"hits": 0.3, "stones": 0.4}}`, `want hits above stones`},
		{`{"entry_depth": "deep"}`, `job.json, entry_depth: found "deep"`},
		{`{"declination": 999}`, `job.json, declination: found 999`},
	} {
		_, problems := fieldbook.DecodeSettings(strings.NewReader(tt.text), "job.json")
		require.NotEmpty(t, problems, tt.text)
		assert.Contains(t, problems.Error(), tt.want)
	}
}

// Sentences with their checksums from published NMEA 0183 examples; each row
// names its source.
func TestPublishedSentences(t *testing.T) {
	file, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "nmea.csv"))
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	good, bad := 0, 0
	for _, row := range rows[1:] {
		_, problems := fieldbook.DecodeNMEA(strings.NewReader(row[column["sentence"]]+"\r\n"), "A.nmea", "A")
		damaged := false
		for _, p := range problems {
			damaged = damaged || strings.Contains(p.Found, "checksum")
		}
		if row[column["valid"]] == "yes" {
			assert.False(t, damaged, row[0])
			good++
		} else {
			assert.True(t, damaged, row[0])
			bad++
		}
	}
	assert.Positive(t, good)
	assert.Positive(t, bad)
}

// The sentence of many receivers' manuals: 48° 07.038′ N, 11° 31.000′ E.
const manual = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47"

func TestNMEA(t *testing.T) {
	r, problems := fieldbook.DecodeNMEA(strings.NewReader(manual+"\n"+manual+"\n"), "corner.nmea", "corner")
	require.Empty(t, problems)
	require.Len(t, r, 1, "the epochs of a file are one fix")
	assert.Equal(t, "corner", r[0].Point)
	assert.InDelta(t, 48+7.038/60, r[0].Position.Lat.Degrees(), 1e-12)
	assert.InDelta(t, 11+31.0/60, r[0].Position.Lon.Degrees(), 1e-12)
	one, _ := fieldbook.DecodeNMEA(strings.NewReader(manual), "corner.nmea", "corner")
	assert.Equal(t, one[0].Accuracy, r[0].Accuracy, "more epochs make it no better")

	r, problems = fieldbook.DecodeNMEA(strings.NewReader("$GPGGA,123519,,,,,0,00,,,M,,M,,*6B\n"), "a.nmea", "a")
	assert.Empty(t, r)
	_ = problems
	_, problems = fieldbook.DecodeNMEA(strings.NewReader("hello\n"), "a.nmea", "a")
	assert.Contains(t, problems.Error(), "a sentence that begins with $")
	_, problems = fieldbook.DecodeNMEA(strings.NewReader(strings.Replace(manual, "*47", "*48", 1)), "a.nmea", "a")
	assert.Contains(t, problems.Error(), "line 1: found checksum 48; want 47")
}

const gpx = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">
 <wpt lat="-48.9" lon="-123.4"><time>2026-05-04T09:30:00Z</time><name>A</name><hdop>1.5</hdop></wpt>
 <wpt lat="-48.9001" lon="-123.4001"><name>H1</name></wpt>
</gpx>`

func TestGPX(t *testing.T) {
	r, problems := fieldbook.DecodeGPX(strings.NewReader(gpx), "lot.gpx")
	require.Empty(t, problems)
	require.Len(t, r, 2)
	assert.Equal(t, "A", r[0].Point)
	assert.InDelta(t, 1.5*4.9, r[0].Accuracy, 1e-12)
	assert.InDelta(t, 4.9, r[1].Accuracy, 1e-12)
	for _, tt := range []struct{ text, want string }{
		{"", "no GPX element"},
		{"<kml/>", "found <kml>; want a GPX file"},
		{"<gpx><wpt lat='1' lon='2'></gpx>", "lot.gpx, line 1"},
		{"<gpx><wpt lat='1' lon='2'/></gpx>", "want the name of the landmark"},
		{"<gpx><wpt lat='100' lon='2'><name>A</name></wpt></gpx>", "look swapped"},
		{"<gpx><wpt lat='x' lon='2'><name>A</name></wpt></gpx>", "want decimal degrees"},
	} {
		_, problems := fieldbook.DecodeGPX(strings.NewReader(tt.text), "lot.gpx")
		require.NotEmpty(t, problems, tt.text)
		assert.Contains(t, problems.Error(), tt.want)
	}
}

func FuzzDecodeSettings(f *testing.F) {
	f.Add(settingsText)
	f.Add(`{"hole": {"radius": 1e308}, "site": null, "seek": null}`)
	f.Fuzz(func(t *testing.T, text string) {
		s, problems := fieldbook.DecodeSettings(strings.NewReader(text), "job.json")
		if len(problems) == 0 && (s.Hole.Radius <= 0 || s.EntryDepth <= 0) {
			t.Fatalf("%+v", s)
		}
	})
}

func FuzzDecodeGPX(f *testing.F) {
	f.Add(gpx)
	f.Add(`<!DOCTYPE a [<!ENTITY b "c">]><gpx>&b;</gpx>`)
	f.Fuzz(func(t *testing.T, text string) {
		r, _ := fieldbook.DecodeGPX(strings.NewReader(text), "lot.gpx")
		for _, x := range r {
			if x.Point == "" || !(x.Accuracy > 0) {
				t.Fatalf("%+v", x)
			}
		}
	})
}

func FuzzDecodeNMEA(f *testing.F) {
	f.Add(manual)
	f.Add("$GNGST,123519.00,1.2,1.0,0.8,45.0,0.9,0.9,1.8*7B")
	f.Fuzz(func(t *testing.T, text string) {
		r, _ := fieldbook.DecodeNMEA(strings.NewReader(text), "a.nmea", "a")
		if len(r) > 1 || len(r) == 1 && !(r[0].Accuracy > 0) {
			t.Fatalf("%+v", r)
		}
	})
}
