package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/testdata/long"
)

// keys puts the keyboard's focus on a control and types.
func (h *hand) keysOn(js, text string) {
	h.t.Helper()
	h.wait(js)
	eval[bool](h.tab, "("+js+".focus(), true)")
	h.wait(js + " === document.activeElement")
	h.do(chromedp.KeyEvent(text))
}

func button(name string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(".trace button, .trace summary")].find((b) => b.textContent.trim() === %s)`, quote(name))
}

func handOn(t *testing.T, s size, url string) *hand {
	t.Helper()
	h := &hand{tab: open(t, s), permit: readPermit(t), rng: rand.New(rand.NewPCG(7, 9))}
	h.visit(url + "/")
	h.wait("window.start && window.pure")
	return h
}

// Unknown members are kept wherever they are (RFC 7946, 6.1), and what is not
// edited is not changed.
func TestTraceKeepsWhatItDoesNotKnow(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	b, err := os.ReadFile("../../testdata/sites/demo/sketch.geojson")
	require.NoError(t, err)
	var before map[string]any
	require.NoError(t, json.Unmarshal(b, &before))
	features := before["features"].([]any)
	before["office"] = map[string]any{"file": "17-B"}
	before["sketch"].(map[string]any)["surveyor_note"] = "kept"
	feature := func(i int) map[string]any { return features[i].(map[string]any) }
	feature(5)["bbox"] = []any{21.5, -11.5, 29.0, -7.0}
	feature(5)["properties"].(map[string]any)["soil"] = "loam"
	feature(5)["properties"].(map[string]any)["ties"].([]any)[0].(map[string]any)["seen"] = "1987"
	feature(2)["geometry"].(map[string]any)["coordinates"] = []any{41.0, 0.0, 101.5}
	text, err := json.Marshal(before)
	require.NoError(t, err)
	eval[any](h.tab, "window.start("+string(text)+", 'ft', '')")

	h.press("Parts")
	h.press("B Landmark")
	h.typeIn("What it is on the ground", "corner by the meter")
	h.press("Places as numbers")
	h.typeIn("1: right, ft", "40.5")
	h.press("tank Tank")
	h.press("Ties")
	h.typeIn("tank center, from A", `29'2"`)
	h.press("Save")
	h.press("Save the sketch")
	_, got := h.saved()

	feature(2)["properties"].(map[string]any)["name"] = "corner by the meter"
	feature(2)["geometry"].(map[string]any)["coordinates"] = []any{40.5, 0.0, 101.5}
	feature(5)["properties"].(map[string]any)["ties"].([]any)[0].(map[string]any)["distance"] = `29'2"`
	want, err := json.Marshal(before)
	require.NoError(t, err)
	assert.JSONEq(t, string(want), got)
	assert.True(t, eval[bool](h.tab, "window.saved.scan === null"), "no scan was added")
}

// Everything can be done without a pointer.
func TestTraceByKeyboardAlone(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	h.keysOn(button("Draw without a picture"), kb.Enter)
	h.keysOn(button("Parts"), kb.Enter)
	h.keysOn(button("Add a part by numbers"), kb.Enter)
	for _, p := range []struct{ kind, places string }{
		{"landmark", "10 50"}, {"landmark", "52 50"}, {"box", "20 30"}, {"lateral", "22 28; 80 28"},
	} {
		h.choose("Kind", p.kind)
		h.keysOn(fmt.Sprintf(field, quote("Places")), p.places+"\r")
		h.keysOn(button("Add"), kb.Enter)
		h.wait(fmt.Sprintf(field, quote("Places")) + `.value === ""`)
	}
	h.keysOn(button("Ties"), kb.Enter)
	// Enter goes from field to field; the first is the box from A.
	h.keysOn(fmt.Sprintf(field, quote("box center, from A")), "22'4\"\r37'9\"\r2 ft\r")
	h.wait(fmt.Sprintf(field, quote("L1 start, from A")) + " === document.activeElement")
	h.keysOn(button("Save"), kb.Enter)
	h.keysOn(button("Save the sketch"), kb.Enter)
	got, _ := h.saved()
	require.Len(t, got.Parts, 4)
	box := got.Part("box")
	require.Len(t, box.Ties, 2)
	assert.Equal(t, `37'9"`, box.Ties[1].Distance.Written)
	assert.Equal(t, "B", box.Ties[1].From)
	assert.InDelta(t, 2*0.3048, box.Cover.Metres, 1e-12)
	assert.Equal(t, []asbuilt.Position{{X: 22, Y: 28}, {X: 80, Y: 28}}, got.Part("L1").Shapes[0].Vertices)
}

// Written lengths are read as the engine reads them.
func TestTraceReadsLengthsAsTheEngineDoes(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	for _, bare := range []geo.Unit{geo.Foot, geo.Metre} {
		for _, text := range []string{
			`43'6"`, `43' 6 1/2"`, `43'-6"`, `12' 6-1/2"`, `43'6`, `43’6”`, `43′ 6″`, `43'6''`, `43'6½"`, `43 ft 6 in`, `43 Ft. 6 In.`, `43ft6in`,
			`43.5 ft`, `43.5'`, `43 1/2'`, `0'6"`, `6 in`, `18"`, `3/4"`, `13.26 m`, `13.26m`, `1326 cm`, `2.5 yd`, `3937 us-ft`, `43.5`, `.5`, `43.`,
			`-3'6"`, `−3′6″`, `+2 m`, "\t43.5\u00a0ft ", `43 6`, `43'12"`, `43.5'6"`, `13 m 6 in`, `60 fathoms`, ``, `abc`, `6 3/2"`, `1/0"`, `43' 6 ft`, `5 px`, `NaN`, `1e400`,
		} {
			got := eval[*float64](h.tab, fmt.Sprintf("window.pure.length.metres(%s, %s) ?? null", quote(text), quote(string(bare))))
			want, err := geo.ParseLength(text, bare)
			if err != nil {
				assert.Nil(t, got, "%q is no length: %v", text, err)
				continue
			}
			if assert.NotNil(t, got, "%q is %v m", text, want.Metres) {
				assert.InDelta(t, want.Metres, *got, 1e-12, "%q", text)
			}
		}
	}
}

// The table of lengths that crews of two languages write is kept by the engine too.
func TestTraceReadsLengthsOfTheTable(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, phone, tracing(t).URL)
	text, err := os.ReadFile("../../testdata/reference/lengths.json")
	require.NoError(t, err)
	var table struct {
		Lengths []struct {
			Text, Bare string
			Metres     *float64
		}
	}
	require.NoError(t, json.Unmarshal(text, &table))
	require.Greater(t, len(table.Lengths), 30)
	for _, l := range table.Lengths {
		got := eval[*float64](h.tab, fmt.Sprintf("window.pure.length.metres(%s, %s) ?? null", quote(l.Text), quote(l.Bare)))
		if l.Metres == nil {
			assert.Nil(t, got, "%q is no length", l.Text)
		} else if assert.NotNil(t, got, "%q is %v m", l.Text, *l.Metres) {
			assert.InDelta(t, *l.Metres, *got, 1e-12, "%q", l.Text)
		}
	}
}

// The camera of testdata/scans knows the sheet to be 11 by 8½ inches; the shape
// is to follow from the photo alone.
func TestTraceFindsTheShapeOfTheSheet(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	corners, err := json.Marshal(h.Corners)
	require.NoError(t, err)
	got := eval[float64](h.tab, fmt.Sprintf("window.pure.homography.aspect(%s, %v, %v)", corners, h.Photo[0], h.Photo[1]))
	assert.InEpsilon(t, 11/8.5, got, 1e-6)
	// A view square on does not determine the focal length: the sides are used
	// instead.
	assert.InDelta(t, 1.5, eval[float64](h.tab, "window.pure.homography.aspect([[10,10],[310,10],[310,210],[10,210]], 400, 300)"), 1e-9)
	assert.False(t, eval[bool](h.tab, "window.pure.homography.convex([[0,0],[1,1],[1,0],[0,1]])"), "corners in the wrong order")
}

// A PDF page has a size, so the scale note on it is enough.
func TestTraceAPage(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	h.upload("Photo, picture or PDF", scans+"permit.pdf")
	h.sees("Square it up")
	h.press("Use as it is")
	h.sees("Touch a part to select it")
	h.squared = func(p [2]float64) [2]float64 { return [2]float64{p[0] / h.Sheet[0], p[1] / h.Sheet[1]} }
	h.press("Lateral")
	l := h.Parts[len(h.Parts)-1]
	h.tap(l.At[0])
	h.tap(l.At[1])
	h.press("Scale")
	h.press("A scale note on the sheet")
	h.typeIn("are feet on the ground", "20")
	h.press("Use the note")
	h.sees("220′ 0″ by 170′ 0")
	h.shot("trace-pdf")
	h.press("Save")
	h.press("Save the sketch")
	got, _ := h.saved()
	assert.Equal(t, "scan.pdf", got.Scan)
	assert.Nil(t, got.Up)
	v := got.Part("L1").Shapes[0].Vertices
	for i := range v {
		assert.InDelta(t, l.At[i][0], v[i].X, 0.3, "feet; a touch is whole pixels")
		assert.InDelta(t, l.At[i][1], v[i].Y, 0.3)
	}
}

// A traced sketch opens with its scan in the same position, and squaring the
// scan up again moves the parts along.
func TestTraceOpensAgain(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := tracing(t)
	h := handOn(t, desk, s.URL)
	h.squareUp()
	h.press("Box")
	h.tap([2]float64{64, 92})
	h.press("Lateral")
	h.tap([2]float64{70, 84})
	h.tap([2]float64{135, 84})
	h.press("Save")
	h.press("Save the sketch")
	_, first := h.saved()

	eval[any](h.tab, "window.start("+first+", 'ft', '/scans/permit.jpg')")
	h.wait(`document.querySelector(".trace-board[data-picture]") && document.querySelector("[data-part=L1]")`)
	h.press("Save")
	h.press("Save the sketch")
	_, again := h.saved()
	assert.JSONEq(t, first, again)

	eval[any](h.tab, "(window.saved = undefined, true)")
	h.press("Sheet")
	h.press("Turn right")
	h.press("Square up")
	h.sees("the drawn parts moved with it")
	h.press("Save")
	h.press("Save the sketch")
	turned, _ := h.saved()
	old := func(text string) (v struct {
		Features []struct {
			Geometry struct{ Coordinates json.RawMessage }
		}
		Sketch struct{ Underlay struct{ Size [2]float64 } }
	}) {
		require.NoError(t, json.Unmarshal([]byte(text), &v))
		return v
	}(first)
	var line [2][2]float64
	require.NoError(t, json.Unmarshal(old.Features[1].Geometry.Coordinates, &line))
	got := turned.Part("L1").Shapes[0].Vertices
	// Turned clockwise, what ran to the right runs down.
	assert.Less(t, math.Abs(got[1].X-got[0].X), 0.02*math.Abs(got[1].Y-got[0].Y))
	assert.Less(t, got[1].Y, got[0].Y)
	assert.InEpsilon(t, math.Hypot(line[1][0]-line[0][0], line[1][1]-line[0][1]), math.Hypot(got[1].X-got[0].X, got[1].Y-got[0].Y), 0.02)
}

// Undo takes back the last step, redo gives it again.
func TestTraceUndo(t *testing.T) {
	h := handOn(t, phone, tracing(t).URL)
	h.press("Draw without a picture")
	h.squared = func(p [2]float64) [2]float64 { return p }
	count := `document.querySelectorAll("[data-part]").length`
	at := eval[[]float64](h.tab, `(() => { const r = document.querySelector(".trace-board").getBoundingClientRect(); return [r.x, r.y, r.width, r.height]; })()`)
	h.press("Landmark")
	for _, x := range []float64{.2, .5, .8} {
		h.do(chromedp.TapXY(at[0]+x*at[2], at[1]+.5*at[3]))
	}
	h.wait(count + " === 3")
	h.press("Undo")
	h.wait(count + " === 2")
	h.press("Redo")
	h.wait(count + " === 3")
	h.press("Select")
	h.do(chromedp.TapXY(at[0]+.5*at[2], at[1]+.5*at[3]))
	h.sees("Landmark B")
	h.shot("trace-phone-selected")
	h.drag(at[0]+.5*at[2], at[1]+.5*at[3], at[0]+.5*at[2], at[1]+.25*at[3])
	b := eval[[]float64](h.tab, `(() => { const r = document.querySelector("[data-part=B] path").getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	assert.InDelta(t, at[1]+.25*at[3], b[1], 12)
	h.do(chromedp.KeyEvent(kb.Delete))
	h.wait(count + " === 2")
	h.press("Save")
	h.sees("There is no lateral and no box")
	assert.True(t, eval[bool](h.tab, button("Save the sketch")+".disabled"))
	require.NotContains(t, strings.Join(h.log, ""), "exception")
}

// What a finished job knew of a sketch is of its places as they were: a note may change
// with it, a place or a unit may not.
func TestTraceForgetsWhatWasKnown(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	keeps := func(change string) bool {
		return eval[bool](h.tab, `(() => {
			const was = {type: "FeatureCollection", sketch: {unit: "m", known: {places: [], covariance: []}}, features: []};
			return "known" in window.pure.sketch.drawnAnew(was, `+change+`).sketch;
		})()`)
	}
	assert.True(t, keeps(`{...was, sketch: {...was.sketch, note: "read on the porch"}}`))
	assert.False(t, keeps(`{...was, features: [{type: "Feature"}]}`))
	assert.False(t, keeps(`{...was, sketch: {...was.sketch, unit: "ft"}}`))
}
