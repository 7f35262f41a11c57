package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	sheet "asfound/survey/drawing"
	"asfound/testdata/long"
)

// TestTraceComparesWithTheDrawing types figures of the invented sheet, right ones and
// misread ones: a line beside the row says so before the field is left, and nothing is
// held up.
func TestTraceComparesWithTheDrawing(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := tracing(t)
	for name, z := range map[string]size{"phone": {360, 740, true}, "desk": desk} {
		t.Run(name, func(t *testing.T) {
			h := handOn(t, z, s.URL)
			h.squareUp()
			at := map[string][][2]float64{}
			for _, p := range h.Parts {
				at[p.ID] = p.At
			}
			h.press("Landmark")
			h.tap(at["A"][0])
			h.tap(at["B"][0])
			h.press("Box")
			h.tap(at["box"][0])
			h.press("Lateral")
			h.tap(at["L1"][0])
			h.tap(at["L1"][1])
			h.press("Ties")
			// As on the sheet: nothing to say, though no scale is set yet.
			h.typeIn("box center, from A", `26'8"`)
			h.typeIn("box center, from B", `54'7"`)
			h.typeIn("L1, length", "65'")
			h.typeIn("L1 end, from A", `73'4"`)
			h.typeIn("L1 end, from B", `41'1"`)
			assert.NotContains(t, h.text(), "check")
			// Two figures are swapped, 14 for 41: while the field still has the focus.
			h.typed("L1 end, from B", `14'1"`)
			// A pixel of a phone is 0.6 ft of the sheet, so what is drawn is known to a foot.
			h.wait(`/⚠ from B: 14'1" written, 4[01]′ [\d½]+″ drawn: check/.test(document.body.innerText)`)
			assert.Equal(t, 1, eval[int](h.tab, `document.querySelectorAll("tr.trace-odd").length`), "the others are not blamed")
			h.look("trace-" + name + "-odd")
			h.press("Save")
			h.sees(`end from B: 14'1" written, 4`)
			h.press("Ties")
			h.typeIn("L1 end, from B", `41'1"`)
			h.wait(`!document.querySelector("tr.trace-odd")`)
			// A scale that the written lengths contradict: 24 for 42 ft between A and B.
			h.press("Scale")
			h.press("Mark two places")
			h.tap(at["A"][0])
			h.tap(at["B"][0])
			h.typeIn("Length written between them", "24'")
			h.press("Set the scale")
			h.sees("The written lengths are 1.7")
			h.look("trace-" + name + "-scale-odd")
			h.press("Mark two places")
			h.tap(at["A"][0])
			h.tap(at["B"][0])
			h.typeIn("Length written between them", "42'")
			h.press("Set the scale")
			h.wait(`!document.body.innerText.includes("The written lengths are")`)
		})
	}
}

// TestTraceSpread holds what the page asks by to the engine's own errors of drafting, and
// the example of the issue to what is asked about.
func TestTraceSpread(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	h := handOn(t, desk, tracing(t).URL)
	var spread map[asbuilt.Trust]struct{ Share, Metres, Scale float64 }
	require.NoError(t, json.Unmarshal([]byte(eval[string](h.tab, "JSON.stringify(window.pure.drawn.spread)")), &spread))
	for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
		d := sheet.DraftingOf(&asbuilt.Sketch{Trust: trust})
		assert.InDelta(t, math.Hypot(math.Hypot(d.Stretch, d.Size), d.Drift), spread[trust].Share, 0.001, trust)
		assert.InDelta(t, math.Hypot(math.Hypot(d.Shift, d.Box), d.Landmark), spread[trust].Metres, 0.01, trust)
		assert.InDelta(t, d.Scale, spread[trust].Scale, 1e-9, trust)
	}
	says := func(trust, written string, unit ...string) string {
		return eval[string](h.tab, fmt.Sprintf(`window.pure.drawn.odd({type: "FeatureCollection", sketch: {unit: "ft", trust: %s}, features: [
			{type: "Feature", id: "A", geometry: {type: "Point", coordinates: [0, 0]}, properties: {part: "landmark"}},
			{type: "Feature", id: "box", geometry: {type: "Point", coordinates: [0, %v]}, properties: {part: "box", ties: [{at: "center", from: "A", distance: %s}]}}]}, %s).odd.map((o) => o.says).join()`,
			quote(trust), 36+11./12, quote(written), quote(append(unit, "ft")[0])))
	}
	assert.Equal(t, `45'6" written, 36′ 11″ drawn: check`, says("roughly", `45'6"`))
	assert.Equal(t, `45'6" written, 36′ 11″ drawn: check`, says("to-scale", `45'6"`))
	assert.Empty(t, says("not-to-scale", `45'6"`), "a sheet that is not to scale says nothing against it")
	assert.NotEmpty(t, says("not-to-scale", "83'"))
	assert.Empty(t, says("roughly", "38'"))
	assert.NotEmpty(t, says("to-scale", `40'6"`))
	assert.Equal(t, "13.87 m written, 11.25 m drawn: check", says("roughly", "13.87 m", "m"))
}
