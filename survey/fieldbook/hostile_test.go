package fieldbook_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/fieldbook"
)

// signed returns an NMEA 0183 sentence with its checksum, the exclusive or of
// the bytes between $ and * (as in the published sentences).
func signed(body string) string {
	var x byte
	for i := range len(body) {
		x ^= body[i]
	}
	return fmt.Sprintf("$%s*%02X\r\n", body, x)
}

func TestGPXOfAnotherEncoding(t *testing.T) {
	ascii := strings.Replace(gpx, "UTF-8", "ISO-8859-1", 1)
	r, problems := fieldbook.DecodeGPX(strings.NewReader(ascii), "lot.gpx")
	require.Empty(t, problems)
	assert.Len(t, r, 2, "what is declared is of no matter where the bytes are UTF-8")

	_, problems = fieldbook.DecodeGPX(strings.NewReader(strings.Replace(ascii, ">H1<", ">caf\xe9<", 1)), "lot.gpx")
	require.Len(t, problems, 1)
	assert.Equal(t, "lot.gpx, line 4: found bytes that are not UTF-8 (Latin-1 or Windows text?); want text in UTF-8: save the file again in that encoding", problems[0].String())
}

func TestEntitiesAreRefused(t *testing.T) {
	bomb := `<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>` +
		`<gpx><wpt lat="1" lon="2"><name>&b;</name></wpt></gpx>`
	r, problems := fieldbook.DecodeGPX(strings.NewReader(bomb), "lot.gpx")
	assert.Empty(t, r)
	require.Len(t, problems, 1)
	assert.Contains(t, problems[0].Found, "invalid character entity &b;")
}

func TestLonelyCarriageReturns(t *testing.T) {
	r, problems := decode("kind,from,to,value\rtape,A,B,4\rtape,A,C,5\r")
	require.Empty(t, problems)
	require.Len(t, r, 2)
	assert.Equal(t, "C", r[1].To)
}

func TestHostileLogs(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"zero byte", "kind,note,target\ncondition,wet,L1\ncondition," + strings.Repeat("x", 70) + "\x00,L1\n", "text without zero bytes"},
		{"far too long", "kind,from,to,value\ntape,A,B,1e308\n", "found \"1e308\"; want a length between 0 m and 10000 m"},
		{"beyond numbers", "kind,from,to,value\ntape,A,B,1e999\n", "found \"1e999\": too large a number"},
		{"minus infinity", "kind,from,to,value\ntape,A,B,-Inf\n", "not a finite number"},
		{"quote within", "kind,from,to,value\ntape,A,B,43'6\"\n", `inner quotes doubled: "43'6"""`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r, problems := decode(tt.text)
			require.Len(t, problems, 1)
			assert.LessOrEqual(t, len(r), 1)
			assert.Contains(t, problems[0].String(), tt.want)
		})
	}
}

// The fix of a file is no better than the scatter of its epochs, and a file
// that was logged while walking is not a fix of one point. A minute of latitude
// at 48° is 1853 m (Snyder, Map Projections, USGS PP 1395, radius of curvature
// in the meridian), so 0.01′ is 18.5 m.
func TestEpochsThatScatter(t *testing.T) {
	epoch := func(minutes string) string {
		return signed("GNGGA,120000,4807." + minutes + ",N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,")
	}
	r, problems := fieldbook.DecodeNMEA(strings.NewReader(epoch("030")+epoch("050")), "A.nmea", "A")
	require.Empty(t, problems)
	assert.InDelta(t, 18.53, r[0].Accuracy, 0.02)
	assert.InDelta(t, 48+7.04/60, r[0].Position.Lat.Degrees(), 1e-9)

	gst := signed("GNGST,120000,1.2,1.0,0.8,45.0,0.9,0.6,1.8")
	r, problems = fieldbook.DecodeNMEA(strings.NewReader(epoch("030")+gst), "A.nmea", "A")
	require.Empty(t, problems)
	assert.InDelta(t, 0.6, r[0].SigmaENU[0], 1e-12, "longitude is east")
	assert.InDelta(t, 0.9, r[0].SigmaENU[1], 1e-12)

	_, problems = fieldbook.DecodeNMEA(strings.NewReader(epoch("030")+epoch("130")), "A.nmea", "A")
	require.Len(t, problems, 1)
	assert.Equal(t, "A.nmea: found epochs 185 m apart; want fixes of one point", problems[0].String())
}

func TestQualitiesThatAreNoFix(t *testing.T) {
	for quality, fix := range map[string]bool{"0": false, "1": true, "2": true, "4": true, "5": true, "6": false, "7": false, "8": false} {
		r, problems := fieldbook.DecodeNMEA(strings.NewReader(
			signed("GPGGA,120000,4807.038,N,01131.000,E,"+quality+",08,0.9,545.4,M,46.9,M,,")), "A.nmea", "A")
		assert.Empty(t, problems, quality)
		assert.Equal(t, fix, len(r) == 1, quality)
	}
	_, problems := fieldbook.DecodeNMEA(strings.NewReader(signed("GPGGA,120000,4807.038,N,01131.000,E,9,08,0.9,,,,,,")), "A.nmea", "A")
	require.Len(t, problems, 1)
	assert.Equal(t, `A.nmea, line 1, GPGGA: found "9"; want a fix quality, 0 to 8, in field 6`, problems[0].String())
	_, problems = fieldbook.DecodeNMEA(strings.NewReader(signed("GPRMC,092750.000,A,5321.6802,N,00630.3372,W,0.02,31.66,280511,,,A")), "A.nmea", "A")
	require.Len(t, problems, 1)
	assert.Equal(t, "no GGA sentence", problems[0].Found)
}

func TestSettingsOfNothing(t *testing.T) {
	_, problems := fieldbook.DecodeSettings(strings.NewReader("null"), "job.json")
	require.Len(t, problems, 1)
	assert.Contains(t, problems[0].Want, "one JSON object")
	_, problems = fieldbook.DecodeSettings(strings.NewReader("{\"hole\": [1,\n\n2]}"), "job.json")
	require.Len(t, problems, 1)
	assert.Equal(t, "[1, 2]", problems[0].Found, "in one line")
}
