package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/web/api"
)

// watchMap notes what is drawn on canvases: each dashed ring with its bounds.
const watchMap = `(() => {
	window.drawn = {rings: [], bad: []};
	const p = CanvasRenderingContext2D.prototype;
	const wrap = (name, f) => { const was = p[name]; p[name] = function (...a) { f.call(this, ...a); return was.apply(this, a); }; };
	const at = (c, x, y) => { const q = c.getTransform().transformPoint({x, y}); return [q.x / devicePixelRatio, q.y / devicePixelRatio]; };
	wrap("beginPath", function () { this.path = []; });
	for (const name of ["moveTo", "lineTo"]) wrap(name, function (x, y) { const q = at(this, x, y); if (q.some(Number.isNaN)) drawn.bad.push(name); (this.path ??= []).push(q); });
	wrap("stroke", function () {
		const [on, off] = this.getLineDash();
		if (!this.path?.length || off !== 2.5 * on) return;
		const [x, y] = [0, 1].map((i) => this.path.map((q) => q[i]));
		drawn.rings.push([Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)]);
	});
})()`

// drawing is what watchMap noted.
type drawing struct {
	Rings [][4]float64 `json:"rings"`
	Bad   []string     `json:"bad"`
}

// nameOnMap returns where a name stands on the map: left, top, right, bottom, pixels
// of the map; empty where it does not.
func (b *tab) nameOnMap(text string) []float64 {
	b.t.Helper()
	return eval[[]float64](b, `(() => { const r = [...document.querySelectorAll(".names text")].find((e) => e.textContent === `+quote(text)+`)?.getBBox(); return r ? [r.x, r.y, r.x + r.width, r.y + r.height] : []; })()`)
}

// TestBoxInTwoPlaces shows a job whose sheet may be mirrored, so that the box
// lies in front of the wall or behind it: both places are drawn and their shares
// named, as the engine states them.
func TestBoxInTwoPlaces(t *testing.T) {
	const folder = "testdata/two-places"
	want := boxLobes(t, folder)
	require.Len(t, want, 2)
	said := []string{fmt.Sprintf("%.0f %%", 100*want[0].Share), fmt.Sprintf("%.0f %%", 100*want[1].Share)}
	s := newSite(t)
	for name, z := range map[string]size{"phone": phone, "desk": desk} {
		t.Run(name, func(t *testing.T) {
			b := open(t, z)
			_, err := chromedp.Call(b.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watchMap})
			require.NoError(t, err)
			b.visit(s.url + "/")
			b.sees("Import a job")
			b.bringFolder(folder)
			b.sees("It may lie in 2 places: " + said[0] + ", " + said[1] + ".")
			eval[bool](b, `(Object.assign(drawn, {rings: []}), true)`)
			b.press("Whole site")
			b.wait(`drawn.rings.length`)
			b.shot(name + "-two-places")
			var d drawing
			require.NoError(t, json.Unmarshal([]byte(eval[string](b, `JSON.stringify(drawn)`)), &d))
			assert.Empty(t, d.Bad, "a place that is none")
			var rings [][4]float64
			for _, share := range said {
				at := b.nameOnMap("box " + share)
				require.NotEmpty(t, at, "the map does not name %s", share)
				rings = append(rings, ringBeside(d.Rings, at))
			}
			for i, r := range rings {
				require.NotZero(t, r[2]-r[0], "no region is drawn beside the %s", said[i])
			}
			assert.NotEqual(t, rings[0], rings[1], "one region is drawn for both")
			b.noNaN("plan")
			for i, share := range said { // a tap on either shows both, on its name and on its sign
				at, r := b.nameOnMap("box "+share), rings[i]
				for _, tap := range [][2]float64{{(at[0] + at[2]) / 2, (at[1] + at[3]) / 2}, {(r[0] + r[2]) / 2, (r[1] + r[3]) / 2}} {
					b.tapMap(tap[0], tap[1])
					b.wait(`document.querySelector(".card")?.innerText.includes(` + quote("It may lie in 2 places: "+said[0]+", "+said[1]+".") + `)`)
					b.press("Close")
					b.wait(`!document.querySelector(".card")`)
					b.still()
				}
			}
			if z == phone {
				b.press("More")
			}
			for _, screen := range []string{"Readings", "Dig plan", "Fit", "Documents"} {
				b.press(screen)
				b.noNaN(screen)
				b.shot(name + "-two-places-" + screen)
			}
			assert.Empty(t, b.log, "exceptions in the page")
		})
	}
}

// boxLobes returns the places of the box as the engine believes them.
func boxLobes(t *testing.T, folder string) []answer.Lobe {
	t.Helper()
	for _, s := range believed(t, folder, []map[string]string{{"kind": "tape", "from": "A", "to": "B", "value": "40 ft"}}).Spots {
		if s.Kind == "box" {
			return s.Lobes
		}
	}
	return nil
}

// believed returns what the engine believes of the job in a folder with the rows of
// a log.
func believed(t *testing.T, folder string, rows []map[string]string) (b answer.Belief) {
	t.Helper()
	job := api.Job{Rows: rows}
	var err error
	job.Sketch, err = os.ReadFile(folder + "/sketch.geojson")
	require.NoError(t, err)
	job.Settings, err = os.ReadFile(folder + "/job.json")
	require.NoError(t, err)
	request, err := json.Marshal(api.BeliefRequest{Job: job})
	require.NoError(t, err)
	text, err := api.Run(t.Context(), "belief", request)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &b))
	return b
}

// ringBeside returns the smallest ring of which the middle lies where the sign of a
// name does: within 30 pixels of its edge, and not under it.
func ringBeside(rings [][4]float64, at []float64) (best [4]float64) {
	area := math.Inf(1)
	for _, r := range rings {
		x, y := (r[0]+r[2])/2, (r[1]+r[3])/2
		off := math.Hypot(max(at[0]-x, 0, x-at[2]), max(at[1]-y, 0, y-at[3]))
		if off > 0 && off < 30 && (r[2]-r[0])*(r[3]-r[1]) < area {
			best, area = r, (r[2]-r[0])*(r[3]-r[1])
		}
	}
	return best
}

// still waits until the names on the map stand where they did a moment before.
func (b *tab) still() {
	b.t.Helper()
	where := `[...document.querySelectorAll(".names text")].map((e) => e.textContent + e.getAttribute("x") + "," + e.getAttribute("y")).join()`
	for was := ""; ; time.Sleep(300 * time.Millisecond) {
		now := eval[string](b, where)
		if now == was {
			return
		}
		was = now
	}
}

// tapMap taps a pixel of the map.
func (b *tab) tapMap(x, y float64) {
	b.t.Helper()
	at := eval[[]float64](b, `(() => { const r = document.querySelector(".map canvas").getBoundingClientRect(); return [r.x, r.y]; })()`)
	if b.size.touch {
		b.do(chromedp.TapXY(at[0]+x, at[1]+y))
	} else {
		b.do(chromedp.MouseClickXY(at[0]+x, at[1]+y))
	}
}

// noNaN checks that a screen shows no NaN, in its text or in its labels for
// screen readers.
func (b *tab) noNaN(screen string) {
	b.t.Helper()
	html := eval[string](b, "document.body.outerHTML")
	for _, word := range []string{"NaN", "undefined", "Infinity"} {
		if i := strings.Index(html, word); i >= 0 {
			b.t.Errorf("%s: %s in %s", screen, word, html[max(0, i-80):min(len(html), i+80)])
		}
	}
}
