package browser

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt/geojson"
	"asfound/testdata/long"
)

// beginTracing starts a job in the real app and comes to its drawing board.
func beginTracing(t *testing.T, z size) (*site, *hand) {
	t.Helper()
	s := newSite(t)
	b := open(t, z)
	b.visit(s.url + "/")
	b.whole()
	b.visit(s.url + "/#/jobs")
	b.fill("Title", "Invented lot of the slips")
	b.press("Trace the sketch")
	return s, &hand{tab: b, permit: readPermit(t), rng: rand.New(rand.NewPCG(3, 5)), miss: 1.2}
}

// typed types into a field and leaves the focus in it.
func (h *hand) typed(label, text string) {
	h.t.Helper()
	f := fmt.Sprintf(field, quote(label))
	h.wait(f)
	eval[bool](h.tab, `(() => { const e = `+f+`; e.scrollIntoView({block: "center", inline: "center"}); e.focus(); e.select(); return true })()`)
	h.do(chromedp.KeyEvent(text))
}

// board is the drawing as the screen shows it: every part, and how it lies.
const board = `[...document.querySelectorAll("[data-part]")].map((e) => e.dataset.part + e.innerHTML).join("\n") + document.querySelector(".trace-board").dataset.picture`

// TestTraceIsKept leaves the drawing board in every way that a thumb or a phone does, at
// every stage: what was done is asked about, and is there as it was left.
func TestTraceIsKept(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	phone := size{360, 740, true}
	s, h := beginTracing(t, phone)
	s.stop()
	const asks = "A drawing is not finished"

	// The corners are set, the sheet is not squared up yet: Back.
	h.upload("Photo, picture or PDF", scans+"permit.jpg")
	h.press("Turn right")
	first := h.corners()
	x0, y0 := h.at(first[0][0], 1-first[0][1])
	h.drag(x0, y0, x0+30, y0+20)
	require.NotEqual(t, first, h.corners())
	h.press("Turn left")
	h.choose("Paper", "Letter, 8½ × 11 in")
	before := h.corners()
	h.do(chromedp.NavigateBack())
	h.press("Invented lot of the slips")
	h.press("Trace the sketch")
	h.sees(asks)
	h.look("trace-phone-go-on")
	h.press("Go on with it")
	h.sees("Square it up")
	assert.Equal(t, before, h.corners(), "after Back")
	assert.Equal(t, "Letter, 8½ × 11 in", h.value("Paper"))
	h.do(reload)
	h.sees(asks)
	h.press("Start over")
	h.look("trace-phone-start-over")
	h.press("Throw it away")
	h.sees("Photograph the permit drawing")
	h.do(reload)
	h.sees("Photograph the permit drawing")

	// Squared up and drawn: a reload in the middle of a part, and while a figure is typed.
	h.squareUp()
	h.press("Landmark")
	h.tap([2]float64{70, 118})
	h.press("Box")
	h.tap([2]float64{64, 92})
	h.press("Building")
	h.tap([2]float64{70, 118})
	h.tap([2]float64{112, 118})
	h.do(reload)
	h.press("Go on with it")
	h.wait(`document.querySelectorAll(".trace-draft circle").length === 2`)
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	h.tap([2]float64{112, 146})
	h.press("Done")
	h.press("Ties")
	h.typed("box center, from A", "26'8")
	h.do(reload)
	h.press("Go on with it")
	assert.Equal(t, "26'8", h.value("box center, from A"), "a figure that was half typed, after a reload")
	h.typed("box center, from A", "26'9")
	h.do(chromedp.NavigateBack())
	h.sees("This job has no sketch yet")
	h.press("Trace the sketch")
	h.press("Go on with it")
	assert.Equal(t, "26'9", h.value("box center, from A"), "a figure that was half typed, after Back")

	// The page dies while a figure is typed: another opens on the same device.
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	was := eval[string](h.tab, board)
	h.typed("box center, from A", "26'10")
	ctx, end := chromedp.NewContext(h.ctx)
	t.Cleanup(end)
	next := &tab{t: t, ctx: ctx, size: phone}
	require.NoError(t, chromedp.Do(ctx))
	next.do(chromedp.EmulateViewport(phone.width, phone.height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	href := eval[string](h.tab, "location.href")
	// A page that crashes runs no code any more, and gives no answer.
	dying, enough := context.WithTimeout(h.ctx, time.Second)
	_, err := chromedp.Call(dying, page.Crash, cdp.Empty{})
	enough()
	require.ErrorIs(t, err, context.DeadlineExceeded)
	next.visit(href)
	next.log, h.tab = h.log, next
	h.press("Go on with it")
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	assert.Equal(t, was, eval[string](h.tab, board), "after the page died")
	assert.Equal(t, "26'10", h.value("box center, from A"), "a figure that was half typed, after the page died")

	// A step back, and on without a change: nothing moves.
	h.press("Sheet")
	before = h.corners()
	h.press("Square up")
	h.sees("Box box") // its figure was being typed
	h.press("Sheet")
	assert.Equal(t, before, h.corners(), "a step back")
	h.press("Square up")
	h.press("Ties")
	h.wait(board + " === " + quote(was)) // once the board has its height

	// The app's own way out, and saved: nothing is left to ask.
	h.press("Leave")
	h.look("trace-phone-leave-kept")
	h.press("Leave and go on later")
	h.press("Trace the sketch")
	h.press("Go on with it")
	h.press("Save")
	h.press("Save the sketch")
	h.sees("Log a hole")
	h.settled()
	h.do(reload)
	h.settled()
	h.press("More")
	h.press("Documents")
	h.press("Change the sketch")
	h.sees("Touch a part to select it")
	assert.Empty(t, h.log, "exceptions")
}

// TestTraceOnAFullPhone draws where the device has no space left: it says so, keeps what is
// on the screen, and keeps it on the device once there is space again.
func TestTraceOnAFullPhone(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s, h := beginTracing(t, size{360, 740, true})
	h.sees("Photograph the permit drawing")
	quota := func(bytes *float64) {
		_, err := chromedp.Call(h.ctx, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: s.url, QuotaSize: bytes})
		require.NoError(t, err)
	}
	none := 1.0
	quota(&none)
	// The browser goes by the space that it last saw for a while.
	require.Eventually(t, func() bool {
		return eval[bool](h.tab, `new Promise((full) => {
		const o = indexedDB.open("asfound");
		o.onsuccess = () => {
			const tx = o.result.transaction("words", "readwrite");
			tx.objectStore("words").put(new Uint8Array(100_000), "probe of a test");
			tx.onabort = () => full(tx.error?.name === "QuotaExceededError");
			tx.oncomplete = () => full(false);
		};
	})`)
	}, patience, time.Second)
	h.squareUp()
	h.press("Box")
	h.tap([2]float64{64, 92})
	h.sees("This device has no space left")
	h.look("trace-phone-full")
	h.press("Leave")
	h.sees("it is lost if you leave")
	h.press("Stay")
	h.press("Save")
	h.press("Save the sketch")
	h.sees("It could not be saved: this device has no space left")
	h.wait(`document.querySelector("[data-part=box]")`)

	quota(nil)
	h.press("Draw")
	h.wait(`!document.body.innerText.includes("no space left")`)
	h.do(reload)
	h.press("Go on with it")
	h.wait(`document.querySelector("[data-part=box]") && document.querySelector(".trace-board[data-picture]")`)
	h.press("Save")
	h.press("Save the sketch")
	h.sees("Log a hole")
}

// TestTracePressesCount presses a button right after typing, where what is above it grows
// as the field is left, and holds a finger on one for as long as a glove does.
func TestTracePressesCount(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := tracing(t)
	for name, z := range map[string]size{"phone": phone, "desk": desk} {
		t.Run(name, func(t *testing.T) {
			h := handOn(t, z, s.URL)
			h.squareUp()
			h.press("Landmark")
			h.tap([2]float64{70, 118})
			h.tap([2]float64{112, 118})
			h.press("Scale")
			h.press("Mark two places")
			h.tap([2]float64{70, 118})
			h.tap([2]float64{112, 118})
			h.typed("Length written between them", "42'")
			h.press("Set the scale")
			h.sees("The scale is set")

			h.press("A scale note on the sheet")
			h.typed("are feet on the ground", "30")
			// A row that grows above the button while the press is on its way, as a message
			// beside a field does: the button is no longer under the finger.
			eval[bool](h.tab, `(document.addEventListener("focusout", () => `+button("Use the note")+`.closest(".trace-row").prepend(Object.assign(document.createElement("div"), {style: "flex: 0 0 100%; height: 7rem"})), {once: true}), true)`)
			h.press("Use the note")
			h.sees("the whole sheet is 330′ 0″ by")

			if !z.touch {
				return
			}
			at := eval[[]float64](h.tab, `(() => { const r = `+button("Ties")+`.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`)
			h.touch(input.DispatchTouchEventTypeTouchStart, at[0], at[1])
			time.Sleep(900 * time.Millisecond)
			_, err := chromedp.Call(h.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}})
			require.NoError(t, err)
			h.sees("What is written on the sheet")
			h.press("Undo") // once, not twice
			time.Sleep(300 * time.Millisecond)
			const redo = `document.querySelector(".trace [aria-label=Redo]").disabled`
			assert.False(t, eval[bool](h.tab, redo))
			h.press("Redo")
			h.wait(redo)
		})
	}
}

// TestTraceWithATiredThumb goes from the camera's file to the plan, offline, and slips five
// times on the way: the wrong picture, Back, a reload in the middle of a line, a press right
// after typing, and a scale that is typed wrong and mended. The sketch that is saved is the
// invented sheet of testdata/scans all the same.
func TestTraceWithATiredThumb(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s, h := beginTracing(t, phone)
	s.stop()
	at := map[string][][2]float64{}
	for _, p := range h.Parts {
		at[p.ID] = p.At
	}
	// The wrong picture first: one with no sheet in it.
	table := scenes[slices.IndexFunc(scenes, func(s scene) bool { return s.name == "no sheet" })]
	file, _ := table.photo(t, h.rng)
	wrong := filepath.Join(t.TempDir(), "table.jpg")
	require.NoError(t, os.WriteFile(wrong, file, 0o600))
	h.upload("Photo, picture or PDF", wrong)
	h.sees("Square it up")
	assert.NotContains(t, h.text(), "were found")
	h.upload("Another picture", scans+"permit.jpg")
	h.sees("The corners of the sheet were found")
	for _, c := range h.corners() { // all rings in sight
		x, y := h.at(c[0], 1-c[1])
		assert.True(t, eval[bool](h.tab, fmt.Sprintf(`document.elementFromPoint(%v, %v)?.closest(".trace-board") && !document.elementFromPoint(%[1]v, %[2]v).closest("button")`, x, y)), "a ring at %.0f, %.0f", x, y)
	}
	h.look("trace-phone-found")
	h.square()
	h.press("Closer")
	h.press("Closer")
	h.press("Landmark")
	h.tap(at["A"][0])
	h.tap(at["B"][0])
	// Back, as a thumb does at the edge of the screen.
	h.do(chromedp.NavigateBack())
	h.press("Invented lot of the slips")
	h.press("Trace the sketch")
	h.press("Go on with it")
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	h.press("Closer")
	h.press("Closer")
	h.press("Box")
	h.tap(at["box"][0])
	// A reload in the middle of a line.
	h.press("Lateral")
	h.tap(at["L1"][0])
	h.do(reload)
	h.press("Go on with it")
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	h.press("Closer")
	h.press("Closer")
	h.tap(at["L1"][1])
	h.wait(`document.querySelector("[data-part=L1]")`)
	// A press right after typing, no Enter.
	h.press("Ties")
	for _, p := range h.Parts {
		spot := map[string]string{"box": "center", "L1": "end"}[p.ID]
		for _, tie := range p.Ties {
			if spot != "" {
				h.typed(p.ID+" "+spot+", from "+tie.From, tie.Distance)
				h.press("Parts")
				h.press("Ties")
			}
		}
	}
	h.typed("L1, length", "65'")
	// The scale, typed wrong and mended.
	h.press("Scale")
	h.press("Closer")
	h.press("Closer")
	for _, length := range []string{"24'", "42'"} {
		h.press("Mark two places")
		h.tap(at["A"][0])
		h.tap(at["B"][0])
		h.typed("Length written between them", length)
		h.press("Set the scale")
		h.sees("The scale is set")
		h.wait("document.body.innerText.includes('The written lengths are') === " + strconv.FormatBool(length == "24'"))
	}
	h.press("Save")
	h.look("trace-phone-save-tired")
	h.press("Save the sketch")
	h.sees("Log a hole")
	h.settled()
	h.look("phone-plan-tired")
	assert.NotContains(t, h.text(), "left out")
	h.do(reload)
	h.settled()
	assert.NotContains(t, h.text(), "left out")

	text := eval[string](h.tab, `new Promise((done) => {
		indexedDB.open("asfound").onsuccess = (e) => {
			e.target.result.transaction("entries").objectStore("entries").getAll().onsuccess = (r) => done(JSON.stringify(r.target.result.filter((x) => x.kind === "sketch").at(-1).body));
		};
	})`)
	got, problems := geojson.Decode(strings.NewReader(text), "sketch.geojson")
	require.NoError(t, problems.Err(), text)
	var drawn, truth []complex128
	for _, id := range []string{"A", "B", "box", "L1"} {
		p := got.Part(id)
		require.NotNil(t, p, id)
		for i, v := range p.Shapes[0].Vertices {
			drawn, truth = append(drawn, complex(v.X, v.Y)), append(truth, complex(at[id][i][0], at[id][i][1]))
		}
		for _, want := range h.Parts {
			if want.ID == id && id != "A" && id != "B" {
				require.Len(t, p.Ties, len(want.Ties), id)
				for i, tie := range want.Ties {
					assert.Equal(t, tie.Distance, p.Ties[i].Distance.Written, id)
				}
			}
		}
	}
	scale, rms, worst := shape(drawn, truth)
	t.Logf("%d taps; scale %.3f, places %.2f ft off, the worst %.2f", h.taps, scale, rms, worst)
	assert.InDelta(t, 1, scale, 0.03, "two touches on a length of 42 ft")
	assert.Less(t, worst, 0.008*h.Sheet[0], "of the width of the sheet, as in TestTraceAPhotographedSheet")
	assert.Equal(t, "scan.jpg", got.Scan)
	assert.Empty(t, h.log, "exceptions")
}
