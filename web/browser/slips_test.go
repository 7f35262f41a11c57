package browser

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/testdata/long"
)

// smallPhone is the hard case: as narrow and as low as phones in use are.
var smallPhone = size{360, 740, true}

// standing returns the readings of the browser that are not withdrawn, by id,
// as the log says it: a row that no void names. Ids of rows without one are those
// of their entries.
func (b *tab) standing() map[string]map[string]string {
	b.t.Helper()
	var all [][2]json.RawMessage
	require.NoError(b.t, json.Unmarshal([]byte(b.rows()), &all))
	rows := map[string]map[string]string{}
	var gone []string
	for _, e := range all {
		var id string
		row := map[string]string{}
		require.NoError(b.t, json.Unmarshal(e[0], &id))
		require.NoError(b.t, json.Unmarshal(e[1], &row))
		if row["kind"] == "void" {
			gone = append(gone, row["target"])
			continue
		}
		if row["id"] != "" {
			id = row["id"]
		}
		rows[id] = row
	}
	for _, id := range gone {
		delete(rows, id)
	}
	return rows
}

// measured returns what the standing readings say, without who logged them when and
// under which id: what the engine computes with.
func (b *tab) measured() []string {
	b.t.Helper()
	var all []string
	for _, row := range b.standing() {
		for _, c := range []string{"id", "time", "by", "replaces"} {
			delete(row, c)
		}
		maps.DeleteFunc(row, func(_, v string) bool { return v == "" })
		text, _ := json.Marshal(row)
		all = append(all, string(text))
	}
	slices.Sort(all)
	return all
}

// kept waits until an entry is kept and the plan is shown again.
func (b *tab) kept() {
	b.t.Helper()
	b.wait(`location.hash.startsWith("#/plan") && document.querySelector(".strip")`)
	b.sees("Undo")
}

// undo presses Undo and waits until it is done.
func (b *tab) undo() {
	b.t.Helper()
	b.press("Undo")
	b.sees("undone: ")
	b.press("Close")
}

// TestSlips makes slips of the thumb on purpose, on a small phone without a
// network, and mends each: what is undone is the last thing done, whole, and
// nothing else. The office then has the same log, with all that was withdrawn.
func TestSlips(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	lead := s.desk()
	lead.visit(s.url + "/#/jobs")
	lead.bring("day-before")
	lead.sent()
	b := s.joined(smallPhone, "Phone one")
	s.stop()
	b.do(reload)
	b.settled()
	start := b.measured()

	// As proposed: the two tapes that were pulled, as they were shown, and no third.
	b.press("Log a hole")
	b.sees("as proposed:")
	shown := proposal.FindStringSubmatch(b.text())
	require.NotNil(t, shown)
	b.press("○ Nothing")
	b.keys("4'")
	b.press("Save")
	b.kept()
	dug := b.measured()
	require.Len(t, dug, len(start)+3, "two tapes and what was met")
	tapes := slices.DeleteFunc(b.logged("tape"), func(r map[string]string) bool { return r["note"] != "as set out" })
	require.Len(t, tapes, 2)
	for i, r := range tapes {
		assert.Equal(t, shown[1+5*i], r["from"])
		assert.Regexp(t, `^\d+'\d+( 1/2)?"$`, r["value"], "the half inch is what a tape is held to")
		l, err := geo.ParseLength(r["value"], geo.Foot)
		require.NoError(t, err)
		assert.InDelta(t, metres(shown[2+5*i:6+5*i]), l.Metres, 1e-9, "what was shown is what is logged")
	}

	// Withdrawing asks; the answer no changes nothing; yes is undone alone.
	b.press("More")
	b.press("withdraw: tape A to B")
	b.sees("Withdraw this reading?")
	b.look("phone-withdraw")
	b.press("Keep it")
	assert.Equal(t, dug, b.measured())
	b.press("withdraw: tape A to B")
	b.press("Yes, withdraw it")
	b.sees("withdrawn by Phone one, ")
	b.look("phone-withdrawn")
	assert.Len(t, b.measured(), len(dug)-1)
	b.undo()
	assert.Equal(t, dug, b.measured(), "the withdrawal is undone, and the hole stays")

	// What was withdrawn is restored also later, and after a reload.
	b.press("withdraw: tape A to F")
	b.press("Yes, withdraw it")
	b.sees("withdrawn: tape A to F")
	b.do(reload)
	b.sees("Done last on this device: withdrawn: tape A to F")
	b.press("Restore: tape A to F")
	b.sees("restored: tape A to F")
	assert.Equal(t, dug, b.measured())
	b.undo()
	assert.Len(t, b.measured(), len(dug)-1, "a restoring is undone too")
	b.press("Undo")
	b.sees("undone: withdrawn: tape A to F")
	b.press("Close")
	assert.Equal(t, dug, b.measured())

	// Measured again and undone: the old reading is back.
	b.press("Back")
	b.settled()
	b.press("Measure again")
	b.keys("49'7")
	b.press("Save instead")
	b.sees("measured again")
	assert.NotEqual(t, dug, b.measured())
	b.undo()
	assert.Equal(t, dug, b.measured(), "the old reading is not lost")
	b.settled()
	b.sees("reads 1.00 ft long")

	// Another job: nothing of this one is said or undone there.
	b.press("Log a hole")
	b.sees("What did it meet?")
	b.press("○ Nothing")
	b.press("Save without depth")
	b.kept()
	b.press("All jobs")
	b.press("Job without a title")
	b.settled()
	assert.NotContains(t, b.text(), "Undo", "an action of another job")
	b.press("All jobs")
	b.press("Invented lot 4")
	b.sees("Undo")
	b.undo()
	assert.Equal(t, dug, b.measured())

	// What a hole met, where and how deep is corrected in one place.
	b.press("More")
	b.press("Correct: H1 met")
	b.sees("Nothing is changed yet")
	b.fill("It met", "box")
	b.fill("Where on it", "corner")
	b.keys("3'2")
	b.look("phone-correct")
	b.press("Save the correction")
	b.sees("corrected: H1 met box (corner) at 3'2\"")
	var now []string
	for _, r := range b.standing() {
		if r["point"] == "H1" && r["kind"] == "found" {
			now = append(now, strings.Join([]string{r["target"], r["spot"], r["depth"], r["runs"]}, " "))
		}
	}
	assert.Equal(t, []string{`box corner 3'2" `}, now)
	b.press("More")
	b.sees("; now H1 met box")
	b.undo()
	assert.Equal(t, dug, b.measured())

	// A whole hole goes and comes back.
	b.press("Correct: H1 met")
	b.press("Withdraw the whole hole")
	b.sees("Withdraw these")
	b.look("phone-withdraw-hole")
	b.press("Yes, withdraw it")
	b.sees("withdrawn: H1")
	for _, r := range b.standing() {
		assert.NotContains(t, []string{r["point"], r["to"]}, "H1")
	}
	b.undo()
	assert.Equal(t, dug, b.measured())

	// At last the hole of the beginning, of before the reload.
	b.press("Back")
	b.press("More")
	b.sees("Done last on this device: ")
	b.press("Undo")
	b.sees("undone: H")
	assert.Equal(t, start, b.measured())
	b.press("Back")
	b.settled()

	s.start()
	b.sent()
	lead.visit(s.url + "/#/jobs")
	lead.do(reload)
	lead.press("Invented lot 4")
	lead.settled()
	for range 100 {
		if lead.rows() == b.rows() {
			break
		}
	}
	assert.Equal(t, b.rows(), lead.rows(), "both hold the same log")
	assert.InDelta(t, b.radius(), lead.radius(), 1e-6)
	lead.look("desk-withdrawn")
	assert.Empty(t, append(b.log, lead.log...), "exceptions")
}

// TestSoughtIsUndone changes what is sought and undoes that, twice over.
func TestSoughtIsUndone(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, smallPhone)
	b.visit(s.url + "/")
	b.bring("demo")
	sought := func(want string) {
		t.Helper()
		b.wait(`document.querySelector("select")?.value === ` + strconv.Quote(want))
	}
	b.press("More")
	b.press("Dig plan")
	sought("box")
	b.fill("Sought", "tank")
	b.sees("sought: the tank")
	b.fill("Sought", "L1")
	b.sees("sought: trench L1")
	b.undo()
	sought("tank")
	b.press("Readings")
	b.sees("Done last on this device: sought: the tank")
	b.undo()
	b.press("Dig plan")
	sought("box")
}

// clear deletes what was typed on the keypad.
func (b *tab) clear(keys int) {
	b.t.Helper()
	for range keys {
		b.press("delete the last digit")
	}
}

// TestQuestions types what a tired thumb types: each slip is asked about before it
// is kept, with what was typed still there to be mended, and kept where the crew
// says that it is so. What contradicts all the rest is then doubted first, and no
// hole is proposed on it.
func TestQuestions(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	b := open(t, smallPhone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.whole()
	s.stop()
	start := b.measured()

	// Two tapes that do not meet: A and F are 76'4" apart.
	b.press("Log a hole")
	b.press("Two tapes")
	b.sees("First tape from")
	b.fill("First tape from", "A")
	b.fill("Second tape from", "F")
	b.keys("16'6")
	b.press("Next: from")
	b.keys("18'4")
	b.press("Next: what")
	b.sees("The tapes from A and F do not meet: together they are ")
	b.look("phone-question-tapes")
	b.press("Mend it")
	b.press("16′ 6″")
	b.clear(5)
	b.keys("46'6")
	b.press("Next: from")
	b.clear(5)
	b.keys("68'4")
	b.press("Next: what")
	b.press("● trench L3")

	// Inches typed as feet, no figure swallowed, and inches as crews say them.
	b.keys("1234")
	b.sees("4 was not taken: feet has 3 figures at most.")
	b.clear(3)
	b.keys("3'15")
	b.sees("After feet, inches run from 0 to 11.")
	b.look("phone-question-inches")
	b.wait(`[...document.querySelectorAll("button:disabled")].some((e) => e.innerText === "Save")`)
	assert.Equal(t, start, b.measured(), "nothing is kept that is no length")
	b.clear(4)
	b.keys("47")
	b.press("Save")
	b.sees("47' 0\" deep, where about")
	b.sees("Did you mean 47 in?")
	b.look("phone-question-depth")
	b.press("Mend it")
	b.clear(2)
	b.keys("'47")
	b.sees("47″ is 3′ 11″")
	b.shot("phone-inches")
	b.press("Save")
	b.kept()
	found := b.logged("found")
	assert.Equal(t, `47"`, found[len(found)-1]["depth"])
	b.settled()

	// It is so: the entry is kept, and then doubted before the good tapes.
	b.press("Measure")
	b.sees("From")
	b.fill("From", "A")
	b.fill("To", "H2")
	b.keys("54'8")
	b.press("Save")
	b.sees("by all other readings it is about 94'")
	b.press("It is so")
	b.sees("tape A to H2: 54′ 8″")
	b.settled()
	b.sees(`look first at tape A to H2: 54'8"`)
	b.look("phone-contradiction")
	assert.NotContains(t, b.described(), "The next hole")
	text := b.text()
	require.Contains(t, text, "tape B to H1", "the older suspect of this job")
	assert.Less(t, strings.Index(text, `▲ tape A to H2`), strings.Index(text, "▲ tape B to H1"), "the newest is doubted first")
	b.press("Guide me")
	b.sees("No next hole is shown while the answer is not to be trusted.")
	b.press("Back")
	b.press("Log a hole")
	b.sees("Two tapes")
	assert.NotContains(t, b.text(), "As proposed")
	b.press("Back")
	b.undo()
	b.wait(`document.querySelector("[role=application]").getAttribute("aria-label").includes("The next hole")`)

	assert.Empty(t, b.log, "exceptions")
}

// described returns what the map says in words.
func (b *tab) described() string {
	return eval[string](b, `document.querySelector("[role=application]").getAttribute("aria-label")`)
}

// TestNewestIsDoubtedFirst logs a hole whose first tape was misread: the engine
// doubts an older offset and the other tape. The page says that all the rest fits
// without the hole, and puts the old reading away; on a desk, in metres.
func TestNewestIsDoubtedFirst(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	b.bring("two-tapes")
	b.press("Log a hole")
	b.press("Two tapes")
	b.sees("First tape from")
	b.fill("First tape from", "A")
	b.fill("Second tape from", "B")
	b.keys("11.13")
	b.press("Next: from")
	b.keys("20.19")
	b.press("Next: what")
	b.press("● trench L1")
	b.press("Save without depth")
	b.sees("L1 is believed to lie ")
	b.sees(" m or more from here.")
	b.look("desk-question")
	b.press("It is so")
	b.sees("Look first at what was logged last.")
	b.sees("Without it everything else fits")
	b.sees("Readings that may only look wrong beside it")
	b.settled()
	b.look("desk-newest-first")
	assert.NotContains(t, b.described(), "The next hole")
	t.Log(b.text())
}
