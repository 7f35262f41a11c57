package browser

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/survey/answer"
	"asfound/survey/fieldbook"
	"asfound/survey/simulate"
	"asfound/testdata/long"
	"asfound/web/api"
)

// mapAlone serves the map by itself, with as many keys over it as the app has.
func mapAlone(t *testing.T) *httptest.Server {
	t.Helper()
	chromium(t)
	made := t.TempDir()
	esbuild(t, "source/alone.ts", "--format=esm", "--outdir="+made)
	mux := http.NewServeMux()
	mux.Handle("/made/", http.StripPrefix("/made/", http.FileServer(http.Dir(made))))
	mux.Handle("/style/", http.StripPrefix("/style/", http.FileServer(http.Dir("../app/style"))))
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, r *http.Request) {
		fmt.Fprint(w, `<!doctype html><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Map</title>`+
			`<link rel="stylesheet" href="/style/base.css"><link rel="stylesheet" href="/style/plan.css"><link rel="stylesheet" href="/style/ol.css">`+
			`<section class="site" style="position:absolute;inset:0"><div class="map"></div><div class="maptools">`+strings.Repeat("<button></button>", 6)+`</div></section>`+
			`<script type="module" src="/made/alone.js"></script>`)
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s
}

// invented is what the engine says of an invented job.
type invented struct {
	name   string
	unit   string
	belief string // JSON
	plan   string
	is     answer.Belief
	holes  []answer.Proposal
	first  string // what comes before the first of them
}

// inventedJob returns an invented job of a crowded lot: sheets of every trust, up to
// 15 holes, pipes and cables of others, in feet or metres.
func inventedJob(t *testing.T, seed int) invented {
	t.Helper()
	s := simulate.Invent(simulate.Order{Seed: uint64(seed), Trust: simulate.Trusts[seed%3], Mix: simulate.Mixes[seed%4],
		Holes: simulate.HoleCounts[seed%6], Empty: []int{0, 2, 5}[seed/3%3], Unknown: seed % 2 * min(1, simulate.HoleCounts[seed%6]), Depths: true})
	sketch := s.Job.Sketch
	at := func(id string) asbuilt.Position { return sketch.Part(id).Shapes[0].Vertices[0] }
	mid := func(a, b asbuilt.Position, k float64) asbuilt.Position {
		return asbuilt.Position{X: a.X + k*(b.X-a.X), Y: a.Y + k*(b.Y-a.Y)}
	}
	add := func(id string, kind asbuilt.Kind, name string, form asbuilt.Form, v ...asbuilt.Position) {
		sketch.Parts = append(sketch.Parts, asbuilt.Part{ID: id, Kind: kind, Name: name, Shapes: []asbuilt.Shape{{Form: form, Vertices: v}}, Feature: len(sketch.Parts) + 1})
	}
	box, a, b, c := at("box"), at("A"), at("B"), at("C")
	add("U1", asbuilt.Utility, []string{"gas line", ""}[seed%2], asbuilt.Line, b, sketch.Part("L4").Shapes[0].Vertices[1])
	add("U2", asbuilt.Utility, "electric cable", asbuilt.Line, c, mid(c, at("L1"), 2))
	add("oak", asbuilt.NoDig, "oak, roots", asbuilt.Polygon, mid(a, box, 0.4), mid(a, box, 0.5), mid(b, box, 0.45))
	add("W1", asbuilt.Well, "", asbuilt.Point, mid(box, a, 2))
	sketch.Origin = nil
	var text strings.Builder
	require.NoError(t, geojson.Encode(&text, sketch))
	unit := []string{"ft", "m"}[seed%2]
	job := api.Job{Sketch: json.RawMessage(text.String()), Settings: json.RawMessage(`{"unit":"` + unit + `"}`)}
	for i := range s.Job.Readings {
		job.Rows = append(job.Rows, fieldbook.EncodeRow(&s.Job.Readings[i]))
	}
	ask := func(stage string, more string) string {
		q, err := json.Marshal(job)
		require.NoError(t, err)
		got, err := api.Run(t.Context(), stage, []byte(`{"job":`+string(q)+more+`}`))
		require.NoError(t, err, "%d", seed)
		return string(got)
	}
	out := invented{name: fmt.Sprintf("lot %d", seed), unit: unit, belief: ask("belief", "")}
	require.NoError(t, json.Unmarshal([]byte(out.belief), &out.is))
	if seed%10 == 0 {
		out.plan = ask("plan", `,"brief":true`)
	} else {
		out.plan = nearTheBox(t, &out.is, seed)
	}
	var plan answer.DigPlan
	require.NoError(t, json.Unmarshal([]byte(out.plan), &plan))
	for _, h := range plan.Holes {
		if h.Rank > 0 {
			out.holes = append(out.holes, h)
		} else {
			out.first = string(h.Action)
		}
	}
	return out
}

// nearTheBox returns a plan as the engine makes them, in a thousandth of its time:
// the next hole on the box or next to it, the later ones about it, as near as 0.3 m.
func nearTheBox(t *testing.T, b *answer.Belief, seed int) string {
	t.Helper()
	var box answer.Spot
	var ties []map[string]any
	for _, s := range b.Spots {
		if s.Part == "box" {
			box = s
		}
	}
	plan := map[string]any{"seek": "box", "findings": []any{}}
	var holes []any
	for i := range 4 {
		far, turn := float64(seed%5)*0.4+0.3*float64(i), float64(seed+2*i)
		if i == 0 && seed%2 == 0 {
			far = 0
		}
		e, n := float64(box.East)+far*math.Cos(turn), float64(box.North)+far*math.Sin(turn)
		ties = nil
		for _, from := range []int{seed % 4, (seed + 1) % 4} {
			id := string(rune('A' + from))
			for _, s := range b.Spots {
				if s.Part == id {
					ties = append(ties, map[string]any{"from": id, "distance": math.Hypot(float64(s.East)-e, float64(s.North)-n)})
				}
			}
		}
		holes = append(holes, map[string]any{"rank": i + 1, "east": e, "north": n, "ties": ties, "action": "hole"})
	}
	plan["holes"] = holes
	text, err := json.Marshal(plan)
	require.NoError(t, err)
	return string(text)
}

// thing is what a name on the map may be taken to belong to.
type thing struct {
	kind   string
	text   string // that its name has, or begins with where it ends in a blank
	path   [][2]float64
	radius float64 // of its sign, pixels: as drawn, without its edge
	area   bool    // the path runs round it
}

// things lists what is on the map of a job, in metres of the ground: what the test
// takes from the engine's answer by itself.
func (j *invented) things() (all []thing) {
	one := func(kind, text string, east, north answer.Metres, radius float64) {
		all = append(all, thing{kind: kind, text: text, path: [][2]float64{{float64(east), float64(north)}}, radius: radius})
	}
	for _, s := range j.is.Spots {
		switch s.Kind {
		case "landmark":
			one("landmark", s.Part, s.East, s.North, 9)
		case "box":
			if len(s.Lobes) == 0 {
				one("structure", s.Part, s.East, s.North, 11)
			}
			for _, l := range s.Lobes {
				one("structure", fmt.Sprintf("%s %.0f %%", s.Part, 100*l.Share), l.East, l.North, 11)
			}
		case "tank", "port":
			one("structure", s.Part, s.East, s.North, 0)
		}
	}
	for _, c := range j.is.Corridors {
		if c.Kind == "lateral" {
			l := thing{kind: "trench", text: c.Part}
			for _, v := range c.Line {
				l.path = append(l.path, [2]float64{float64(v[0]), float64(v[1])})
			}
			all = append(all, l)
		}
	}
	for _, o := range j.is.Outlines {
		if o.Kind != "utility" && o.Kind != "no-dig" {
			continue
		}
		g := thing{kind: "guarded", text: o.Name}
		if g.text == "" {
			g.text = "utility " + o.Part
		}
		for _, v := range o.Now[0].Vertices {
			g.path = append(g.path, [2]float64{float64(v[0]), float64(v[1])})
		}
		if g.area = o.Now[0].Form == "Polygon"; g.area {
			g.path = append(g.path, g.path[0])
		}
		all = append(all, g)
	}
	for _, h := range j.is.Holes {
		text := h.ID
		if h.Result != "" {
			text += ": "
		}
		one("hole", text, h.East, h.North, 9)
	}
	text := "dig here"
	switch j.first {
	case "follow":
		text = "if lost, dig here"
	case "rod":
		text = "else dig here"
	}
	for _, h := range j.holes[:min(1, len(j.holes))] {
		one("hole", text, h.East, h.North, 22)
	}
	return all
}

// off is how far a rectangle (left, top, right, bottom) lies from a thing on the
// screen: from the edge of its sign, or from its line, which is walked in steps of
// half a pixel.
func (o thing) off(r [4]float64, path [][2]float64) float64 {
	to := func(x, y float64) float64 {
		return math.Hypot(max(r[0]-x, 0, x-r[2]), max(r[1]-y, 0, y-r[3]))
	}
	if strings.HasSuffix(o.text, "dig here") { // a standing square: its edge is where x and y add up to radius
		x, y := path[0][0], path[0][1]
		return max(0, max(r[0]-x, 0, x-r[2])+max(r[1]-y, 0, y-r[3])-o.radius) / math.Sqrt2
	}
	if len(path) == 1 {
		return max(0, to(path[0][0], path[0][1])-o.radius)
	}
	least, left := math.Inf(1), false
	for i := 1; i < len(path); i++ { // a ray from a corner to the right crosses the edge of what it is in an odd number of times
		if a, b := path[i-1], path[i]; a[1] > r[1] != (b[1] > r[1]) && r[0] < (b[0]-a[0])*(r[1]-a[1])/(b[1]-a[1])+a[0] {
			left = !left
		}
	}
	if o.area && left {
		return 0
	}
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		n := max(1, 2*int(math.Hypot(b[0]-a[0], b[1]-a[1])))
		for k := range n + 1 {
			f := float64(k) / float64(n)
			least = min(least, to(a[0]+f*(b[0]-a[0]), a[1]+f*(b[1]-a[1])))
		}
	}
	return least
}

// TestNamesBelong shows 200 invented jobs at three zooms, on a phone upright and lying,
// and on a desk, and holds every name on the map to what a crew reads from it: it is
// nearer to its own thing than to any other of its kind, lies over no other name, nor
// over the next hole, a box or a key, and is whole. The next hole is always named, in
// the worst crowd by a line that joins it to its name: on fewer than one map in eight
// (measured: one in nine).
// Names that there is no room for are left out; how many of each kind is logged.
func TestNamesBelong(t *testing.T) {
	jobs := long.Size(t, 12, 200)
	s := mapAlone(t)
	sizes := []size{{360, 260, true}, {640, 180, true}, {576, 300, false}}
	tabs := make([]*tab, len(sizes))
	for i, z := range sizes {
		tabs[i] = open(t, z)
		tabs[i].visit(s.URL)
		tabs[i].wait("window.site")
	}
	named, there := map[string]int{}, map[string]int{}
	for seed := range jobs {
		j := inventedJob(t, seed+1)
		all := j.things()
		for _, b := range tabs {
			for _, zoom := range []string{"site.turn('north'), site.field()", "site.all()", "site.field(), site.zoom(2.5), site.near(" + place(j.holes[0]) + ")"} {
				b.names(&j, all, zoom, named, there)
			}
		}
	}
	assert.LessOrEqual(t, there["leader"], jobs*9/8, "next holes named by a line")
	t.Logf("%d of %d maps join the next hole to its name by a line", there["leader"], jobs*9)
	delete(there, "leader")
	assert.GreaterOrEqual(t, named["utility"], there["utility"]*3/4, "utilities that are named, of those in view")
	for kind, n := range there {
		t.Logf("%s: %d named, %d in view", kind, named[kind], n)
	}
}

func place(h answer.Proposal) string {
	return fmt.Sprintf("[%v,%v]", float64(h.East), float64(h.North))
}

// names shows a job at a zoom, and checks its names.
func (b *tab) names(j *invented, all []thing, zoom string, named, there map[string]int) {
	b.t.Helper()
	paths := [][][2]float64{}
	for _, o := range all {
		paths = append(paths, o.path)
	}
	ground, err := json.Marshal(paths)
	require.NoError(b.t, err)
	type seen struct {
		Names []struct {
			Text string
			Rect [4]float64
		}
		Leaders int
		Keys    [][4]float64
		Paths   [][][2]float64
	}
	got := eval[seen](b, `new Promise((done) => {
		site.show(`+j.belief+`, `+j.plan+`, `+quote(j.unit)+`);
		`+zoom+`;
		site.map.renderSync();
		site.map.renderSync(); // the scale bar has its width after the first
		const px = (p) => site.map.getPixelFromCoordinate(p);
		const of = (r) => [r.left, r.top, r.right, r.bottom];
		done({
			names: [...document.querySelectorAll(".names text")].map((e) => { const r = e.getBBox(); return {text: e.textContent, rect: [r.x, r.y, r.x + r.width, r.y + r.height]}; }),
			leaders: document.querySelectorAll(".names line").length,
			keys: [...document.querySelectorAll(".maptools button, .ol-scale-line")].map((e) => of(e.getBoundingClientRect())),
			paths: `+string(ground)+`.map((p) => p.map(px)),
		});
	})`)
	where := func(of, what string) string {
		return fmt.Sprintf("%s at %dx%d, %s: %q %s", j.name, b.size.width, b.size.height, zoom, of, what)
	}
	frame := [4]float64{0, 0, float64(b.size.width), float64(b.size.height)}
	free := func(x, y, room float64) bool { // of keys and of the edge
		return x > room && y > room && x < frame[2]-room && y < frame[3]-room && !slices.ContainsFunc(got.Keys, func(k [4]float64) bool {
			return x > k[0]-room && x < k[2]+room && y > k[1]-room && y < k[3]+room
		})
	}
	there["leader"] += got.Leaders
	count := map[string]int{}
	for i, n := range got.Names {
		r := n.Rect
		r[1], r[3] = r[1]+1, r[3]-1 // the browser's box of a line is a little higher than its letters
		assert.True(b.t, r[0] >= 0 && r[1] >= 0 && r[2] <= frame[2] && r[3] <= frame[3], where(n.Text, "is cut at the edge"))
		for _, k := range got.Keys {
			assert.False(b.t, lap(r, k), where(n.Text, "lies under a key"))
		}
		for _, m := range got.Names[:i] {
			q := m.Rect
			q[1], q[3] = q[1]+1, q[3]-1
			assert.False(b.t, lap(r, q), where(n.Text, "lies over "+m.Text))
		}
		own := slices.IndexFunc(all, func(o thing) bool {
			return n.Text == o.text || strings.HasSuffix(o.text, " ") && strings.HasPrefix(n.Text, o.text)
		})
		for k, o := range all {
			p := got.Paths[k]
			switch {
			case strings.HasSuffix(o.text, "dig here"):
				assert.Positive(b.t, o.off(r, p), where(n.Text, "lies over the next hole"))
			case strings.HasPrefix(o.text, "box"):
				assert.False(b.t, lap(r, [4]float64{p[0][0] - 8, p[0][1] - 8, p[0][0] + 8, p[0][1] + 8}), where(n.Text, "lies over a box"))
			}
			if own >= 0 && k != own && o.kind == all[own].kind && (got.Leaders == 0 || !strings.HasSuffix(n.Text, "dig here")) {
				d := all[own].off(r, got.Paths[own])
				assert.Less(b.t, d, o.off(r, p), where(n.Text, "is no nearer to its own than to "+o.text))
			}
		}
		if own >= 0 {
			named[all[own].kind]++
			count[all[own].text]++
			assert.LessOrEqual(b.t, count[all[own].text], 1, where(n.Text, "stands twice"))
		}
	}
	for k, o := range all {
		p := got.Paths[k][0]
		if o.kind == "guarded" { // of a line, a good piece of it
			p = [2]float64{(p[0] + got.Paths[k][1][0]) / 2, (p[1] + got.Paths[k][1][1]) / 2}
		}
		if free(p[0], p[1], 0) {
			there[o.kind]++
			if o.kind == "guarded" && !o.area {
				there["utility"]++
				named["utility"] += count[o.text]
			}
			assert.True(b.t, !strings.HasSuffix(o.text, "dig here") || count[o.text] == 1, where(o.text, "is missing"))
		}
	}
}

// lap reports whether two rectangles lie over one another.
func lap(a, b [4]float64) bool {
	return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}

// TestNamesGiveWay places names of invented crowds, and then only those of the upper
// ranks: these must stand where they did, so that no name is left out for the sake of
// a less important one.
func TestNamesGiveWay(t *testing.T) {
	s := mapAlone(t)
	b := open(t, phone)
	b.visit(s.URL)
	b.wait("window.place")
	moved := eval[[]string](b, `(() => {
		let seed = 7;
		const chance = () => (seed = (seed * 48271) % 2147483647) / 2147483647; // Park & Miller 1988
		const bad = [];
		let out = 0;
		for (let crowd = 0; crowd < 60; crowd++) {
			const wishes = Array.from({length: 30}, (_, i) => ({kind: "hole", rank: i ? ranks[1 + Math.floor(chance() * (ranks.length - 1))] : "next", width: 30 + 60 * chance(), height: 18, radius: i ? 9 : 24, path: [[50 + 200 * chance(), 50 + 150 * chance()]]}));
			const all = place(wishes, [0, 0, 300, 250], []);
			out += all.filter((p) => !p).length;
			if (!all[0]) bad.push("crowd " + crowd + ": the next hole is not named");
			for (const [k, rank] of ranks.entries()) {
				const upper = wishes.map((w) => ({...w, width: ranks.indexOf(w.rank) > k ? 1e4 : w.width})); // the lower ones fit nowhere
				place(upper, [0, 0, 300, 250], []).forEach((p, i) => {
					if (ranks.indexOf(wishes[i].rank) <= k && JSON.stringify(p) !== JSON.stringify(all[i])) bad.push("crowd " + crowd + ", down to " + rank + ": " + i);
				});
			}
		}
		if (out < 100) bad.push("only " + out + " names were left out: no crowd");
		return bad;
	})()`)
	assert.Empty(t, moved)
	order := eval[[]string](b, "ranks")
	assert.Equal(t, []string{"next", "sought", "guarded", "tape", "landmark", "trench", "hole", "structure", "later", "building", "around"}, order, "the stated order")
}
