package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/web/api"
)

// watchMap notes what is drawn on canvases: each text with its pixel, and each
// dashed ring with its bounds.
const watchMap = `(() => {
	window.drawn = {texts: [], rings: [], bad: []};
	const p = CanvasRenderingContext2D.prototype;
	const wrap = (name, f) => { const was = p[name]; p[name] = function (...a) { f.call(this, ...a); return was.apply(this, a); }; };
	const at = (c, x, y) => { const q = c.getTransform().transformPoint({x, y}); return [q.x / devicePixelRatio, q.y / devicePixelRatio]; };
	wrap("fillText", function (text, x, y) { drawn.texts.push([text, ...at(this, x, y)]); });
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
	Texts [][]any      `json:"texts"`
	Rings [][4]float64 `json:"rings"`
	Bad   []string     `json:"bad"`
}

// at returns the pixel of the canvas at which a text was drawn last.
func (d *drawing) at(text string) (x, y float64, ok bool) {
	for _, t := range d.Texts {
		if t[0] == text {
			x, y, ok = t[1].(float64), t[2].(float64), true
		}
	}
	return x, y, ok
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
			eval[bool](b, `(Object.assign(drawn, {texts: [], rings: []}), true)`)
			b.press("Whole site")
			b.wait(`drawn.texts.some((t) => t[0] === ` + quote(said[1]) + `)`)
			b.shot(name + "-two-places")
			var d drawing
			require.NoError(t, json.Unmarshal([]byte(eval[string](b, `JSON.stringify(drawn)`)), &d))
			assert.Empty(t, d.Bad, "a place that is none")
			var rings [][4]float64
			for _, share := range said {
				x, y, ok := d.at(share)
				require.True(t, ok, "the map does not name %s", share)
				rings = append(rings, ringAbout(d.Rings, x, y+20)) // the words are drawn 20 px above the middle
			}
			for i, r := range rings {
				require.NotZero(t, r[2]-r[0], "no region is drawn about the %s", said[i])
			}
			assert.NotEqual(t, rings[0], rings[1], "one region is drawn for both")
			b.noNaN("plan")
			for _, share := range said { // a tap on either shows both
				x, y, _ := d.at(share)
				b.tapMap(x, y+20)
				b.wait(`document.querySelector(".card")?.innerText.includes(` + quote("It may lie in 2 places: "+said[0]+", "+said[1]+".") + `)`)
				b.press("Close")
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
	text, err := api.Run("belief", request)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &b))
	return b
}

// ringAbout returns the smallest ring about a pixel.
func ringAbout(rings [][4]float64, x, y float64) (best [4]float64) {
	area := math.Inf(1)
	for _, r := range rings {
		if r[0] < x && x < r[2] && r[1] < y && y < r[3] && (r[2]-r[0])*(r[3]-r[1]) < area {
			best, area = r, (r[2]-r[0])*(r[3]-r[1])
		}
	}
	return best
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
	for _, text := range eval[[]string](b, "drawn.texts.map((t) => t[0])") {
		assert.NotContains(b.t, text, "NaN", screen)
	}
}
