package browser

import (
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// inNode evaluates an expression with the functions of a file of the page's source.
func inNode[T any](t *testing.T, source, js string) (v T) {
	t.Helper()
	node := long.Program(t, "node")
	dir := t.TempDir()
	made, script := filepath.Join(dir, "source.mjs"), filepath.Join(dir, "script.mjs")
	esbuild(t, source, "--format=esm", "--outfile="+made)
	require.NoError(t, os.WriteFile(script, []byte(`import * as f from "./source.mjs"; console.log(JSON.stringify(`+js+`));`), 0o644))
	text, err := exec.Command(node, script).CombinedOutput()
	require.NoError(t, err, "%s", text)
	require.NoError(t, json.Unmarshal(text, &v), "%s", text)
	return v
}

// transform is a worked example of fitting one plane to another.
type transform struct {
	Name               string
	Src, Dst           [][2]float64
	Computed           struct{ A, B, Tx, Ty, S0 float64 }
	ComputedUnweighted struct {
		Params []float64
		S0     float64
		SD     []float64
	} `json:"computed_unweighted"`
}

// taps writes a worked example as taps; y runs up in it, and down in a picture.
func (w *transform) taps() string {
	var b strings.Builder
	for i := range w.Src {
		fmt.Fprintf(&b, "{at: [%v, %v], ground: [%v, %v], sigma: 0},", w.Src[i][0], -w.Src[i][1], w.Dst[i][0], w.Dst[i][1])
	}
	return "[" + b.String() + "]"
}

// TestLayingByWorkedExamples compares how a picture is laid with worked examples of Ghilani
// & Wolf, Adjustment Computations (18.1: two-dimensional conformal; 18.2: affine, here
// without its weights, by QR factorisation in NumPy): parameters, standard deviation of
// unit weight, and what follows from it for a place. They are in testdata/reference.
func TestLayingByWorkedExamples(t *testing.T) {
	data, err := os.ReadFile("../../testdata/reference/transform_2d.json")
	require.NoError(t, err)
	var all []transform
	require.NoError(t, json.Unmarshal(data, &all))
	type answer struct {
		Judged struct {
			Lie, Off []float64
			Sigma    float64
		}
		Spread float64
	}
	ask := func(kind string, w *transform, place [2]float64) answer {
		return inNode[answer](t, "picture/lay.ts", fmt.Sprintf(`((ties) => ({judged: {lie: f.fit(%[1]q, ties), sigma: f.judge(%[1]q, ties).found, off: f.judge(%[1]q, ties).off}, spread: f.spread(%[1]q, ties, 1, [%[3]v, %[4]v])}))(%[2]s)`, kind, w.taps(), place[0], place[1]))
	}

	w := &all[0]
	require.Equal(t, "conformal4_ghilani_18_1", w.Name)
	// The place that the origin of the source comes to: its spread is that of Tx.
	got := ask("similar", w, [2]float64{w.Computed.Tx, w.Computed.Ty})
	c := w.Computed
	for i, want := range []float64{c.A, c.B, c.Tx, c.B, -c.A, c.Ty, 0, 0, 1} { // E = a·x + b·y with y down
		assert.InDelta(t, want, got.Judged.Lie[i], 1e-9*math.Max(1, math.Abs(want)), "%d", i)
	}
	assert.InDelta(t, c.S0, got.Judged.Sigma, 1e-7)
	assert.InDelta(t, 0.1225928, c.S0*got.Spread, 1e-4, "standard deviation of Tx")

	w = &all[1]
	require.Contains(t, w.Name, "affine6_ghilani_18_2")
	p := w.ComputedUnweighted.Params
	got = ask("affine", w, [2]float64{p[2], p[5]})
	for i, want := range []float64{p[0], -p[1], p[2], p[3], -p[4], p[5]} {
		assert.InDelta(t, want, got.Judged.Lie[i], 1e-9*math.Max(1, math.Abs(want)), "%d", i)
	}
	assert.InDelta(t, w.ComputedUnweighted.S0, got.Judged.Sigma, 1e-9)
	assert.InDelta(t, w.ComputedUnweighted.SD[2], w.ComputedUnweighted.S0*got.Spread, 1e-3, "standard deviation of c")
}

// TestOddTap moves one of four taps by 3 m and expects it to be named, and none where three
// taps disagree, since any one of three explains it: by the redundancy of the fit (Baarda
// 1968), four equations in four unknowns less two.
func TestOddTap(t *testing.T) {
	const ground = `[[0, 0], [13.4, 0], [13.4, 8.5], [22.6, -6.1]]`
	judge := `((n, wrong) => f.judge("similar", ` + ground + `.slice(0, n).map(([e, n], i) => ({at: [25 * e + (i === wrong ? 75 : 0), 1000 - 25 * n], ground: [e, n], sigma: 0.03}))))`
	type judged struct {
		Apart, Unchecked bool
		Odd              int
		Without          float64
	}
	for wrong := range 4 {
		got := inNode[judged](t, "picture/lay.ts", fmt.Sprintf("%s(4, %d)", judge, wrong))
		assert.True(t, got.Apart, "tap %d", wrong)
		assert.Equal(t, wrong, got.Odd)
		assert.Less(t, got.Without, 1e-6, "the others are exact, metres")
	}
	got := inNode[judged](t, "picture/lay.ts", judge+"(3, 1)")
	assert.True(t, got.Apart)
	assert.Equal(t, -1, got.Odd, "three cannot say which")
	got = inNode[judged](t, "picture/lay.ts", judge+"(2, 1)")
	assert.True(t, got.Unchecked)
	assert.False(t, got.Apart, "two fit whatever they are")
	got = inNode[judged](t, "picture/lay.ts", judge+"(4, -1)")
	assert.False(t, got.Apart || got.Unchecked)
}

// TestWorldFileAgreesWithGDAL compares a world file, turned, with gdaltransform on a picture
// that it lies beside: GDAL counts pixels from the corner of the upper left one, as the page
// does, while the file's C and F are the middle of that pixel.
func TestWorldFileAgreesWithGDAL(t *testing.T) {
	program := long.Program(t, "gdaltransform")
	const world = "0.04\r\n0.015\r\n0.015\r\n-0.04\r\n470700.125\r\n4583500.5\r\n"
	dir := t.TempDir()
	f, err := os.Create(filepath.Join(dir, "yard.png"))
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, image.NewGray(image.Rect(0, 0, 300, 200))))
	require.NoError(t, f.Close())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "yard.pgw"), []byte(world), 0o644))
	places := [][2]float64{{0, 0}, {300, 200}, {17.25, 140.5}}
	c := exec.Command(program, "-output_xy", filepath.Join(dir, "yard.png"))
	for _, p := range places {
		c.Stdin = strings.NewReader(fmt.Sprintf("%v %v\n", p[0], p[1]))
		out, err := c.Output()
		require.NoError(t, err)
		var want [2]float64
		_, err = fmt.Sscan(string(out), &want[0], &want[1])
		require.NoError(t, err)
		got := inNode[[]float64](t, "picture/lay.ts", fmt.Sprintf("f.through(f.worldFile(%q), [%v, %v])", world, p[0], p[1]))
		assert.InDeltaSlice(t, want[:], got, 1e-6)
		c = exec.Command(program, "-output_xy", filepath.Join(dir, "yard.png"))
	}
	for text, want := range map[string]string{
		"1\n0\n0\n-1\n5\n":            "found 5 words",
		"0,5\n0\n0\n-0,5\n100\n200":   `found \"0,5\"`,
		"0\n0\n0\n-1\n100\n200":       "no width and height",
		"\x89PNG and what follows it": "words",
	} {
		got := inNode[string](t, "picture/lay.ts", fmt.Sprintf(`(() => { try { f.worldFile(%q); } catch (e) { return e.message; } })()`, text))
		assert.Contains(t, got, strings.ReplaceAll(want, `\"`, `"`))
	}
}

// TestWindow cuts the part of a large picture that shows the lot, with 60 m beside it, and
// none of a picture of somewhere else. By hand: 10 cm a pixel, 1 km each way, its middle at
// the origin.
func TestWindow(t *testing.T) {
	const ground = `[[-500, 500], [500, 500], [500, -500], [-500, -500]]`
	type window struct{ Left, Top, Width, Height float64 }
	got := inNode[*window](t, "picture/window.ts", `f.windowOf([10000, 10000], `+ground+`, [0, -20, 40, 10], 60)`)
	require.NotNil(t, got)
	assert.InDelta(t, 4400, got.Left, 1)
	assert.InDelta(t, 4300, got.Top, 1)
	assert.InDelta(t, 1600, got.Width, 2)
	assert.InDelta(t, 1500, got.Height, 2)
	assert.Nil(t, inNode[*window](t, "picture/window.ts", `f.windowOf([10000, 10000], `+ground+`, [600, 0, 640, 30], 60) ?? null`))
}

// opened is what the page found of a GeoTIFF.
type opened struct {
	Size  []float64
	World *struct{ Lie []float64 }
	CRS   string
}

// TestGeoTIFFAgreesWithGDAL opens GeoTIFFs that GDAL wrote and compares where their pixels
// lie with gdaltransform, and the code of their system: tie point and scale, a turned one,
// one whose tie point is the middle of a pixel, and one without coordinates.
func TestGeoTIFFAgreesWithGDAL(t *testing.T) {
	translate, program := long.Program(t, "gdal_translate"), long.Program(t, "gdaltransform")
	dir := t.TempDir()
	savePicture(t, image.NewRGBA(image.Rect(0, 0, 300, 200)), filepath.Join(dir, "yard.png"))
	for _, tt := range []struct {
		name, world, crs string
		more             []string
	}{
		{"upright", "0.06\n0\n0\n-0.06\n470700\n4583500\n", "EPSG:32710", nil},
		{"turned", "0.05\n0.02\n0.02\n-0.05\n470700\n4583500\n", "EPSG:32710", nil},
		{"in feet", "0.2\n0\n0\n-0.2\n1312233\n580012\n", "EPSG:2264", []string{"-co", "TILED=YES"}},
		{"degrees, tie in the middle", "1e-6\n0\n0\n-7e-7\n-123.4\n-48.9\n", "EPSG:4326", []string{"-mo", "AREA_OR_POINT=Point"}},
		{"nowhere", "", "", nil},
	} {
		from, to := filepath.Join(dir, "yard.png"), filepath.Join(dir, "yard.tif")
		args := append([]string{"-q", from, to}, tt.more...)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "yard.pgw"), []byte(tt.world), 0o644))
		if tt.crs == "" {
			require.NoError(t, os.Remove(filepath.Join(dir, "yard.pgw")))
		} else {
			args = append(args, "-a_srs", tt.crs)
		}
		out, err := exec.Command(translate, args...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		got := inNode[opened](t, "picture/geotiff.ts", fmt.Sprintf(`await (async () => {
			const fs = await import("node:fs");
			globalThis.FileReader = class { readAsArrayBuffer(b) { b.arrayBuffer().then((r) => { this.result = r; this.onload({target: this}); }); } }; // Node.js has none
			const o = await f.openGeoTIFF(new Blob([fs.readFileSync(%q)]), "yard.tif"); return {size: o.size, world: o.world ?? null, crs: o.world?.crs ?? ""}; })()`, to))
		assert.Equal(t, []float64{300, 200}, got.Size, tt.name)
		assert.Equal(t, tt.crs, got.CRS, tt.name)
		if tt.crs == "" {
			assert.Nil(t, got.World, tt.name)
			continue
		}
		require.NotNil(t, got.World, tt.name)
		for _, p := range [][2]float64{{0, 0}, {300, 200}, {17.25, 140.5}} {
			c := exec.Command(program, "-output_xy", to)
			c.Stdin = strings.NewReader(fmt.Sprintf("%v %v\n", p[0], p[1]))
			out, err := c.Output()
			require.NoError(t, err)
			var want [2]float64
			_, err = fmt.Sscan(string(out), &want[0], &want[1])
			require.NoError(t, err)
			h := got.World.Lie
			assert.InDelta(t, want[0], h[0]*p[0]+h[1]*p[1]+h[2], 1e-6*0.06, "%s: %v", tt.name, p)
			assert.InDelta(t, want[1], h[3]*p[0]+h[4]*p[1]+h[5], 1e-6*0.06, "%s: %v", tt.name, p)
		}
	}
}

// TestReadInAPictureIsNotTooSure reads places in 3000 invented pictures of a lot, laid on
// four landmarks and on two close together, where fingers miss by three pixels, landmarks are known to 5 cm, things have an
// edge, and roofs lean outwards. Each place lies within its 95 % as often as that says; and
// what the log makes of four places of one picture, taken for independent, is never surer
// of their mean than the pictures are, though they share the error of the laying.
func TestReadInAPictureIsNotTooSure(t *testing.T) {
	type result struct {
		Held         float64 // share of the 95 % intervals that hold the truth
		Mean, Claims float64 // variance of the mean of four places: of the pictures, and as the log has it
		Sigma        float64
	}
	const play = `((roofs, tall, marks, places) => {
		let state = 7; // mulberry32, so that the numbers are the same every time
		const uniform = () => { state = (state + 0x6D2B79F5) | 0; let t = Math.imul(state ^ (state >>> 15), 1 | state); t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t; return ((t ^ (t >>> 14)) >>> 0) / 4294967296; };
		const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
		let [held, count, mean, claims, sigmas] = [0, 0, 0, 0, 0];
		for (let trial = 0; trial < 3000; trial++) {
			const nadir = [40 * uniform() - 10, 40 * uniform() - 20];
			// 6 cm a pixel. What is height h of the height of flight above the ground leans by that from the nadir.
			const pixel = (p, h) => [0, 1].map((i) => (p[i] + h * (p[i] - nadir[i]) + 0.2 * normal()) / 0.06 + 3 * normal()).map((v, i) => i ? 1000 - v : v);
			const ties = marks.map((p, i) => ({at: pixel(p, i < roofs ? 0.03 * normal() : 0), ground: p.map((v) => v + 0.05 * normal()), sigma: 0.05}));
			let [sum, claim] = [0, 0];
			for (const p of places) {
				const r = f.read("similar", ties, pixel(p, tall ? 0.03 * normal() : 0), [nadir[0] / 0.06, 1000 - nadir[1] / 0.06], tall);
				const [a, b] = [ties[r.from].ground, ties[r.to].ground];
				const l = Math.hypot(b[0] - a[0], b[1] - a[1]), e = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
				const off = [a[0] + r.station * e[0] + r.offset * e[1] - p[0], a[1] + r.station * e[1] - r.offset * e[0] - p[1]];
				held += off.filter((v) => Math.abs(v) < 1.96 * r.sigma).length;
				count += 2;
				sum += off[1] / places.length;
				claim += (r.sigma / places.length) ** 2;
				sigmas += r.sigma / places.length;
			}
			mean += sum ** 2 / 3000;
			claims += claim / 3000;
		}
		return {held: held / count, mean, claims, sigma: sigmas / 3000};
	})`
	for name, args := range map[string]string{
		"four":      `(3, false, [[0, 0], [13.4, 0], [13.4, 8.5], [22.6, -6.1]], [[5, -12], [8, -13], [11, -14], [3, -10]])`,
		"a roof":    `(3, true, [[0, 0], [13.4, 0], [13.4, 8.5], [22.6, -6.1]], [[5, 12], [8, 13], [11, 14], [3, 10]])`,
		"three":     `(2, false, [[0, 0], [13.4, 0], [22.6, -6.1]], [[5, -12], [8, -13], [11, -14], [3, -10]])`,
		"two close": `(2, false, [[0, 0], [5, 0]], [[24, -12], [25, -11], [26, -12], [25, -13]])`,
	} {
		got := inNode[result](t, "picture/read.ts", play+args)
		t.Logf("%s: %+v", name, got)
		assert.Greater(t, got.Held, 0.95, name)
		assert.Less(t, got.Mean, got.Claims, name)
		assert.Greater(t, got.Sigma, 0.3, "%s: weak, as a picture is", name)
	}
}
