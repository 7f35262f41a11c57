package browser

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// logged returns the readings of the browser with a kind, as they were logged.
func (b *tab) logged(kind string) []map[string]string {
	b.t.Helper()
	var all [][2]json.RawMessage
	require.NoError(b.t, json.Unmarshal([]byte(b.rows()), &all))
	var out []map[string]string
	for _, e := range all {
		var row map[string]string
		require.NoError(b.t, json.Unmarshal(e[1], &row))
		if row["kind"] == kind {
			out = append(out, row)
		}
	}
	return out
}

// TestMeasure follows what the app says about the tape that was read a foot
// long, then takes the other measurements: a slope, a bearing, a baseline and
// the same again, and a mean of fixes.
func TestMeasure(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	_, err := chromedp.CallBrowser(b.ctx, browser.SetPermission, browser.SetPermissionParams{Permission: &browser.PermissionDescriptor{Name: "geolocation"}, Setting: "granted", Origin: s.url})
	require.NoError(t, err)
	b.bring("demo")
	b.sees("reads 1.00 ft long")
	b.press("Measure again")
	b.keys("49'7")
	b.press("Save instead")
	b.sees("Undo")
	b.settled()
	assert.NotContains(t, b.text(), "reads 1.00 ft long")
	require.Len(t, b.logged("void"), 1, "the old reading is withdrawn, not gone")

	b.press("Measure")
	b.press("tape on a slope")
	b.keys("43'11")
	b.press("Next: how steep")
	b.keys("1'2")
	b.press("Save")
	b.sees("tape A to B")
	tapes := b.logged("tape")
	assert.Equal(t, "1'2\"", tapes[len(tapes)-1]["rise"])

	b.press("Measure")
	b.press("a bearing")
	b.keys("67.5")
	b.sees("67.5 °")
	b.press("Save")
	b.sees("bearing A to B: 67.5°")
	got := b.logged("bearing")[0]
	assert.Equal(t, []string{"A", "B", "67.5", "magnetic"}, []string{got["from"], got["to"], got["value"], got["north"]})

	b.press("Log a hole")
	b.press("Along a wall")
	b.keys("10'")
	b.press("Next: square off it")
	b.press("right")
	b.keys("44'6")
	b.press("Next: what it met")
	b.press("○ Nothing")
	b.press("Save without depth")
	b.kept()
	b.settled()
	b.press("More")
	b.press("Measure again: " + b.logged("baseline")[0]["point"])
	b.keys("10'6")
	b.press("Next: square off it")
	b.press("← left")
	b.keys("2'")
	b.press("Save instead")
	b.sees("measured again")
	lines := b.logged("baseline")
	require.Len(t, lines, 2)
	assert.Equal(t, []string{"10'6\"", "-2'0\""}, []string{lines[1]["value"], lines[1]["offset"]})

	// The receiver, once good and twice poor: time, count and spread are shown,
	// and the mean is that of least squares, each fix weighted by its accuracy.
	b.stand(-123.40000, -48.90000, 3)
	b.press("Log a hole")
	b.press("Phone position")
	b.sees("within 3.0 m")
	b.sees("1 fix.")
	for i, f := range [][2]float64{{-123.39998, 6}, {-123.39997, 6}} {
		b.stand(f[0], -48.90000, f[1])
		b.sees([]string{"2 fixes", "3 fixes"}[i])
	}
	b.sees("within 6.0 m")
	b.wait(`Number(document.querySelector("progress").value) >= 1`)
	b.look("phone-fix")
	b.press("Use this position")
	b.press("○ Nothing")
	b.press("Save without depth")
	b.kept()
	fixes := b.logged("gnss")
	fix := fixes[len(fixes)-1]
	assert.Equal(t, "6.00", fix["accuracy"], "fixes of a minute err together")
	assert.Regexp(t, `^mean of 3 fixes in \d+ s$`, fix["note"])
	var lon float64
	require.NoError(t, json.Unmarshal([]byte(fix["lon"]), &lon))
	mean := (-123.40000/9 - 123.39998/36 - 123.39997/36) / (1./9 + 1./36 + 1./36)
	assert.InDelta(t, 0, math.Abs(lon-mean), 1e-8)

	// Someone who works alone may change what is sought.
	b.settled()
	b.press("More")
	b.press("Dig plan")
	b.sees("go to hole 2A")
	b.look("phone-digplan")
	b.fill("Sought", "tank")
	b.press("Back")
	b.wait(`document.querySelector(".fact dd")?.innerText === "the tank"`)
	b.settled()
	assert.Empty(t, b.log, "exceptions")
}
