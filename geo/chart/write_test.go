package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/testdata/long"
)

// sample is a page with one of everything.
func sample(words string) *Page {
	p := NewPage(Letter, words)
	f := Frame{Window: Rect{15, 20, 120, 100}, Scale: 240}
	Grid(p, f, Coordinates{Unit: geo.Foot, East: "E", North: "N"})
	p.Group("map", &f.Window, func() {
		f.Ellipse(p, Style{Stroke: Black, Fill: RGB(0x00662b).Fade(0.3)}, geo.Vec{}, geo.Ellipse{SemiMajor: 5, SemiMinor: 2, Bearing: geo.Degrees(30)})
		p.Polygon(Style{Fill: Grey, Stroke: Black, Dash: []float64{2, 1}}, []Point{{X: 20, Y: 30}, {X: 60, Y: 30}, {X: 60, Y: 60}}, []Point{{X: 45, Y: 35}, {X: 50, Y: 35}, {X: 50, Y: 40}})
	})
	Arrow(p, Point{X: 30, Y: 150}, 16, geo.Degrees(20))
	UpMark(p, Point{X: 60, Y: 150}, 16, geo.Angle{}, "up of sheet", "NOT NORTH")
	ScaleBar(p, Point{X: 90, Y: 150}, 240, geo.Foot, "feet", 60)
	p.Text(Text{Size: 12, Halo: true, Turn: geo.Degrees(30)}, Point{X: 60, Y: 170}, words)
	(&Table{Size: 8, Columns: []Column{{Head: "Hole", Width: 20}, {Head: words, Width: 60}}, Rows: [][]string{{"H1", words}}}).Draw(p, Point{X: 20, Y: 200}, 60)
	return p
}

func pdfOf(t require.TestingT, d *Document) []byte {
	var b bytes.Buffer
	require.NoError(t, d.WritePDF(&b))
	return b.Bytes()
}

func TestSameBytes(t *testing.T) {
	d := &Document{Title: "Lot 7", Date: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC), Pages: []*Page{sample("swing ties"), sample("second")}}
	first := pdfOf(t, d)
	assert.Equal(t, first, pdfOf(t, d))
	d.Date = d.Date.AddDate(0, 0, 1)
	assert.NotEqual(t, first, pdfOf(t, d), "the date is in the file")
	assert.Contains(t, string(first), "D:20260504")
	assert.Less(t, len(first), len(regular.ttf)/2, "the fonts are cut down to what is used")
	var a, b bytes.Buffer
	require.NoError(t, sample("x").WriteSVG(&a))
	require.NoError(t, sample("x").WriteSVG(&b))
	assert.Equal(t, a.String(), b.String())
}

// The outside readers of the PDF are the tools of poppler.
func TestPDFReads(t *testing.T) {
	run := func(tool string, args ...string) string {
		c := exec.Command(long.Program(t, tool), args...)
		a4 := NewPage(A4.Landscape(), "second")
		a4.Text(Text{Size: 9}, Point{X: 50, Y: 50}, "on its side")
		c.Stdin = bytes.NewReader(pdfOf(t, &Document{Title: "Lot 7 ± é", Pages: []*Page{sample("43' 6\" ± Ж"), a4}}))
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
		return string(out)
	}
	words := run("pdftotext", "-layout", "-", "-")
	assert.Contains(t, words, "43' 6\" ± Ж")
	assert.Contains(t, words, "on its side")
	info := run("pdfinfo", "-l", "2", "-")
	assert.Contains(t, info, "Lot 7 ± é")
	assert.Contains(t, info, "612 x 792 pts", "Letter is 8.5 by 11 in")
	assert.Contains(t, info, "841.89 x 595.28 pts", "A4 is 210 by 297 mm")
	fonts := run("pdffonts", "-")
	for _, line := range strings.Split(strings.TrimSpace(fonts), "\n")[2:] {
		assert.Regexp(t, `yes (yes|no) +yes`, line, "embedded, with a map to Unicode")
	}
}

func TestHostileWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sample(rapid.String().Draw(t, "words"))
		var b bytes.Buffer
		require.NoError(t, p.WriteSVG(&b))
		d := xml.NewDecoder(&b)
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if !assert.NoError(t, err) {
				break
			}
		}
	})
	for _, s := range []string{"\x00\xff", "漢 🚜 \u202e abc", strings.Repeat("long", 500), "<&>\"'"} {
		pdfOf(t, &Document{Title: s, Pages: []*Page{sample(s)}})
	}
	pdfOf(t, &Document{})
}

// A place that is not finite must not corrupt the file.
func TestHostileNumbers(t *testing.T) {
	p := NewPage(A4, "")
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e300, -1e18} {
		bad, off := geo.Vec{X: x, Y: 1}, Point{X: x, Y: 1}
		f := Frame{Window: Rect{10, 10, 50, 50}, Center: bad, Scale: FitScale(x, x, Rect{W: 50, H: 50}, geo.Foot), Turn: geo.Degrees(x)}
		p.Line(Style{Stroke: Black}, off, Point{})
		p.Circle(Style{Stroke: Black}, off, 1)
		p.Circle(Style{Stroke: Black}, Point{}, x)
		p.Text(Text{Size: 8}, off, "x")
		f.Ellipse(p, Style{Stroke: Black}, bad, geo.Ellipse{SemiMajor: x, SemiMinor: x})
		Grid(p, f, Coordinates{Unit: geo.Foot, East: "E", North: "N"})
		p.Lines(Style{Stroke: Black}, f.Line([]geo.Vec{bad, {}, {X: 1}})...)
		f.Ring([]geo.Vec{bad, {}, {X: 1}, {X: 1, Y: 1}})
		Hatch(1, geo.Angle{}, []Point{off, {}, {X: 1}})
		(&Labels{Frame: f.Window}).Place(p, Label{Text: Text{Size: 6}, Lines: []string{"x"}, At: off})
	}
	var b bytes.Buffer
	require.NoError(t, p.WriteSVG(&b))
	assert.NotContains(t, b.String(), "NaN")
	assert.NotContains(t, b.String(), "Inf")
	pdfOf(t, &Document{Pages: []*Page{p}})
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriterErrors(t *testing.T) {
	assert.ErrorContains(t, sample("x").WriteSVG(full{}), "disk full")
	assert.ErrorContains(t, (&Document{Pages: []*Page{sample("x")}}).WritePDF(full{}), "disk full")
}

// Text keeps its colour after a clipped group: poppler paints the page, and
// what was written in black is black.
func TestColourAfterAClip(t *testing.T) {
	tool := long.Program(t, "pdftoppm")
	white := Style{Fill: RGB(0xffffff)}
	p := NewPage(Letter, "")
	p.Rect(white, Rect{10, 10, 190, 10})
	clip := Rect{10, 30, 190, 10}
	p.Group("map", &clip, func() { p.Rect(Style{Fill: Black}, Rect{10, 30, 1, 1}) })
	p.Text(Text{Size: 60, Strong: true}, Point{X: 20, Y: 100}, "MMMM")
	c := exec.Command(tool, "-r", "20", "-gray", "-")
	c.Stdin = bytes.NewReader(pdfOf(t, &Document{Pages: []*Page{p}}))
	grey, err := c.Output() // P5, then a byte a pixel
	require.NoError(t, err)
	dark := 0
	for _, v := range grey[len(grey)/4:] {
		if v < 60 {
			dark++
		}
	}
	assert.Greater(t, dark, 100)
}
