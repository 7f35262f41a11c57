package browser

import (
	"archive/zip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// latest returns the reading of a kind that was logged last.
func (b *tab) latest(kind string) map[string]string {
	b.t.Helper()
	all := b.logged(kind)
	require.NotEmpty(b.t, all)
	return all[len(all)-1]
}

// TestSeenWithoutDigging puts in what a crew sees beside what it digs for: a tree to tape
// from, a rock, a line of somebody else, notes and photos; on a small phone without a
// network. Then the desk has all of it, and so has a stranger who is handed the folder.
func TestSeenWithoutDigging(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	lead := s.desk()
	b := s.joined(smallPhone, "Phone one")
	s.stop()
	b.do(reload)
	b.settled()

	// A tree. Its name may not be that of a landmark, nor nearly so.
	b.press("Measure")
	b.press("a new point")
	b.fill("Name of the point", "A")
	b.sees("There is something called A already.")
	b.fill("Name of the point", "f")
	b.fill("What it is", "oak, 2 ft thick")
	b.upload("Add photos", "../../testdata/scans/permit.jpg")
	b.wait(`document.querySelector(".photos img")?.naturalWidth > 0`)
	b.look("phone-point")
	b.keys("45'6")
	b.press("Next: from")
	b.keys("71'2")
	b.press("Save the point")
	b.sees("f is a new name; did you mean F?")
	b.look("phone-point-close")
	b.press("Mend it")
	b.fill("Name of the point", "Oak")
	b.press("Save the point")
	b.kept()
	note := b.latest("condition")
	assert.Equal(t, []string{"Oak", "oak, 2 ft thick"}, []string{note["target"], note["note"]})
	tapes := b.logged("tape")
	for i, value := range []string{`45'6"`, `71'2"`} {
		r := tapes[len(tapes)-2+i]
		assert.Equal(t, []string{"Oak", value}, []string{r["to"], r["value"]})
	}
	assert.NotEqual(t, tapes[len(tapes)-2]["from"], tapes[len(tapes)-1]["from"])
	b.settled()

	// Tapes start from it.
	b.press("Measure")
	b.wait(`[...document.querySelectorAll("option")].some((o) => o.innerText === "Oak: oak, 2 ft thick")`)
	b.press("Back")

	// A rock a foot down, where the plan says to dig; it turns out to be a root.
	b.press("Log a hole")
	b.sees("as proposed:")
	proposed := proposal.FindString(b.text())
	require.NotEmpty(t, proposed)
	b.press("○ Nothing")
	b.press("on rock")
	b.sees("Nothing is concluded about what lies deeper")
	b.keys("1'0")
	b.look("phone-rock")
	b.press("Save")
	b.kept()
	rock := b.latest("empty")
	assert.Equal(t, []string{"rock", `1'0"`}, []string{rock["stopped"], rock["depth"]})
	b.settled()
	b.press("Log a hole")
	b.sees("as proposed:")
	assert.NotEqual(t, proposed, proposal.FindString(b.text()), "nobody is sent onto the rock again")
	b.press("Back")
	b.press("More")
	b.press("Correct: " + rock["point"] + " met nothing down to 1'0\", stopped on rock")
	b.press("at roots")
	b.look("phone-correct-stopped")
	b.press("Save the correction")
	b.kept()
	assert.Equal(t, "root", b.latest("empty")["stopped"])

	// Somebody else's line.
	b.press("Log a hole")
	b.press("Two tapes")
	b.sees("First tape from")
	b.keys("44'6")
	b.press("Next: from")
	b.keys("68'2")
	b.press("Next: what")
	b.press("▲ A line of something else")
	b.sees("Stop here: it may be live.")
	b.keys("1'6")
	b.look("phone-unknown-line")
	b.press("Save")
	if strings.Contains(b.text(), "Is that so?") {
		b.press("It is so")
	}
	b.kept()
	line := b.latest("empty")
	assert.Equal(t, []string{"utility", `1'6"`}, []string{line["stopped"], line["depth"]})
	b.sees("met a line that is not of this system. Stop there until its owner has marked it")
	b.settled()
	b.look("phone-unknown-line-plan")

	// Notes, of a hole with a photo and of the whole job.
	b.press("Measure")
	b.press("a note, photos")
	b.fill("About", rock["point"])
	b.fill("What was seen", "root of the oak, as thick as an arm")
	b.upload("Add photos", "../../testdata/scans/permit.jpg")
	b.wait(`document.querySelector(".photos img")?.naturalWidth > 0`)
	b.press("Save")
	b.kept()
	hole := b.latest("condition")
	b.press("Measure")
	b.press("a note, photos")
	b.fill("About", "job")
	b.fill("What was seen", "gate code from the owner; dog")
	b.look("phone-note-job")
	b.press("Save")
	b.sees("note on the job: gate code")
	b.kept()
	b.visit(s.url + "/#/measure/" + eval[string](b, `location.hash.split("/")[2]`) + "/note%20A")
	b.wait(`[...document.querySelectorAll("select")].some((e) => e.value === "A")`)
	b.press("Back")

	// The desk.
	s.start()
	b.sent()
	lead.do(reload)
	lead.settled()
	lead.sees("note on Oak: oak, 2 ft thick")
	lead.sees("root of the oak, as thick as an arm")
	lead.sees("gate code from the owner")
	lead.sees("stopped on a line that is not of this system")
	lead.wait(`[...document.querySelectorAll(".photos img")].filter((i) => i.naturalWidth > 0).length === 2`)
	lead.look("desk-notes")

	// The folder, out and into the browser of a stranger.
	out := lead.exported()
	shown := map[string]string{}
	for _, r := range table(t, out["readings.csv"]) {
		if r["photo"] != "" {
			shown[r["id"]] = r["photo"]
			assert.NotEmpty(t, out[r["photo"]], "the picture is in the folder")
		}
	}
	require.Len(t, shown, 2)
	name := filepath.Join(t.TempDir(), "lot.zip")
	f, err := os.Create(name)
	require.NoError(t, err)
	z := zip.NewWriter(f)
	for name, text := range out {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	require.NoError(t, f.Close())
	other := open(t, desk)
	other.visit(s.url + "/")
	other.upload("A zip, or the files", name)
	other.settled()
	other.sees("note on " + hole["target"] + ": root of the oak")
	other.wait(`[...document.querySelectorAll(".photos img")].filter((i) => i.naturalWidth > 0).length === 2`)
	assert.Equal(t, out, other.exported(), "file by file, byte by byte")
	assert.Empty(t, append(b.log, append(lead.log, other.log...)...), "exceptions")
}

// TestNewPointInMetres places points in the other ways, at a desk.
func TestNewPointInMetres(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	b.bring("two-tapes")
	b.press("Measure")
	b.press("a new point")
	b.fill("Name of the point", "Lid")
	b.press("a bearing and a tape")
	b.keys("112.5")
	b.press("Next: the tape")
	b.keys("9.4")
	b.look("desk-point-bearing")
	b.press("Save the point")
	b.sees("point Lid")
	r := b.latest("bearing")
	assert.Equal(t, []string{"A", "Lid", "112.5", "magnetic"}, []string{r["from"], r["to"], r["value"], r["north"]})
	tape := b.latest("tape")
	assert.Equal(t, []string{"A", "Lid", "9.4 m"}, []string{tape["from"], tape["to"], tape["value"]})
	b.settled()

	// B is 11.47 m from A and 8.20 m from C by the log: a point there is B once more.
	b.press("Measure")
	b.press("a new point")
	b.press("two tapes")
	b.fill("First tape from", "A")
	b.fill("Second tape from", "A")
	b.sees("Two tapes from one point do not fix")
	b.fill("Second tape from", "C")
	b.keys("11.5")
	b.press("Next: from C")
	b.keys("8.2")
	b.press("Save the point")
	b.sees("from B: is it the same thing?")
	b.look("desk-point-beside")
	b.press("Mend it")
	b.press("three tapes")
	b.look("desk-point-three")
	assert.Empty(t, b.log, "exceptions")
}
