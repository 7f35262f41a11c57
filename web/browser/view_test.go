package browser

import (
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// TestFieldFirst shows invented jobs for the first time, and turns the device: box,
// laterals and next hole are in view and clear of the keys, and fill it better than
// the whole lot would. Where somebody moved the map, what they saw stays in view.
func TestFieldFirst(t *testing.T) {
	s := mapAlone(t)
	b := open(t, size{360, 260, true})
	for seed := range long.Size(t, 3, 30) {
		j := inventedJob(t, 10*seed+3)
		turn := func(width, height int64) {
			b.do(chromedp.EmulateViewport(width, height, chromedp.EmulateMobile, chromedp.EmulateTouch))
			b.wait("site.map.getSize()[0] === " + num(float64(width)))
			eval[bool](b, "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))")
		}
		var field [][2]float64
		for _, o := range j.things() {
			if o.kind == "trench" || o.kind == "structure" && o.text[:3] == "box" || o.text == "dig here" {
				field = append(field, o.path...)
			}
		}
		text, err := json.Marshal(field)
		require.NoError(t, err)
		inView := func(what string) {
			t.Helper()
			out := eval[[]string](b, string(text)+`.map((c) => site.map.getPixelFromCoordinate(c)).filter(([x, y]) => {
				const under = document.elementFromPoint(x, y);
				return x < 0 || y < 0 || x > innerWidth || y > innerHeight || under.closest(".maptools button");
			}).map(String)`)
			assert.Empty(t, out, "%s, %s: of the field out of view", j.name, what)
		}
		b.visit(s.URL)
		b.wait("window.site")
		turn(360, 260)
		eval[bool](b, `(site.show(`+j.belief+`, `+j.plan+`, "ft"), site.map.renderSync(), true)`)
		inView("at first")
		// The field and its margins fill the width or the height that the keys leave.
		first := eval[float64](b, "site.map.getView().getResolution()")
		eval[bool](b, "(site.all(), true)")
		assert.LessOrEqual(t, first, eval[float64](b, "site.map.getView().getResolution()"), "%s: metres a pixel of the field, and of the site", j.name)
		eval[bool](b, "(site.field(), site.map.renderSync(), true)")
		turn(640, 180)
		inView("turned")
		turn(360, 260)
		inView("turned back")
		// Moved on: what is in the middle stays in view, at no smaller a scale than it fits in.
		eval[bool](b, "(site.zoom(3), site.map.renderSync(), true)")
		seen := eval[[]float64](b, "site.map.getView().calculateExtent()")
		turn(640, 180)
		now := eval[[]float64](b, "site.map.getView().calculateExtent()")
		assert.True(t, now[0] <= seen[0]+0.1 && now[1] <= seen[1]+0.1 && now[2] >= seen[2]-0.1 && now[3] >= seen[3]-0.1, "%s: %v was in view, now %v", j.name, seen, now)
	}
}

// TestNextHidesNothing puts the next hole on the box, and on a hole, and looks at the
// pixels: what marks them is as dark as it is without a next hole.
func TestNextHidesNothing(t *testing.T) {
	s := mapAlone(t)
	b := open(t, size{360, 260, true})
	b.visit(s.URL)
	b.wait("window.site")
	j := inventedJob(t, 5)
	for _, o := range j.things() {
		if o.kind != "hole" && o.text != "box" || o.text == "dig here" {
			continue
		}
		at, err := json.Marshal(o.path[0])
		require.NoError(t, err)
		dark := func(plan string) float64 {
			return eval[float64](b, `(() => {
				site.show(`+j.belief+`, `+plan+`, "ft");
				site.map.getView().setCenter(`+string(at)+`);
				site.map.getView().setResolution(0.02);
				site.map.renderSync();
				const k = devicePixelRatio, c = document.querySelector(".map canvas"), [x, y] = site.map.getPixelFromCoordinate(`+string(at)+`);
				const d = c.getContext("2d").getImageData((x - 8) * k, (y - 8) * k, 16 * k, 16 * k).data;
				let n = 0;
				for (let i = 0; i < d.length; i += 4) if (d[i + 3] > 128 && d[i] < 60 && d[i + 1] < 110 && d[i + 2] < 70) n++; // ink and green, not the next hole's red
				return n;
			})()`)
		}
		bare := dark("null")
		require.Greater(t, bare, 50.0, "%s is drawn", o.text)
		plan := `{"seek": "box", "findings": [], "holes": [{"rank": 1, "action": "hole", "ties": [], "east": ` + num(o.path[0][0]) + `, "north": ` + num(o.path[0][1]) + `}]}`
		assert.GreaterOrEqual(t, dark(plan), 0.95*bare, "%s under the next hole", o.text)
	}
}
