package browser

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// hidden returns what of the facts, and of the key to log a hole, is not wholly seen:
// beyond the window or the insets of the screen (top, right, bottom, left), under
// something else, or missing. No key of header, map and actions lies in an inset.
// said is in that language.
func (b *tab) hidden(insets [4]float64, said inSight) []string {
	b.t.Helper()
	return eval[[]string](b, `(() => {
		const facts = [...document.querySelectorAll(".fact dt, .fact dd")];
		const log = [...document.querySelectorAll("nav a")].filter((e) => e.innerText.trim() === `+quote(said.log)+`);
		const want = `+list(said.facts)+`;
		const out = want.filter((w) => !facts.some((e) => e.innerText.trim() === w)).map((w) => w + " is missing");
		if (log.length !== 1) out.push("the key to log a hole is missing");
		const [top, right, bottom, left] = [`+num(insets[0])+`, innerWidth - `+num(insets[1])+`, innerHeight - `+num(insets[2])+`, `+num(insets[3])+`];
		for (const e of [...facts, ...log]) {
			const words = document.createRange();
			words.selectNodeContents(e);
			for (const r of words.getClientRects()) {
				if (r.left < left || r.top < top || r.right > right + 0.5 || r.bottom > bottom + 0.5) out.push(e.innerText + " at " + [r.left, r.top, r.right, r.bottom].map(Math.round));
				for (const [x, y] of [[r.left + 1, r.top + 2], [r.right - 1, r.bottom - 2], [(r.left + r.right) / 2, (r.top + r.bottom) / 2]]) {
					const over = document.elementFromPoint(x, y);
					if (over && !e.contains(over) && !over.contains(e)) out.push(e.innerText + " under " + over.outerHTML.slice(0, 60));
				}
			}
		}
		for (const e of document.querySelectorAll(".top h1, .top a, .top .sent, .actions a, .banner button, .maptools button")) {
			const r = e.getBoundingClientRect();
			if (r.width && (r.left < left || r.right > right + 0.5 || r.top < top)) out.push("beside the screen: " + e.outerHTML.slice(0, 60));
		}
		return out;
	})()`)
}

// inSight is what the plan says and must always be seen.
type inSight struct {
	log   string
	facts []string
}

var english = inSight{"Log a hole", []string{"Sought", "Within (95 %)", "Depth", "Holes to go"}}

// TestAlwaysInSight looks for what is sought, its radius and depth, the holes to go
// and the key to log a hole: with a card open, under banners, with text at 200 %, on a
// low window and on a lying one, and beside a notch. After a log the header is as high
// as before.
func TestAlwaysInSight(t *testing.T) {
	long.Only(t, "a minute in a browser")
	s := newSite(t)
	b := open(t, size{360, 740, true})
	b.visit(s.url + "/")
	for _, job := range []string{"demo", "two-tapes"} { // in feet, in metres
		b.visit(s.url + "/#/jobs")
		b.bring(job)
		b.wait(`document.querySelector(".names text")`)
		for _, state := range []string{"plain", "card", "log", "card after log", "banners"} {
			switch {
			case strings.HasPrefix(state, "card"):
				b.card()
			case state == "log":
				b.press("Close")
				b.wait(`!document.querySelector(".card")`)
				before := eval[float64](b, `document.querySelector(".top").offsetHeight`)
				b.press("Log a hole")
				b.press("○ Nothing")
				b.press("Save")
				b.sees("Undo")
				b.settled()
				assert.Equal(t, before, eval[float64](b, `document.querySelector(".top").offsetHeight`), "%s: height of the header", job)
			case state == "banners": // as many as there ever are, by what makes them
				eval[bool](b, `(document.querySelector(".card .close").click(), true)`)
				eval[bool](b, `(document.querySelector(".banners").insertAdjacentHTML("beforeend", document.querySelector(".banner").outerHTML.repeat(3)), true)`)
			}
			for _, w := range []struct {
				name          string
				width, height int64
				text          string
				insets        [4]float64
			}{
				{"usual", 360, 740, "100%", [4]float64{}},
				{"low", 360, 640, "100%", [4]float64{}},
				{"lying", 640, 360, "100%", [4]float64{}},
				{"large", 360, 740, "200%", [4]float64{}},
				{"large-low", 360, 640, "200%", [4]float64{}},
				{"notch", 360, 740, "100%", [4]float64{44, 0, 34, 0}},
				{"notch-lying", 740, 360, "100%", [4]float64{0, 44, 21, 44}},
			} {
				b.do(chromedp.EmulateViewport(w.width, w.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
				inset := func(i int) *int64 { v := int64(w.insets[i]); return &v }
				_, err := chromedp.Call(b.ctx, emulation.SetSafeAreaInsetsOverride, emulation.SetSafeAreaInsetsOverrideParams{
					Insets: &emulation.SafeAreaInsets{Top: inset(0), Right: inset(1), Bottom: inset(2), Left: inset(3)}})
				require.NoError(t, err)
				eval[bool](b, `(document.documentElement.style.fontSize = "`+w.text+`", new Promise((r) => setTimeout(() => r(true), 150)))`)
				name := "sight-" + job + "-" + state + "-" + w.name
				b.shot(name)
				assert.Empty(t, b.hidden(w.insets, english), name)
				assert.Empty(t, eval[[]string](b, small), "%s: targets below 48 px", name)
			}
			b.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch))
			eval[bool](b, `(document.documentElement.style.fontSize = "", true)`)
		}
		b.visit(s.url + "/#/jobs")
		b.do(reload)
		b.sees("Import a job")
	}
	assert.Empty(t, b.log, "exceptions")
}

// card taps a name on the map: the next hole's where there is one, else a landmark's.
// The heading of its card is in sight.
func (b *tab) card() {
	b.t.Helper()
	b.still()
	at := eval[[]float64](b, `(() => {
		const all = [...document.querySelectorAll(".names text")];
		const r = (all.find((e) => e.textContent.endsWith("dig here")) ?? all.find((e) => /^[A-Z]$/.test(e.textContent))).getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})()`)
	b.do(chromedp.TapXY(at[0], at[1]))
	b.wait(`document.querySelector(".card")`)
	b.wait(`(() => { const r = document.querySelector(".card h2").getBoundingClientRect(); return document.querySelector(".card").contains(document.elementFromPoint(r.x + 5, r.y + r.height / 2)); })()`)
}
