package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/testdata/long"
)

const scans = "../../testdata/scans/"

// tracing serves the tracing screen by itself, under the policy of the real
// site, with a check that reads the sketch as the engine does.
func tracing(t *testing.T) *httptest.Server {
	t.Helper()
	chromium(t)
	made := t.TempDir()
	esbuild(t, "trace/alone.tsx", "trace/pure.ts", "--format=esm", "--splitting", "--outdir="+made)
	mux := http.NewServeMux()
	mux.Handle("/made/", http.StripPrefix("/made/", http.FileServer(http.Dir(made))))
	mux.Handle("/app/", http.StripPrefix("/app/", http.FileServer(http.Dir("../app"))))
	mux.Handle("/scans/", http.StripPrefix("/scans/", http.FileServer(http.Dir(scans))))
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; base-uri 'none'")
		fmt.Fprint(w, `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Trace a sketch</title>`+
			`<link rel="stylesheet" href="/app/style/base.css"><link rel="stylesheet" href="/app/trace/trace.css"><link rel="stylesheet" href="/page.css">`+
			`<main id="app"></main><script type="module" src="/made/alone.js"></script><script type="module" src="/made/pure.js"></script></html>`)
	})
	mux.HandleFunc("/page.css", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/css")
		fmt.Fprint(w, "html, body { height: 100%; margin: 0; font: 16px system-ui, sans-serif } main#app { height: 100%; max-width: none; margin: 0; padding: 0 }")
	})
	mux.HandleFunc("/stage/check", func(w http.ResponseWriter, r *http.Request) {
		var q struct {
			Job struct{ Sketch json.RawMessage }
		}
		if err := json.NewDecoder(r.Body).Decode(&q); err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
			return
		}
		_, problems := geojson.Decode(strings.NewReader(string(q.Job.Sketch)), "sketch.geojson")
		says := []map[string]string{}
		for _, p := range problems {
			says = append(says, map[string]string{"says": p.String()})
		}
		json.NewEncoder(w).Encode(map[string]any{"problems": says})
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s
}

// permit is what is true of the invented sheet in testdata/scans.
type permit struct {
	Sheet   [2]float64
	Photo   [2]float64
	North   [2][2]float64
	Corners [4][2]float64
	Parts   []struct {
		ID, Kind string
		At, Seen [][2]float64 // feet of the sheet, pixels of the photo
		Written  map[string]string
		Ties     []struct{ At, From, Distance string }
	}
}

func readPermit(t *testing.T) (p permit) {
	t.Helper()
	b, err := os.ReadFile(scans + "permit.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &p))
	return p
}

// hand traces as a person does: it aims with an error and counts its actions.
type hand struct {
	*tab
	permit
	rng        *rand.Rand
	miss       float64 // standard deviation of an aim, CSS pixels each way
	taps, keys int
	squared    func([2]float64) [2]float64 // of a place of the sheet: where the squared picture shows it, in fractions from its lower left
}

// at returns the place in the window of a place of the picture, in fractions of
// it from its lower left corner.
func (h *hand) at(x, y float64) (float64, float64) {
	r := eval[[]float64](h.tab, `(() => { const b = document.querySelector(".trace-board"); const r = b.getBoundingClientRect(); return [r.x, r.y, ...b.dataset.picture.split(" ").map(Number)]; })()`)
	return r[0] + r[2] + x*r[4] + h.miss*h.rng.NormFloat64(), r[1] + r[3] + (1-y)*r[5] + h.miss*h.rng.NormFloat64()
}

func (h *hand) tap(at [2]float64) {
	h.t.Helper()
	shown := h.squared(at)
	x, y := h.at(shown[0], shown[1])
	h.taps++
	if h.size.touch {
		h.do(chromedp.TapXY(x, y))
	} else {
		h.do(chromedp.MouseClickXY(x, y))
	}
}

func (h *hand) drag(x0, y0, x1, y1 float64) {
	h.t.Helper()
	h.taps++
	if !h.size.touch {
		h.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x0, y0, chromedp.ButtonLeft, chromedp.ClickCount(1)),
			chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, (x0+x1)/2, (y0+y1)/2, chromedp.ButtonLeft),
			chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x1, y1, chromedp.ButtonLeft),
			chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x1, y1, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		return
	}
	h.touch(input.DispatchTouchEventTypeTouchStart, x0, y0)
	h.touch(input.DispatchTouchEventTypeTouchMove, (x0+x1)/2, (y0+y1)/2)
	h.touch(input.DispatchTouchEventTypeTouchMove, x1, y1)
	if h.taps == 1 {
		h.shot("trace-phone-loupe")
	}
	_, err := chromedp.Call(h.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}})
	require.NoError(h.t, err)
}

func (h *hand) touch(kind input.DispatchTouchEventType, x, y float64) {
	h.t.Helper()
	_, err := chromedp.Call(h.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{{X: x, Y: y}}})
	require.NoError(h.t, err)
}

func (h *hand) press(name string) {
	h.t.Helper()
	h.taps++
	h.tab.press(name)
}

// field gives the field of a label, wherever it is on the page.
const field = `[...document.querySelectorAll(".trace label")].find((l) => l.textContent.trim() === %s)?.control`

func (h *hand) typeIn(label, text string) {
	h.t.Helper()
	f := fmt.Sprintf(field, quote(label))
	h.wait(f)
	at := eval[[]float64](h.tab, `(() => { const e = `+f+`; e.scrollIntoView({block: "center", inline: "center"}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	h.taps++
	h.do(chromedp.MouseClickXY(at[0], at[1]))
	h.wait(f + " === document.activeElement")
	eval[bool](h.tab, "("+f+".select(), true)")
	h.keys += len(text) + 1
	h.do(chromedp.KeyEvent(text), chromedp.KeyEvent("\r"))
}

func (h *hand) choose(label, value string) {
	h.t.Helper()
	f := fmt.Sprintf(field, quote(label))
	h.wait(f)
	h.taps += 2
	eval[bool](h.tab, `(() => { const e = `+f+`; e.value = `+quote(value)+`; e.dispatchEvent(new Event("change", {bubbles: true})); return e.value === `+quote(value)+`; })()`)
}

// squareUp chooses the photo and squares it up.
func (h *hand) squareUp() {
	h.t.Helper()
	h.upload("Photo, picture or PDF", scans+"permit.jpg")
	h.taps += 2
	h.square()
}

// square drags the four corners of the photo that was chosen and squares it up.
func (h *hand) square() {
	h.t.Helper()
	h.sees("Square it up")
	h.wait(`document.querySelector(".trace-board[data-picture]")`)
	// From where the page has the rings: at their beginning, or where it found the corners.
	from := h.corners()
	for i, c := range h.Corners {
		x0, y0 := h.at(from[i][0], 1-from[i][1])
		x1, y1 := h.at(c[0]/h.Photo[0], 1-c[1]/h.Photo[1])
		h.drag(x0, y0, x1, y1)
	}
	h.choose("Paper", "Letter, 8½ × 11 in")
	h.shot(fmt.Sprintf("trace-%d-square", h.size.width))
	// The hand aims at the lines of the picture as the dragged corners make it,
	// not where they should be.
	dragged := h.corners()
	for i := range dragged {
		dragged[i][0], dragged[i][1] = dragged[i][0]*h.Photo[0], dragged[i][1]*h.Photo[1]
	}
	paper := [4][2]float64{{0, h.Sheet[1]}, {h.Sheet[0], h.Sheet[1]}, {h.Sheet[0], 0}, {0, 0}}
	photo, square := projective(h.t, paper, h.Corners), projective(h.t, dragged, [4][2]float64{{0, 1}, {1, 1}, {1, 0}, {0, 0}})
	h.squared = func(p [2]float64) [2]float64 { return square(photo(p)) }
	for _, p := range h.Parts { // the four corners give the camera's own places
		for i, v := range p.At {
			assert.InDeltaSlice(h.t, p.Seen[i][:], slice(photo(v)), 1e-6)
		}
	}
	h.press("Square up")
	h.sees("Touch a part to select it")
}

// corners returns the corners of the sheet as the screen has them, in fractions of the picture.
func (h *hand) corners() (all [4][2]float64) {
	h.t.Helper()
	for i, name := range []string{"top left", "top right", "bottom right", "bottom left"} {
		for k, way := range []string{"right", "down"} {
			_, err := fmt.Sscan(h.value(name+": "+way+", %"), &all[i][k])
			require.NoError(h.t, err)
			all[i][k] /= 100
		}
	}
	return all
}

func (h *hand) value(label string) string {
	h.t.Helper()
	f := fmt.Sprintf(field, quote(label))
	h.wait(f)
	return eval[string](h.tab, f+".value")
}

// saved returns the sketch that the screen saved, read by the engine's own
// reader, and its text.
func (h *hand) saved() (*asbuilt.Sketch, string) {
	h.t.Helper()
	h.wait("window.saved")
	text := eval[string](h.tab, "JSON.stringify(window.saved.sketch)")
	s, problems := geojson.Decode(strings.NewReader(text), "sketch.geojson")
	require.NoError(h.t, problems.Err(), text)
	return s, text
}

// traceAll traces the whole sheet: house, two landmarks, tank, box, six
// laterals, two ties each, lengths, scale and north.
func (h *hand) traceAll() {
	h.t.Helper()
	h.squareUp()
	if h.size.touch {
		h.press("Closer")
		h.press("Closer")
	}
	byID := map[string][][2]float64{}
	for _, p := range h.Parts {
		byID[p.ID] = p.At
	}
	h.press("Building")
	for _, v := range byID["house"] {
		h.tap(v)
	}
	h.press("Done")
	h.press("Landmark")
	h.tap(byID["A"][0])
	h.tap(byID["B"][0])
	h.press("Tank")
	h.tap(byID["tank"][0])
	h.press("Box")
	h.tap(byID["box"][0])
	h.press("Lateral")
	h.tap(byID["L1"][0])
	h.tap(byID["L1"][1])
	h.shot(fmt.Sprintf("trace-%d-draw", h.size.width))
	h.press("Repeat…")
	h.tap(byID["L6"][0])
	h.press("Ties")
	for _, p := range h.Parts {
		spot := map[string]string{"lateral": "end"}[p.Kind]
		if spot == "" {
			spot = "center"
		}
		for _, tie := range p.Ties {
			h.typeIn(p.ID+" "+spot+", from "+tie.From, tie.Distance)
		}
		if p.ID == "L1" {
			h.typeIn("L1, length", p.Written["length"])
		}
	}
	h.press("Fill in all laterals as L1")
	h.shot(fmt.Sprintf("trace-%d-ties", h.size.width))
	h.press("Scale")
	if h.size.touch {
		h.press("Closer")
		h.press("Closer")
	}
	h.press("Mark two places")
	h.tap(byID["A"][0])
	h.tap(byID["B"][0])
	h.typeIn("Length written between them", "42'")
	h.press("Set the scale")
	h.sees("The scale is set")
	h.press("Draw the arrow")
	h.tap(h.North[0])
	h.tap(h.North[1])
	h.press("To scale")
	h.shot(fmt.Sprintf("trace-%d-scale", h.size.width))
	h.press("Save")
	h.shot(fmt.Sprintf("trace-%d-save", h.size.width))
	h.press("Save the sketch")
}

// The times of Card, Moran & Newell, The keystroke-level model for user
// performance time with interactive systems, CACM 23 (1980), from memory:
// pointing 1.1 s, a key 0.5 s where figures are typed, making up one's mind
// 1.35 s; here before every tap and every text.
const pointing, key, mind = 1.1, 0.5, 1.35

func TestTraceAPhotographedSheet(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := tracing(t)
	for _, tt := range []struct {
		name string
		size size
	}{{"phone", phone}, {"desk", desk}} {
		t.Run(tt.name, func(t *testing.T) {
			h := &hand{tab: open(t, tt.size), permit: readPermit(t), rng: rand.New(rand.NewPCG(3, 5)), miss: 1.2}
			h.visit(s.URL + "/")
			h.sees("Photograph the permit drawing")
			h.shot("trace-" + tt.name + "-choose")
			h.traceAll()
			got, _ := h.saved()
			assert.Equal(t, "ft", string(got.Unit))
			assert.Equal(t, asbuilt.ToScale, got.Trust)
			assert.Equal(t, "scan.jpg", got.Scan)
			assert.Equal(t, "scan.jpg image/jpeg", eval[string](h.tab, "window.saved.scan.name + ' ' + window.saved.scan.type"))
			require.NotNil(t, got.Up)
			assert.InDelta(t, 0, math.Remainder(got.Up.Bearing.Degrees(), 360), 8, "the arrow points up the sheet; it is short")

			var drawn, truth []complex128
			require.Len(t, got.Parts, len(h.Parts))
			for _, want := range h.Parts {
				p := got.Part(want.ID)
				require.NotNil(t, p, want.ID)
				assert.Equal(t, want.Kind, string(p.Kind))
				require.Len(t, p.Shapes[0].Vertices, len(want.At), want.ID)
				for i, v := range p.Shapes[0].Vertices {
					drawn, truth = append(drawn, complex(v.X, v.Y)), append(truth, complex(want.At[i][0], want.At[i][1]))
				}
				require.Len(t, p.Ties, len(want.Ties), want.ID)
				for i, tie := range want.Ties {
					assert.Equal(t, tie.At, string(p.Ties[i].At))
					assert.Equal(t, tie.From, p.Ties[i].From)
					assert.Equal(t, tie.Distance, p.Ties[i].Distance.Written, "as written")
				}
				if l := want.Written["length"]; l != "" {
					require.NotNil(t, p.Length, want.ID)
					assert.InDelta(t, 65*0.3048, p.Length.Metres, 1e-9)
				}
			}
			scale, rms, worst := shape(drawn, truth)
			assert.InDelta(t, 1, scale, 0.03, "two touches on a length of 42 ft")
			percent := 100 / h.Sheet[0]
			assert.Less(t, worst*percent, 0.8, "percent of the sheet's width")
			seconds := float64(h.taps)*(pointing+mind) + float64(h.keys)*key
			assert.Less(t, seconds, 300.0, "five minutes")
			t.Logf("%d places: root mean square %.2f ft (%.2f %% of the sheet's width), worst %.2f ft (%.2f %%), scale %+.2f %%; %d taps and drags, %d keys: %.0f s by the keystroke-level model",
				len(truth), rms, rms*percent, worst, worst*percent, 100*(scale-1), h.taps, h.keys, seconds)
			assert.Empty(t, h.log)
		})
	}
}

// shape returns what is left between places drawn and true once the similarity
// that fits best is taken away, as the engine takes it away, and the scale of
// that similarity: least squares over complex numbers.
func shape(drawn, truth []complex128) (scale, rms, worst float64) {
	mean := func(v []complex128) (m complex128) {
		for _, z := range v {
			m += z / complex(float64(len(v)), 0)
		}
		return m
	}
	d, w := mean(drawn), mean(truth)
	var above, below complex128
	for i := range truth {
		above += cmplx.Conj(truth[i]-w) * (drawn[i] - d)
		below += cmplx.Conj(truth[i]-w) * (truth[i] - w)
	}
	a := above / below
	for i := range truth {
		e := cmplx.Abs((drawn[i]-d)/a - (truth[i] - w))
		rms, worst = rms+e*e/float64(len(truth)), max(worst, e)
	}
	return cmplx.Abs(a), math.Sqrt(rms), worst
}

func slice(v [2]float64) []float64 { return v[:] }

// projective returns the projective map that takes four places to four others
// (Hartley & Zisserman, Multiple View Geometry, section 2.3).
func projective(t *testing.T, from, to [4][2]float64) func([2]float64) [2]float64 {
	t.Helper()
	a, b := mat.NewDense(8, 8, nil), mat.NewVecDense(8, nil)
	for i := range from {
		x, y, u, v := from[i][0], from[i][1], to[i][0], to[i][1]
		a.SetRow(2*i, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y})
		a.SetRow(2*i+1, []float64{0, 0, 0, x, y, 1, -v * x, -v * y})
		b.SetVec(2*i, u)
		b.SetVec(2*i+1, v)
	}
	var h mat.VecDense
	require.NoError(t, h.SolveVec(a, b))
	return func(p [2]float64) [2]float64 {
		w := h.AtVec(6)*p[0] + h.AtVec(7)*p[1] + 1
		return [2]float64{(h.AtVec(0)*p[0] + h.AtVec(1)*p[1] + h.AtVec(2)) / w, (h.AtVec(3)*p[0] + h.AtVec(4)*p[1] + h.AtVec(5)) / w}
	}
}
