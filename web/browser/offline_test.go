package browser

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// join joins with a one-time link under a name.
func (b *tab) join(link, name string) {
	b.t.Helper()
	b.visit(link)
	b.wait(`document.querySelector("form input")`)
	eval[bool](b, `(() => { const i = document.querySelector("form input"); i.value = `+quote(name)+`; i.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	b.press("Join")
	b.sees("Import a job")
}

// whole waits until the app is complete without a network.
func (b *tab) whole() {
	b.t.Helper()
	b.wait(`document.documentElement.dataset.ready === "true" && navigator.serviceWorker.controller`)
}

func (b *tab) unsent() float64 {
	return eval[float64](b, `Number(document.querySelector("[data-unsent]")?.dataset.unsent)`)
}

// radius returns the radius that the strip shows, in metres.
func (b *tab) radius() float64 {
	b.t.Helper()
	b.settled()
	return eval[float64](b, `Number(document.querySelector("dd[data-radius]").dataset.radius)`)
}

// keys types on the keypad: digits, and ' for the step to inches.
func (b *tab) keys(s string) {
	b.t.Helper()
	for _, c := range s {
		switch c {
		case '\'':
			b.press("feet ′")
		case '.':
			b.press("decimal point")
		default:
			b.press(string(c))
		}
	}
}

// rows returns the readings that the browser stores, in a fixed order.
func (b *tab) rows() string {
	b.t.Helper()
	return eval[string](b, `new Promise((done, fail) => {
		const r = indexedDB.open("asfound");
		r.onerror = () => fail(r.error);
		r.onsuccess = () => {
			const q = r.result.transaction("entries").objectStore("entries").getAll();
			q.onsuccess = () => done(JSON.stringify(q.result.filter((e) => e.kind === "reading").map((e) => [e.id, e.body]).sort()));
		};
	})`)
}

// TestDigWithoutCoverage is a dig without the server: reload, log holes, see
// the region shrink, undo; once the server is back everything is exchanged.
func TestDigWithoutCoverage(t *testing.T) {
	s := newSite(t)
	lead := s.desk()

	b := s.joined(phone, "Phone one")
	before := b.radius()

	s.stop()
	b.do(reload)
	b.settled()
	assert.Equal(t, before, b.radius(), "the same belief from the engine on the phone")
	assert.NotContains(t, b.text(), "runs on the server")
	b.shot("phone-offline")

	// A hole in three taps and the depth.
	b.press("Log a hole")
	b.press("● the box")
	b.keys("3'9")
	b.shot("phone-logging")
	b.press("Save")
	b.sees("The box is found")
	b.press("To the plan")
	b.kept()
	b.wait(`document.querySelector(".change")`)
	after := b.radius()
	b.shot("phone-tightened")
	assert.Less(t, after, before, "a hole that met the box tells where the box is")
	assert.Positive(t, b.unsent(), "readings not sent are counted")
	logged := b.unsent()

	b.press("Undo")
	b.wait(`Number(document.querySelector("[data-unsent]")?.dataset.unsent) > ` + num(logged))
	b.wait(`Math.abs(Number(document.querySelector("dd[data-radius]")?.dataset.radius) - ` + num(before) + `) < 1e-9`)

	// By two tapes, and nothing met. The plan arrives while the screen is open,
	// and no control moves from under the thumb.
	b.press("Log a hole")
	const tapes = `(() => { const r = [...document.querySelectorAll("button")].find((e) => e.innerText === "Two tapes").getBoundingClientRect(); return [r.x, r.y] })()`
	b.sees("Two tapes")
	early := eval[[]float64](b, tapes)
	b.sees("What did it meet?")
	assert.Equal(t, early, eval[[]float64](b, tapes), "a control keeps its place when the plan arrives")
	b.press("Two tapes")
	b.keys("45'6")
	b.press("Next: from")
	b.keys("71'2")
	b.press("Next: what")
	b.press("○ Nothing")
	b.keys("5'")
	b.press("Save")
	b.kept()
	b.settled()
	b.shot("phone-empty-hole")
	mine := b.unsent()

	b.do(reload)
	b.settled()
	assert.Equal(t, mine, b.unsent(), "nothing is lost by a reload")

	s.start()
	b.sent()
	lead.do(reload)
	lead.settled()
	lead.wait(`document.body.innerText.includes("met nothing down to 5'0")`)
	assert.Equal(t, b.rows(), lead.rows(), "both hold the same readings")
	assert.Empty(t, append(b.log, lead.log...), "exceptions")
}

// TestTwoPhones lets two phones work offline on one job: nothing is lost, and
// both end with the same data.
func TestTwoPhones(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	one := open(t, phone)
	one.join(s.first(), "Phone one")
	one.bring("demo")
	one.sent()
	one.whole()
	two := s.joined(phone, "Phone two")

	s.stop()
	for i, b := range []*tab{one, two} {
		b.press("Log a hole")
		b.press([]string{"○ Nothing", "● trench L3"}[i])
		b.keys([]string{"5'", "4'1"}[i])
		b.press("Save")
		b.sees("Undo")
		b.settled()
	}
	require.NotEqual(t, one.rows(), two.rows())
	s.start()
	for _, b := range []*tab{one, two, one, two} {
		eval[bool](b, `(dispatchEvent(new Event("online")), true)`)
		b.sent()
	}
	for range 20 {
		if one.rows() == two.rows() {
			break
		}
		eval[bool](one, `(dispatchEvent(new Event("online")), new Promise((d) => setTimeout(() => d(true), 500)))`)
	}
	assert.Equal(t, one.rows(), two.rows())
	one.settled()
	two.settled()
	assert.Equal(t, one.radius(), two.radius(), "one belief on both phones")
}
