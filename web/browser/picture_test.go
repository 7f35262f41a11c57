package browser

import (
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// air is an invented picture of the yard of a site from above, painted from its truth: its
// pixels are known without the page.
type air struct {
	places        map[string][2]float64 // metres in the frame of the truth
	width, height int
	metres        float64 // of a pixel
	turned        float64 // degrees, counter-clockwise on the ground
}

// demoAir is a picture of the demo's yard, 6 cm a pixel, turned.
func demoAir(t *testing.T) *air {
	t.Helper()
	data, err := os.ReadFile("../../testdata/sites/demo/truth.json")
	require.NoError(t, err)
	var truth struct{ Places map[string][2]float64 }
	require.NoError(t, json.Unmarshal(data, &truth))
	return &air{places: truth.Places, width: 900, height: 700, metres: 0.06, turned: 25}
}

// pixel returns where a place of the ground is in the picture, whose middle is in the yard.
func (a *air) pixel(p [2]float64) [2]float64 {
	s, c := math.Sincos(a.turned * math.Pi / 180)
	x, y := p[0]-10, p[1]+5
	return [2]float64{float64(a.width)/2 + (c*x+s*y)/a.metres, float64(a.height)/2 - (c*y-s*x)/a.metres}
}

// ground is the inverse of pixel.
func (a *air) ground(p [2]float64) [2]float64 {
	s, c := math.Sincos(a.turned * math.Pi / 180)
	x, y := (p[0]-float64(a.width)/2)*a.metres, (float64(a.height)/2-p[1])*a.metres
	return [2]float64{10 + c*x - s*y, -5 + s*x + c*y}
}

// paint paints lawn, house, drive and the things that stand in the yard.
func (a *air) paint() image.Image {
	m := image.NewRGBA(image.Rect(0, 0, a.width, a.height))
	for y := range a.height {
		for x := range a.width {
			g := a.ground([2]float64{float64(x) + 0.5, float64(y) + 0.5})
			shade := uint8((x*x*7 + y*13 + x*y) % 17)
			c := color.RGBA{88 + shade, 128 + shade, 70 + shade, 255}
			switch {
			case g[0] > 0 && g[0] < 13.4112 && g[1] > 0 && g[1] < 8.5344: // roof
				c = color.RGBA{122, 82, 74, 255}
				if math.Abs(g[1]-4.2672) < 0.15 {
					c = color.RGBA{90, 58, 52, 255}
				}
			case g[0] > 15 && g[0] < 19 && g[1] > 3: // drive
				c = color.RGBA{150, 148, 144, 255}
			}
			for _, name := range []string{"F", "H1", "H2", "H3"} {
				if q := a.places[name]; math.Hypot(g[0]-q[0], g[1]-q[1]) < 0.3 {
					c = color.RGBA{240, 236, 220, 255}
				}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

// save writes a picture and returns its path.
func savePicture(t *testing.T, m image.Image, path string) string {
	t.Helper()
	f, err := os.Create(path)
	require.NoError(t, err)
	if strings.HasSuffix(path, ".png") {
		require.NoError(t, png.Encode(f, m))
	} else {
		require.NoError(t, jpeg.Encode(f, m, &jpeg.Options{Quality: 90}))
	}
	require.NoError(t, f.Close())
	return path
}

// tapIn chooses a landmark, with the first list on the screen, and taps a pixel of the
// picture that is being laid.
func (b *tab) tapIn(landmark string, a *air, at [2]float64) {
	b.t.Helper()
	b.wait(`(() => { const e = document.querySelector(".picturelay select"); if (!e) return false; e.value = ` + quote(landmark) + `; e.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`)
	b.wait(`document.querySelector(".picturelay [role=status]").innerText.includes(` + quote(" "+landmark+" ") + `) && document.querySelector(".trace-board[data-picture]")`)
	r := eval[[]float64](b, `(() => { const b = document.querySelector(".trace-board"); b.scrollIntoView(); const r = b.getBoundingClientRect(); return [r.x, r.y, ...b.dataset.picture.split(" ").map(Number)]; })()`)
	x, y := r[0]+r[2]+at[0]/float64(a.width)*r[4], r[1]+r[3]+at[1]/float64(a.height)*r[5]
	if b.size.touch {
		b.do(chromedp.TapXY(x, y))
	} else {
		b.do(chromedp.MouseClickXY(x, y))
	}
	b.wait(`[...document.querySelectorAll(".taps li span")].some((e) => e.innerText.startsWith(` + quote(landmark+" ") + `))`)
}

// tapUnder taps the map where the picture under it shows one of its pixels.
func (b *tab) tapUnder(a *air, at [2]float64) {
	b.t.Helper()
	b.still()
	xy := eval[[]float64](b, fmt.Sprintf(`(() => { const i = document.querySelector(".underpicture img"); const f = i.parentElement.getBoundingClientRect();
		const p = new DOMMatrix(getComputedStyle(i).transform).transformPoint(new DOMPoint(%v * i.naturalWidth, %v * i.naturalHeight)); return [f.x + p.x / p.w, f.y + p.y / p.w]; })()`, at[0]/float64(a.width), at[1]/float64(a.height)))
	if b.size.touch {
		b.do(chromedp.TapXY(xy[0], xy[1]))
	} else {
		b.do(chromedp.MouseClickXY(xy[0], xy[1]))
	}
}

// under waits until a picture lies under the plan.
func (b *tab) under() {
	b.t.Helper()
	b.wait(`document.querySelector(".underpicture img")?.naturalWidth > 0`)
}

// pictureKept waits until the parts of the app that are fetched later are on the phone.
func (b *tab) pictureKept() {
	b.t.Helper()
	kept := func() bool {
		return eval[bool](b, `caches.keys().then(async (all) => (await Promise.all(all.map(async (k) => (await (await caches.open(k)).keys()).some((r) => r.url.includes("/static/picture-")) && (await (await caches.open(k)).keys()).some((r) => r.url.includes("/static/geotiff-"))))).some(Boolean))`)
	}
	require.Eventually(b.t, kept, patience, 50*time.Millisecond)
}

// TestPictureUnderThePlan lays a picture from above by taps on a small phone without a
// network, after every slip that is likely: a file that is no picture, two taps on one
// spot, a tap beside its landmark. It lies where the yard is, which a tap on a hole shows
// that it was not laid by; it fades, is switched off by one tap, is there after a reload,
// comes to a second phone, and goes with the folder.
func TestPictureUnderThePlan(t *testing.T) {
	long.Only(t, "a minute in a browser")
	a := demoAir(t)
	dir := t.TempDir()
	file := savePicture(t, a.paint(), filepath.Join(dir, "Yard from above (2).jpg"))
	text := filepath.Join(dir, "notes.jpg")
	require.NoError(t, os.WriteFile(text, []byte("not a picture"), 0o644))

	s := newSite(t)
	lead := s.desk()
	b := s.joined(smallPhone, "Phone one")
	b.pictureKept()
	s.stop()
	b.do(reload)
	b.settled()

	b.press("More")
	b.press("Documents")
	b.press("Add a picture")
	b.sees("JPEG, PNG, WebP, GeoTIFF or PMTiles")
	b.look("phone-picture-choose")
	b.upload("Choose a picture", text)
	b.sees("notes.jpg is no picture that this browser can read")
	b.upload("Choose a picture", file)
	b.tapIn("A", a, a.pixel(a.places["A"]))
	b.tapIn("B", a, a.pixel(a.places["A"]))
	b.sees("A and B are tapped on one spot")
	b.tapIn("B", a, a.pixel(a.places["B"]))
	b.sees("Nothing checks these taps")
	b.look("phone-picture-two")
	beside := a.places["C"]
	beside[1] -= 4
	b.tapIn("C", a, a.pixel(beside))
	b.sees("three cannot say which is wrong")
	b.tapIn("F", a, a.pixel(a.places["F"]))
	b.sees("C looks odd")
	b.look("phone-picture-odd")
	b.tapIn("C", a, a.pixel(a.places["C"]))
	b.wait(`!document.body.innerText.includes("looks odd")`)
	b.sees("A is off by")
	b.sees("The picture covers 17") // 900 pixels of 6 cm: 177 ft
	b.look("phone-picture-laid")
	b.press("Lay it under the plan")
	b.kept()
	b.under()
	b.settled()
	b.look("phone-picture-plan")
	note := b.latest("condition")
	assert.Equal(t, "picture Yard from above (2).jpg laid on A, B, C, F", note["note"])

	// What is painted at a hole lies under the hole.
	b.press("Close") // the notice
	b.press("Closer")
	b.tapUnder(a, a.pixel(a.places["H2"]))
	b.sees("Hole H2")
	b.shot("phone-picture-card")
	eval[bool](b, `(document.querySelector(".card .close").click(), true)`)

	b.press("Picture")
	b.wait(`!document.querySelector(".underpicture")`)
	b.press("Picture")
	b.under()
	eval[bool](b, `(() => { const i = document.querySelector("input[type=range]"); i.value = 0.3; i.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	b.wait(`document.querySelector(".underpicture img").style.opacity === "0.3"`)
	b.do(reload)
	b.settled()
	b.under()
	assert.Equal(t, "0.3", eval[string](b, `document.querySelector(".underpicture img").style.opacity`))
	assert.Empty(t, b.log, "exceptions")

	// The desk has it too, once there is a network again, and after that without one.
	s.start()
	eval[bool](b, `(dispatchEvent(new Event("online")), true)`)
	b.sent()
	eval[bool](lead, `(dispatchEvent(new Event("online")), true)`)
	lead.under()
	lead.settled()
	lead.look("desk-picture-plan")
	out := lead.exported()
	lead.sees("laid on A, B, C, F")
	lead.look("desk-picture-list")
	s.stop()
	lead.do(reload)
	lead.settled()
	lead.under()

	// A stranger who is handed the folder sees it.
	s.start()
	folder := t.TempDir()
	kept := false
	for name, text := range out {
		kept = kept || strings.HasPrefix(name, "picture-yard-from-above-2-")
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	assert.True(t, kept, "the picture is in the folder")
	stranger := open(t, phone)
	stranger.visit(s.url + "/")
	stranger.bringFolder(folder)
	stranger.under()
	stranger.tapUnder(a, a.pixel(a.places["H2"]))
	stranger.sees("Hole H2")

	// It is taken away, and brought back by the undo.
	stranger.press("More")
	stranger.press("Documents")
	stranger.press("Take it away")
	stranger.press("Yes, withdraw it")
	stranger.sees("withdrawn: picture") // the notice moves what is under it
	stranger.press("Back")
	stranger.settled()
	assert.False(t, eval[bool](stranger, `!!document.querySelector(".underpicture")`))
	stranger.press("Undo")
	stranger.under()
	assert.Empty(t, stranger.log, "exceptions")
	assert.Empty(t, lead.log, "exceptions")
}

// geographic returns longitude and latitude of places of the demo's truth, which has those
// of its box and the bearing of its y axis; metres of a degree there are by the radii of
// curvature of WGS 84 (Snyder, USGS PP 1395, 4-18 and 4-19).
func geographic(t *testing.T, a *air, places ...[2]float64) (all [][2]float64) {
	t.Helper()
	const lon, lat, bearing, rad = -123.39991571, -48.90011338, 337.0, math.Pi / 180
	e2, r := 0.00669437999014, 6378137.0
	w := math.Sqrt(1 - e2*math.Pow(math.Sin(lat*rad), 2))
	perLon, perLat := r/w*math.Cos(lat*rad)*rad, r*(1-e2)/math.Pow(w, 3)*rad
	s, c := math.Sincos(bearing * rad)
	for _, p := range places {
		x, y := p[0]-a.places["box"][0], p[1]-a.places["box"][1]
		all = append(all, [2]float64{lon + (c*x+s*y)/perLon, lat + (c*y-s*x)/perLat})
	}
	return all
}

// utm returns where places of the demo's truth lie in EPSG:32710, by gdaltransform.
func utm(t *testing.T, a *air, places ...[2]float64) [][2]float64 {
	t.Helper()
	program := long.Program(t, "gdaltransform")
	var in strings.Builder
	for _, p := range geographic(t, a, places...) {
		fmt.Fprintf(&in, "%.10f %.10f\n", p[0], p[1])
	}
	cmd := exec.Command(program, "-s_srs", "EPSG:4326", "-t_srs", "EPSG:32710", "-output_xy")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	require.NoError(t, err)
	var all [][2]float64
	for line := range strings.Lines(string(out)) {
		var p [2]float64
		_, err := fmt.Sscan(line, &p[0], &p[1])
		require.NoError(t, err)
		all = append(all, p)
	}
	require.Len(t, all, len(places))
	return all
}

// world returns the world file of a picture in EPSG:32710.
func (a *air) world(t *testing.T) string {
	t.Helper()
	// The middles of the upper left pixel, of the one to its right and of the one below.
	p := utm(t, a, a.ground([2]float64{0.5, 0.5}), a.ground([2]float64{1000.5, 0.5}), a.ground([2]float64{0.5, 1000.5}))
	var b strings.Builder
	for _, v := range []float64{
		(p[1][0] - p[0][0]) / 1000, (p[1][1] - p[0][1]) / 1000, (p[2][0] - p[0][0]) / 1000, (p[2][1] - p[0][1]) / 1000, p[0][0], p[0][1],
	} {
		fmt.Fprintf(&b, "%.8f\n", v)
	}
	return b.String()
}

// TestPictureByItsWorldFile lays a picture by its world file, after a world file of another
// picture, one in another system, and one that is none. It is kept as small as a phone
// needs it, and lies where the yard is, to the error of the job's own fixes.
func TestPictureByItsWorldFile(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	a := demoAir(t)
	dir := t.TempDir()
	file := savePicture(t, a.paint(), filepath.Join(dir, "yard.png"))
	world := func(name, text string) string {
		name = filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
		return name
	}
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.press("More")
	b.press("Documents")
	b.press("Add a picture")
	b.upload("Choose a picture", file, world("roof.pgw", a.world(t)))
	b.sees("roof.pgw goes by its name with another picture than yard.png")
	b.upload("Choose a picture", file, world("yard.pgw", "0,06\n0\n0\n-0,06\n470700\n4583500\n"))
	b.sees(`yard.pgw is no world file`)
	b.sees("with a point for decimals")
	b.upload("Choose a picture", file, world("yard.pgw", a.world(t)))
	b.sees("Laid by yard.pgw")
	// Proposed is the zone of the job; a neighbour's lies hundreds of kilometres off.
	b.fill("EPSG code", "EPSG:32711")
	b.press("Lay it under the plan")
	b.sees("does not show this lot: it lies 440 km away") // 6° of longitude at 48.9° south, 73.3 km each
	b.look("phone-picture-elsewhere")
	b.fill("EPSG code", "EPSG:27700")
	b.press("Lay it under the plan")
	b.sees("EPSG:27700 is not known here")
	b.fill("EPSG code", "EPSG:32710")
	b.look("phone-picture-world")
	b.press("Lay it under the plan")
	b.kept()
	b.under()
	b.settled()
	b.shot("phone-picture-by-world")
	assert.Equal(t, "picture yard.png laid by WGS 84 / UTM zone 10S", b.latest("condition")["note"])
	b.tapUnder(a, a.pixel(a.places["H2"]))
	b.sees("Hole H2")
	assert.Empty(t, b.log, "exceptions")

	// A job without a fix is not laid by coordinates.
	b.visit(s.url + "/#/jobs")
	b.bring("two-tapes")
	b.press("More")
	b.press("Documents")
	b.press("Add a picture")
	b.upload("Choose a picture", file, world("yard.pgw", a.world(t)))
	b.sees("No satellite fix ties this job to the earth")
	b.look("phone-picture-no-fix")
	b.press("Tap landmarks instead")
	b.sees("in the picture. Two fingers")
	assert.Empty(t, b.log, "exceptions")
}

// TestPictureOf100Megapixels opens a picture as large as any phone takes, and keeps 2400
// pixels of each 10 000, or of what shows the lot where coordinates say which that is.
func TestPictureOf100Megapixels(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	a := demoAir(t)
	a.width, a.height, a.metres = 10000, 10000, 0.04 // 400 m each way
	m := image.NewGray(image.Rect(0, 0, a.width, a.height))
	for y := range a.height {
		for x := range a.width {
			m.Pix[y*m.Stride+x] = uint8(100 + (x/50+y/50)%2*60)
		}
	}
	dir := t.TempDir()
	file := savePicture(t, m, filepath.Join(dir, "county.jpg"))
	world := filepath.Join(dir, "county.jgw")
	require.NoError(t, os.WriteFile(world, []byte(a.world(t)), 0o644))

	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.press("More")
	b.press("Documents")
	b.press("Add a picture")
	b.upload("Choose a picture", file)
	b.sees("Kept with 2400 × 2400 of its 10000 × 10000 pixels")
	b.press("Leave")
	b.press("Add a picture")
	b.upload("Choose a picture", file, world)
	b.sees("Laid by county.jgw")
	b.press("Lay it under the plan")
	b.kept()
	b.under()
	var laid struct {
		Size    [2]float64
		Corners [][2]float64
	}
	require.NoError(t, json.Unmarshal([]byte(b.latest("condition")["picture"]), &laid))
	assert.LessOrEqual(t, max(laid.Size[0], laid.Size[1]), 2400.0)
	assert.Greater(t, max(laid.Size[0], laid.Size[1]), 2300.0)
	// The window is the lot with 60 m beside it: 0.0019° of longitude are 139 m there.
	assert.Less(t, math.Abs(laid.Corners[1][0]-laid.Corners[0][0]), 0.0035)
	assert.Greater(t, math.Abs(laid.Corners[1][0]-laid.Corners[0][0]), 0.0019)
	b.shot("phone-picture-county")
	assert.Empty(t, b.log, "exceptions")
}

// colours returns the colours of the picture that was kept last at places of it, in
// fractions from its upper left corner.
func (b *tab) colours(sha256 string, at [][2]float64) [][]float64 {
	b.t.Helper()
	places, err := json.Marshal(at)
	require.NoError(b.t, err)
	return eval[[][]float64](b, `new Promise((done) => { const r = indexedDB.open("asfound"); r.onsuccess = () => { const q = r.result.transaction("files").objectStore("files").get(`+quote(sha256)+`); q.onsuccess = async () => {
		const m = await createImageBitmap(q.result.blob); const c = new OffscreenCanvas(m.width, m.height); const g = c.getContext("2d"); g.drawImage(m, 0, 0);
		done(`+string(places)+`.map(([x, y]) => [...g.getImageData(Math.floor(x * m.width), Math.floor(y * m.height), 1, 1).data.slice(0, 3)])); r.result.close(); }; }; })`)
}

// TestGeoTIFFUnderThePlan lays GeoTIFFs that GDAL wrote, without a network: JPEG with
// overviews, deflate with 16 bits, LZW in strips. What is kept has the colours that were
// painted, and lies where the yard is; heights, a file that was cut short and a system that
// is not known are refused by name.
func TestGeoTIFFUnderThePlan(t *testing.T) {
	long.Only(t, "a minute in a browser")
	translate := long.Program(t, "gdal_translate")
	a := demoAir(t)
	a.width, a.height, a.metres = 3000, 2400, 0.02
	dir := t.TempDir()
	file := savePicture(t, a.paint(), filepath.Join(dir, "yard.png"))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "yard.pgw"), []byte(a.world(t)), 0o644))
	made := func(name string, args ...string) string {
		to := filepath.Join(dir, name)
		out, err := exec.Command(translate, append([]string{"-q", file, to}, args...)...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		return to
	}
	heights := made("heights.tif", "-ot", "Float32", "-b", "1", "-a_srs", "EPSG:32710")
	whole, err := os.ReadFile(made("whole.tif", "-co", "COMPRESS=DEFLATE", "-a_srs", "EPSG:32710"))
	require.NoError(t, err)
	cut := filepath.Join(dir, "cut.tif")
	require.NoError(t, os.WriteFile(cut, whole[:len(whole)/2], 0o644))

	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.whole()
	b.pictureKept()
	s.stop()
	add := func(file string) {
		b.t.Helper()
		b.visit(s.url + "/#/jobs")
		b.press("Invented lot 4")
		b.settled()
		b.press("More")
		b.press("Documents")
		b.press("Add a picture")
		b.upload("Choose a picture", file)
	}
	add(heights)
	b.sees("heights.tif holds heights or measurements, not a picture")
	add(made("albers.tif", "-a_srs", "+proj=aea +lat_1=-45 +lat_2=-52 +lon_0=-123 +ellps=GRS80"))
	b.sees("albers.tif says itself where it lies")
	b.sees("The file does not name it")
	b.fill("EPSG code", "EPSG:5070")
	b.press("Lay it under the plan")
	b.sees("EPSG:5070 is not known here")
	add(cut)
	b.press("Lay it under the plan")
	b.sees("cut.tif could not be read")

	for name, args := range map[string][]string{
		"overviews.tif": {"-of", "COG", "-co", "COMPRESS=JPEG", "-co", "QUALITY=90", "-a_srs", "EPSG:32710"},
		"deep.tif":      {"-ot", "UInt16", "-scale", "0", "255", "0", "65535", "-co", "COMPRESS=DEFLATE", "-co", "PREDICTOR=2", "-co", "TILED=YES", "-a_srs", "EPSG:32710"},
		"strips.tif":    {"-co", "COMPRESS=LZW", "-a_srs", "EPSG:32710"},
	} {
		add(made(name, args...))
		b.sees(name + " says itself where it lies")
		b.look("phone-picture-geotiff")
		b.press("Lay it under the plan")
		b.kept()
		b.under()
		row := b.latest("condition")
		assert.Equal(t, "picture "+name+" laid by WGS 84 / UTM zone 10S", row["note"])
		var laid struct {
			File string
			Size [2]float64
		}
		require.NoError(t, json.Unmarshal([]byte(row["picture"]), &laid))
		assert.Equal(t, [2]float64{2400, 1920}, laid.Size)
		var at [][2]float64
		for _, p := range [][2]float64{{10, 2}, {17, 6}, {5, -12}, a.places["F"], {20, -20}} {
			q := a.pixel(p)
			at = append(at, [2]float64{q[0] / float64(a.width), q[1] / float64(a.height)})
		}
		for i, want := range [][3]float64{{122, 82, 74}, {150, 148, 144}, {96, 136, 78}, {240, 236, 220}, {96, 136, 78}} {
			got := b.colours(laid.File, at)[i]
			for c := range 3 {
				assert.InDelta(t, want[c], got[c], 16, "%s: place %d", name, i)
			}
		}
		b.tapUnder(a, a.pixel(a.places["H2"]))
		b.sees("Hole H2")
	}
	b.shot("phone-picture-by-geotiff")
	assert.Empty(t, b.log, "exceptions")
}

// TestPlaceReadInAPicture reads a lid in a picture that was laid by landmarks: it becomes a
// baseline reading, weak, whose place is where it was painted; the landmarks are known no
// better for it; and after four places the picture gives no more.
func TestPlaceReadInAPicture(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	a := demoAir(t)
	file := savePicture(t, a.paint(), filepath.Join(t.TempDir(), "yard.jpg"))
	s := newSite(t)
	b := s.desk()
	b.press("Documents")
	b.press("Add a picture")
	b.upload("Choose a picture", file)
	for _, id := range []string{"A", "B", "F"} {
		b.tapIn(id, a, a.pixel(a.places[id]))
	}
	b.press("Lay it under the plan")
	b.kept()
	tap := func(at [2]float64) {
		b.t.Helper()
		b.wait(`document.querySelector(".trace-board[data-picture]")`)
		r := eval[[]float64](b, `(() => { const b = document.querySelector(".trace-board"); const r = b.getBoundingClientRect(); return [r.x, r.y, ...b.dataset.picture.split(" ").map(Number)]; })()`)
		b.do(chromedp.MouseClickXY(r[0]+r[2]+at[0]/float64(a.width)*r[4], r[1]+r[3]+at[1]/float64(a.height)*r[5]))
	}
	for i, name := range []string{"Lid", "Stake", "Oak", ""} {
		b.press("Documents")
		b.press("Read a place in it")
		b.sees("Tap the place")
		if name == "" {
			b.fill("What you see there", "C")
			tap(a.pixel(a.places["C"]))
		} else {
			b.fill("Name of the point", name)
			b.fill("What it is", "seen from above")
			at := a.places["H3"]
			tap(a.pixel([2]float64{at[0] + float64(i), at[1]}))
		}
		b.sees("along the line to")
		if i == 0 {
			b.look("desk-picture-read")
		}
		b.press("Log it")
		b.wait(`document.body.innerText.includes("read in the picture yard.jpg") && !document.querySelector(".picturelay")`)
		b.settled()
	}
	b.press("Documents")
	b.press("Read a place in it")
	b.sees("This picture has given 4 places")
	b.press("Leave")
	rows := b.logged("baseline")
	require.Len(t, rows, 4)
	lid := rows[0]
	assert.Equal(t, []string{"A", "F", "Lid"}, []string{lid["from"], lid["to"], lid["point"]})
	// The truth, by hand: the foot of H3 on the line from A to F, and how far it lies beside.
	f, h := a.places["F"], a.places["H3"]
	l := math.Hypot(f[0], f[1])
	for column, want := range map[string]float64{"value": (h[0]*f[0] + h[1]*f[1]) / l, "offset": (h[0]*f[1] - h[1]*f[0]) / l} {
		var got float64
		_, err := fmt.Sscanf(lid[column], "%f m", &got)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 0.4, column) // taps of the mouse are within a pixel of 13 cm
	}
	var sigma float64
	_, err := fmt.Sscanf(lid["sigma"], "%f m", &sigma)
	require.NoError(t, err)
	assert.Greater(t, sigma, 0.6)
	b.sent()
	assert.NotContains(t, b.text(), "refused")
	assert.Empty(t, b.log, "exceptions")
}

// packed is the picture that testdata/yard.pmtiles was made of.
func packed(t *testing.T) *air {
	a := demoAir(t)
	a.width, a.height, a.metres = 500, 400, 0.12
	return a
}

// TestTilesUnderThePlan lays a pack of map tiles without a network: testdata/yard.pmtiles,
// which other programs made of the invented yard. What is kept has the colours that were
// painted; MBTiles are refused by name, with what to do.
func TestTilesUnderThePlan(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	a := packed(t)
	dir := t.TempDir()
	file := savePicture(t, a.paint(), filepath.Join(dir, "yard.png"))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "yard.pgw"), []byte(a.world(t)), 0o644))
	database := filepath.Join(dir, "yard.mbtiles")
	// The pack: gdal_translate as here, and gdaladdo -r average yard.mbtiles 2 4; then pmtiles
	// convert yard.mbtiles yard.pmtiles of github.com/protomaps/go-pmtiles v1.31.2.
	out, err := exec.Command(long.Program(t, "gdal_translate"), "-q", "-of", "MBTILES", "-co", "TILE_FORMAT=JPEG", "-co", "QUALITY=85", "-a_srs", "EPSG:32710", file, database).CombinedOutput()
	require.NoError(t, err, "%s", out)

	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.whole()
	b.pictureKept()
	s.stop()
	b.press("More")
	b.press("Documents")
	b.press("Add a picture")
	b.upload("Choose a picture", database)
	b.sees("yard.mbtiles is a database, such as MBTiles, which is not read here")
	b.upload("Choose a picture", "testdata/yard.pmtiles")
	b.sees("yard.pmtiles says itself where it lies")
	b.press("Lay it under the plan")
	b.kept()
	b.under()
	row := b.latest("condition")
	assert.Equal(t, "picture yard.pmtiles laid by WGS 84 / Pseudo-Mercator", row["note"])
	var laid struct {
		File    string
		Size    [2]float64
		Corners [][2]float64
	}
	require.NoError(t, json.Unmarshal([]byte(row["picture"]), &laid))
	// Where the kept picture shows a place, by its corners; within a pixel of 0.2 m.
	var at [][2]float64
	places := [][2]float64{{10, 2}, {17, 6}, {5, -12}, {20, -20}, {3, 7}}
	for _, p := range geographic(t, a, places...) {
		w, e, n, s := laid.Corners[0][0], laid.Corners[2][0], laid.Corners[0][1], laid.Corners[2][1]
		at = append(at, [2]float64{(p[0] - w) / (e - w), (n - p[1]) / (n - s)})
	}
	for i, want := range [][3]float64{{122, 82, 74}, {150, 148, 144}, {96, 136, 78}, {96, 136, 78}, {122, 82, 74}} {
		got := b.colours(laid.File, at)[i]
		for c := range 3 {
			assert.InDelta(t, want[c], got[c], 20, "place %v", places[i])
		}
	}
	b.shot("phone-picture-by-tiles")
	assert.Empty(t, b.log, "exceptions")
}

// TestPictureInSpanish goes through the screens of pictures in Spanish, without a network.
func TestPictureInSpanish(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	a := demoAir(t)
	file := savePicture(t, a.paint(), filepath.Join(t.TempDir(), "yard.jpg"))
	const folder = "../../testdata/sites/demo"
	s := newSite(t)
	b := spoken{open(t, size{360, 740, true}), tables(t), append(written(t, folder), "picture-yard", "yard.jpg")}
	b.visit(s.url + "/")
	b.press("Español")
	b.upload("Un zip o los archivos", demoFiles(t, folder)...)
	b.settled()
	b.whole()
	b.pictureKept()
	s.stop()
	b.press("Más")
	b.press("Papeles")
	b.press("Agregar imagen")
	b.heard("phone-picture-choose")
	b.upload("Elegir imagen", file)
	for _, id := range []string{"A", "B", "F"} {
		b.tapIn(id, a, a.pixel(a.places[id]))
	}
	b.heard("phone-picture-laid")
	b.press("Poner bajo el plano")
	b.under()
	b.settled()
	b.heard("phone-picture-plan")
	b.press("Más")
	b.sees("imagen yard.jpg puesta sobre A, B, F")
	b.press("Papeles")
	b.heard("phone-picture-list")
	b.press("Leer un lugar")
	b.heard("phone-picture-read")
	assert.Contains(t, b.rows(), "picture yard.jpg laid on A, B, F", "a code, not Spanish")
	assert.Empty(t, b.log, "exceptions")
}
