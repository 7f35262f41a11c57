package browser

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// noteLooks notes, at each change of the page, the figures of the strip, what is said about them, and
// whether they are a first look.
const noteLooks = `(() => {
	window.looks = [];
	new MutationObserver(() => {
		const s = document.querySelector(".strip");
		const r = s?.querySelector("[data-radius]");
		if (r) looks.push({first: r.innerText.startsWith("≈"), radius: Number(r.dataset.radius), says: s.innerText + document.querySelector(".about")?.innerText});
	}).observe(document.getElementById("app"), {subtree: true, childList: true, characterData: true, attributes: true});
	return true;
})()`

// strip is what the strip showed at one time.
type strip struct {
	First  bool
	Radius float64
	Says   string
}

// TestFound finds the box: the app says so, asks what was seen, asks for no more
// holes and offers the record. The first look claims no more than was known. Another
// phone, which did not know, finds it elsewhere: both phones say so.
func TestFound(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	one := open(t, smallPhone)
	one.join(s.first(), "Phone one")
	one.bring("demo")
	one.sent()
	one.whole()
	two := s.joined(smallPhone, "Phone two")
	s.stop()

	// An empty hole first: what the first look says of it is not set beside what was
	// known, and no less.
	b := one
	before := b.radius()
	eval[bool](b, noteLooks)
	b.press("Log a hole")
	b.sees("as proposed:")
	b.press("○ Nothing")
	b.keys("5'")
	b.press("Save")
	b.kept()
	b.settled()
	looks := eval[[]strip](b, "looks")
	first := slices.DeleteFunc(slices.Clone(looks), func(l strip) bool { return !l.First })
	require.NotEmpty(t, first, "no first look was seen")
	for _, l := range first {
		assert.GreaterOrEqual(t, l.Radius, before)
		assert.NotContains(t, l.Says, "Last reading", "a first look is not compared")
	}
	assert.Contains(t, looks[len(looks)-1].Says, "Last reading")

	b.press("Log a hole")
	b.sees("as proposed:")
	b.press("● the box")
	b.keys("3'9")
	b.press("Save")
	b.sees("The box is found")
	b.sees("No more holes are asked for")
	b.look("phone-found")
	b.press("a corner")
	b.press("4")
	b.sees("The sketch shows 5 trenches.")
	b.fill("Its condition", "lid cracked")
	b.upload("Add photos", "../app/static/icon-192.png")
	b.wait(`document.querySelector("figure img")`)
	b.look("phone-found-seen")
	b.press("Keep what was seen")
	b.sees("Seen: 4 outlets seen; lid cracked; photos")
	b.settled()
	b.look("phone-found-plan")
	notes := b.logged("condition")
	assert.Equal(t, "4 outlets seen; lid cracked; photos", notes[len(notes)-1]["note"])
	var spots []string
	for _, r := range b.standing() {
		if r["target"] == "box" && r["kind"] == "found" {
			spots = append(spots, r["spot"])
		}
	}
	assert.Equal(t, []string{"corner"}, spots)
	assert.NotContains(t, b.described(), "The next hole")
	assert.NotContains(t, b.text(), "Guide me")
	b.press("Make the record")
	b.sees("Corrected as-built")
	b.press("Corrected as-built")
	b.sees("Working …")
	b.wait(`![...document.querySelectorAll("b")].some((e) => e.innerText === "Working …")`)
	assert.NotContains(t, b.text(), "record.pdf:", "the record is made")
	b.press("Back")

	// The other phone finds it 4 m further on.
	b = two
	b.press("Log a hole")
	b.press("Two tapes")
	b.sees("First tape from")
	b.fill("First tape from", "A")
	b.fill("Second tape from", "F")
	b.keys("52'")
	b.press("Next: from")
	b.keys("57'")
	b.press("Next: what")
	b.press("● the box")
	b.keys("3'9")
	b.press("Save")
	b.press("It is so")
	b.sees("The box is found")
	b.press("To the plan")
	b.kept()
	b.settled()

	s.start()
	for _, b := range []*tab{one, two, one} {
		eval[bool](b, `(dispatchEvent(new Event("online")), true)`)
		b.sent()
	}
	for _, b := range []*tab{one, two} {
		b.sees(" both met box, ")
		b.settled()
		assert.NotContains(t, b.described(), "The next hole")
	}
	one.look("phone-found-twice")
	assert.Empty(t, append(one.log, two.log...), "exceptions")
}
