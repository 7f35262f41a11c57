package plot

import (
	"bytes"
	"encoding/xml"
	"flag"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/testdata/long"
)

var write = flag.Bool("write", false, "rewrite the golden maps: look at them before you commit them")

// sites are the invented sites that maps are drawn of.
var sites = []struct {
	name string
	invention
	plan bool
	opt  MapOptions
}{
	{"feet", invention{unit: geo.Foot, laterals: 4, holes: 5, around: true}, true, MapOptions{}},
	{"metre", invention{unit: geo.Metre, geodetic: true, laterals: 3, holes: 4, around: true}, true, MapOptions{}},
	{"crowded", invention{unit: geo.Foot, geodetic: true, laterals: 12, holes: 40, around: true}, true, MapOptions{}},
	{"no-reading", invention{unit: geo.Foot, laterals: 3, around: true, sigma: 3}, true, MapOptions{}},
	{"huge", invention{unit: geo.Metre, laterals: 6, holes: 3, around: true, long: 300, spacing: 25}, true, MapOptions{}},
	{"two-parts", invention{unit: geo.Foot, laterals: 1, two: true}, false, MapOptions{}},
	{"empty", invention{unit: geo.Foot}, false, MapOptions{}},
	{"turned", invention{unit: geo.Metre, geodetic: true, laterals: 5, holes: 2, around: true}, true, MapOptions{Turn: geo.Degrees(30)}},
	{"tabloid", invention{unit: geo.Foot, laterals: 9, long: 9, holes: 2, spacing: 7}, true, MapOptions{Size: chart.Tabloid}},
}

func draw(t *testing.T, l *locate.Location, p *probe.Plan, opt MapOptions) *chart.Document {
	t.Helper()
	opt.Date = date
	doc, err := Map(l, p, opt)
	require.NoError(t, err)
	return doc
}

func svgOf(t *testing.T, p *chart.Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.WriteSVG(&b))
	return b.String()
}

func pdfOf(t *testing.T, d *chart.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, d.WritePDF(&b))
	return b.Bytes()
}

// words returns the text of an SVG, a line each.
func words(t *testing.T, svg string) (lines []string) {
	t.Helper()
	for _, m := range regexp.MustCompile(`<text [^>]*>([^<]*)</text>`).FindAllStringSubmatch(svg, -1) {
		var s string
		require.NoError(t, xml.Unmarshal([]byte("<s>"+m[1]+"</s>"), &s))
		lines = append(lines, s)
	}
	return lines
}

// TestGolden holds two maps that a person has looked at to the last micrometre,
// and all sites to making the same bytes twice.
func TestGolden(t *testing.T) {
	for _, s := range sites {
		t.Run(s.name, func(t *testing.T) {
			l := invent(s.invention)
			var plan *probe.Plan
			if s.plan {
				plan = inventPlan(l)
			}
			doc := draw(t, l, plan, s.opt)
			got := svgOf(t, doc.Pages[0])
			assert.Equal(t, pdfOf(t, doc), pdfOf(t, draw(t, l, plan, s.opt)), "the same input makes the same bytes")
			if s.name != "two-parts" && s.name != "metre" {
				return
			}
			golden := filepath.Join("testdata", s.name+".svg")
			if *write {
				require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), got)
		})
	}
}

// A lateral of 100 ft is 5 in of paper at 1:240, its trench of 3 ft 0.15 in:
// by definition of the scale and the inch.
func TestLengthsOnPaper(t *testing.T) {
	l := &locate.Location{Job: invent(invention{unit: geo.Foot}).Job}
	from, to := geo.Vec{X: 3, Y: 4}, geo.Vec{X: 3 + 100*0.3048, Y: 4}
	l.Outlines = []locate.Outline{{Part: "L1", Kind: asbuilt.Lateral, State: locate.Seen, Now: lineOf(from, to), Old: lineOf(from, to)}}
	l.Corridors = []locate.Corridor{{Part: "L1", Kind: asbuilt.Lateral, Line: []geo.Vec{from, to}, Half: []float64{1, 1}, Width: 3 * 0.3048}}
	svg := svgOf(t, draw(t, l, nil, MapOptions{}).Pages[0])
	require.Contains(t, words(t, svg), "1 in = 20 ft (1:240), printed at 100 %")

	layer := regexp.MustCompile(`(?s)<g class="trenches">(.*?)</g>`).FindStringSubmatch(svg)
	require.NotNil(t, layer)
	paths := regexp.MustCompile(`<path d="([^"]*)"`).FindAllStringSubmatch(layer[1], -1)
	require.Len(t, paths, 2)
	strip, center := places(t, paths[0][1]), places(t, paths[1][1])
	require.Len(t, center, 2)
	assert.InDelta(t, 127, center[0].Dist(center[1]), 0.002)
	require.Len(t, strip, 4)
	assert.InDelta(t, 127, strip[0].Dist(strip[1]), 0.002)
	assert.InDelta(t, 3.81, strip[1].Dist(strip[2]), 0.002)

	bar := regexp.MustCompile(`(?s)<g class="scale-bar">(.*?)</g>`).FindStringSubmatch(svg)
	require.NotNil(t, bar)
	var lo, hi = math.Inf(1), math.Inf(-1)
	for _, m := range regexp.MustCompile(`<path d="([^"]*Z)"`).FindAllStringSubmatch(bar[1], -1) {
		for _, v := range places(t, m[1]) {
			lo, hi = min(lo, v.X), max(hi, v.X)
		}
	}
	assert.InDelta(t, 25.4, hi-lo, 0.002, "20 ft")
	assert.Contains(t, words(t, svg), "20 feet")
}

// places reads the vertices of a path of straight lines.
func places(t *testing.T, d string) (vs []chart.Point) {
	t.Helper()
	for _, s := range regexp.MustCompile(`[-\d.]+ [-\d.]+`).FindAllString(d, -1) {
		x, y, _ := strings.Cut(s, " ")
		fx, err := strconv.ParseFloat(x, 64)
		require.NoError(t, err)
		fy, err := strconv.ParseFloat(y, 64)
		require.NoError(t, err)
		vs = append(vs, chart.Point{X: fx, Y: fy})
	}
	return vs
}

// Every map says what it is not, and what to do before a hole is dug.
func TestCautions(t *testing.T) {
	for _, s := range sites {
		doc := draw(t, invent(s.invention), nil, s.opt)
		all := strings.Join(words(t, svgOf(t, doc.Pages[0])), " ")
		for _, want := range []string{"Estimated positions", "not a survey", "not for boundary or setback determination", "call 811", "Never enter a tank",
			"Local code and licensed practice decide", "printed at 100 %", "INV-0007", "4 May 2026", "Quillback Lane, lot 7"} {
			assert.Contains(t, all, want, s.name)
		}
		assert.NotContains(t, all, "decide.…", "nothing is cut off")
		north := strings.Contains(all, "NOT NORTH")
		assert.Equal(t, !s.geodetic, north, "%s: a sheet without north says so", s.name)
		if s.unit == geo.Metre {
			assert.NotRegexp(t, `\d+'`, all, "%s: metres only", s.name)
			assert.Contains(t, all, "metres")
		} else {
			assert.Contains(t, all, "feet")
		}
	}
}

// The legend lists what is on the map, and nothing else.
func TestLegend(t *testing.T) {
	for _, tt := range []struct {
		name      string
		in        invention
		has, hasn []string
	}{
		{"all", sites[0].invention, []string{"well", "driveway", "tank", "box", "gas, oil, hatched: within 2' 0\"", "electric, hatched: within 2' 0\"", "no digging, hatched: within 2' 0\"", "boundary as sketched, not surveyed", "empty hole, and how deep it went", "R: recorded only, by the old sketch"}, []string{"communication"}},
		{"two parts", invention{unit: geo.Foot, laterals: 1, two: true}, []string{"box", "lateral, its trench to scale"}, []string{"tank", "well", "building", "landmark: measure from here", "header", "R: recorded only, by the old sketch"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			svg := svgOf(t, draw(t, invent(tt.in), nil, MapOptions{}).Pages[0])
			got := words(t, svg[strings.Index(svg, `class="legend"`):])
			assert.Subset(t, got, tt.has)
			for _, no := range tt.hasn {
				assert.NotContains(t, got, no)
			}
		})
	}
}

// The next hole is shown with its tapes, unless the fit is doubtful.
func TestNextHole(t *testing.T) {
	l := invent(invention{unit: geo.Foot, laterals: 4, holes: 3})
	got := words(t, svgOf(t, draw(t, l, inventPlan(l), MapOptions{}).Pages[0]))
	// Distances of (20.2, −11.8) m from (0, 0) and (14, 0): 23.394 m and
	// 13.334 m, 76.75 ft and 43.75 ft.
	assert.Subset(t, got, []string{"NEXT HOLE", `76' 9"`, `43' 9"`, `stop at 35"`, `met L1 30"`, `empty 32"`})
	doubt := finding.NotConverged.New(finding.Word("status", "two solutions"))
	l.Fit.Doubtful = &doubt
	got = words(t, svgOf(t, draw(t, l, inventPlan(l), MapOptions{}).Pages[0]))
	assert.NotContains(t, got, "NEXT HOLE")
	assert.Contains(t, got, "DO NOT DIG BY THIS MAP AS IT STANDS: the adjustment did not settle (two solutions): look first at what was logged last")
}

// Where labels crowd, what they would have said stands in lists behind the map.
func TestCrowded(t *testing.T) {
	l := invent(sites[2].invention)
	doc := draw(t, l, nil, MapOptions{})
	require.Greater(t, len(doc.Pages), 1)
	front := words(t, svgOf(t, doc.Pages[0]))
	var lists []string
	for _, p := range doc.Pages[1:] {
		lists = append(lists, words(t, svgOf(t, p))...)
	}
	missing := 0
	for _, h := range l.Holes {
		assert.Contains(t, lists, h.Name)
		if !strings.Contains(" "+strings.Join(front, " ")+" ", " "+h.Name+" ") {
			missing++
		}
	}
	assert.LessOrEqual(t, missing, 2, "of 40 holes on the map")
	for i := range 12 {
		assert.Contains(t, lists, "L"+strconv.Itoa(i+1))
	}
}

// The outside reader of the PDF is poppler's pdftotext.
func TestPDFText(t *testing.T) {
	tool := long.Program(t, "pdftotext")
	c := exec.Command(tool, "-layout", "-", "-")
	l := invent(sites[0].invention)
	c.Stdin = bytes.NewReader(pdfOf(t, draw(t, l, inventPlan(l), MapOptions{})))
	out, err := c.Output()
	require.NoError(t, err)
	assert.Contains(t, string(out), "Quillback Lane, lot 7")
	assert.Contains(t, string(out), "NEXT HOLE")
}

// No location makes a map that cannot be written.
func TestHostileLocation(t *testing.T) {
	_, err := Map(nil, nil, MapOptions{})
	assert.Error(t, err)
	_, err = Map(&locate.Location{}, nil, MapOptions{})
	assert.Error(t, err)
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e30, -1e7} {
		l := invent(sites[0].invention)
		for i := range l.Outlines {
			o := &l.Outlines[i]
			switch i % 4 {
			case 0:
				o.Now = nil
			case 1:
				o.Now = []geo.Outline{{Closed: true}, {Vertices: []geo.Vec{{X: x}}}}
			case 2:
				o.Now[0].Vertices[0].X = x
				o.Clearance = x
			}
		}
		for i := range l.Spots {
			l.Spots[i].FromLandmarks.SemiMajor = x
		}
		l.Corridors[0].Half[0], l.Corridors[1].Line[1].Y = x, x
		l.Corridors[2].Half = nil
		l.Holes[0].At.X, l.Holes[1].Radius = x, x
		p := inventPlan(l)
		p.Holes[0].Ties[0].Distance, p.Holes[0].Depth.Mean = x, x
		p.Holes[0].Ties[1].From = "nowhere"
		l.Fit = nil
		doc, err := Map(l, p, MapOptions{Unit: "px"})
		require.NoError(t, err)
		assert.NotContains(t, svgOf(t, doc.Pages[0]), "NaN")
		pdfOf(t, doc)
	}
}
