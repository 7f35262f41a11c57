//go:build ignore

// Command invent draws an invented permit sheet and photographs it at an angle:
// permit.jpg, permit.pdf, and in permit.json what is true of both. The camera is
// a pinhole whose rays are intersected with the sheet one by one, so that nothing
// here depends on the arithmetic that squares the photo up again. It needs
// rsvg-convert.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

type xy [2]float64

func (a xy) to(b xy) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// The sheet is Letter, lying, at 1 in = 20 ft: 220 by 170 ft. Places are feet
// from its lower left corner.
const (
	width, height = 220.0, 170.0
	feetPerInch   = 20.0
	svgPerFoot    = 5.0
)

type part struct {
	ID      string            `json:"id"`
	Kind    string            `json:"kind"`
	At      []xy              `json:"at"`   // feet of the sheet
	Seen    []xy              `json:"seen"` // pixels of the photo
	Written map[string]string `json:"written,omitempty"`
	Ties    []tie             `json:"ties,omitempty"`
}

type tie struct {
	At       string `json:"at"`
	From     string `json:"from"`
	Distance string `json:"distance"`
}

func feetAndInches(ft float64) string {
	inches := int(math.Round(ft * 12))
	return fmt.Sprintf(`%d'%d"`, inches/12, inches%12)
}

func parts() []part {
	a, b := xy{70, 118}, xy{112, 118}
	house := []xy{a, b, {112, 146}, {70, 146}}
	tank, box := xy{91, 106}, xy{64, 92}
	ps := []part{
		{ID: "house", Kind: "building", At: house},
		{ID: "A", Kind: "landmark", At: []xy{a}},
		{ID: "B", Kind: "landmark", At: []xy{b}},
		{ID: "tank", Kind: "tank", At: []xy{tank}},
		{ID: "box", Kind: "box", At: []xy{box}},
	}
	tied := func(p *part, spot string, at xy) {
		for _, l := range ps[1:3] {
			p.Ties = append(p.Ties, tie{spot, l.ID, feetAndInches(at.to(l.At[0]))})
		}
	}
	tied(&ps[3], "center", tank)
	tied(&ps[4], "center", box)
	for i := range 6 {
		y := 84 - 10*float64(i)
		l := part{ID: fmt.Sprintf("L%d", i+1), Kind: "lateral", At: []xy{{70, y}, {135, y}}, Written: map[string]string{"length": `65'`}}
		tied(&l, "end", l.At[1])
		ps = append(ps, l)
	}
	return ps
}

func svg(ps []part) string {
	var b strings.Builder
	w, h := width*svgPerFoot, height*svgPerFoot
	at := func(p xy) (x, y float64) { return p[0] * svgPerFoot, h - p[1]*svgPerFoot }
	text := func(p xy, size int, s string) {
		x, y := at(p)
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" font-size="%d">%s</text>`, x, y, size, strings.NewReplacer("<", "&lt;", `"`, "&quot;").Replace(s))
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gin" height="%gin" viewBox="0 0 %g %g" font-family="sans-serif" fill="none" stroke="#26303c" stroke-width="2.5">`, width/feetPerInch, height/feetPerInch, w, h)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="#fdfcf6" stroke="none"/><rect x="25" y="25" width="%g" height="%g"/>`, w, h, w-50, h-50)
	for _, p := range ps {
		var pts []string
		for _, v := range p.At {
			x, y := at(v)
			pts = append(pts, fmt.Sprintf("%.1f,%.1f", x, y))
		}
		x, y := at(p.At[0])
		switch p.Kind {
		case "building":
			fmt.Fprintf(&b, `<polygon points="%s" stroke-width="4"/>`, strings.Join(pts, " "))
		case "tank":
			fmt.Fprintf(&b, `<rect x="%.1f" y="%.1f" width="40" height="22"/>`, x-20, y-11)
		case "box":
			fmt.Fprintf(&b, `<rect x="%.1f" y="%.1f" width="12" height="12"/>`, x-6, y-6)
		case "lateral":
			fmt.Fprintf(&b, `<polyline points="%s"/>`, strings.Join(pts, " "))
		}
	}
	b.WriteString(`<g fill="#26303c" stroke="none">`)
	text(xy{78, 131}, 22, "DWELLING  42' x 28'")
	text(xy{66, 120}, 18, "A")
	text(xy{113.5, 115}, 18, "B")
	text(xy{97, 105}, 14, "tank")
	text(xy{53, 94}, 14, "D-box")
	for _, p := range ps {
		if p.Kind == "lateral" {
			text(xy{p.At[0][0] + 4, p.At[0][1] + 1}, 13, p.ID+"  "+p.Written["length"])
		}
		if len(p.Ties) == 2 {
			v := p.At[len(p.At)-1]
			text(xy{v[0] + 3, v[1] - 3.5}, 12, fmt.Sprintf("A %s  B %s", p.Ties[0].Distance, p.Ties[1].Distance))
		}
	}
	text(xy{150, 14}, 16, "INVENTED-0911   1 in = 20 ft")
	text(xy{196.2, 152}, 20, "N")
	b.WriteString("</g>")
	nx, ny := at(xy{197, 130})
	fmt.Fprintf(&b, `<path d="M%.1f %.1fv-90m-9 18l9 -18l9 18"/></svg>`, nx, ny)
	return b.String()
}

// camera looks at the sheet's middle from above and aside. Lengths are in feet
// of the sheet; only their ratios matter.
type camera struct {
	eye           [3]float64
	right, up, in [3]float64
	focal         float64 // pixels
	w, h          int
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func unit(a [3]float64) [3]float64 {
	l := math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2])
	return [3]float64{a[0] / l, a[1] / l, a[2] / l}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func look(eye, at [3]float64, roll float64) camera {
	in := unit([3]float64{at[0] - eye[0], at[1] - eye[1], at[2] - eye[2]})
	right := unit(cross(in, [3]float64{math.Sin(roll), math.Cos(roll), 0}))
	return camera{eye, right, cross(right, in), in, 1500, 1600, 1200}
}

// sees returns the pixel of a place of the sheet.
func (c camera) sees(p xy) xy {
	d := [3]float64{p[0] - c.eye[0], p[1] - c.eye[1], -c.eye[2]}
	z := dot(d, c.in)
	return xy{float64(c.w)/2 + c.focal*dot(d, c.right)/z, float64(c.h)/2 - c.focal*dot(d, c.up)/z}
}

// meets returns the place of the sheet's plane that a pixel shows.
func (c camera) meets(px xy) xy {
	u, v := (px[0]-float64(c.w)/2)/c.focal, (float64(c.h)/2-px[1])/c.focal
	var ray [3]float64
	for i := range ray {
		ray[i] = c.in[i] + u*c.right[i] + v*c.up[i]
	}
	k := -c.eye[2] / ray[2]
	return xy{c.eye[0] + k*ray[0], c.eye[1] + k*ray[1]}
}

func (c camera) photograph(sheet image.Image) image.Image {
	rng := rand.New(rand.NewPCG(9, 11))
	out := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	b := sheet.Bounds()
	per := float64(b.Dx()) / width
	for y := range c.h {
		for x := range c.w {
			var sum [3]float64
			for k := range 9 { // nine rays to a pixel
				p := c.meets(xy{float64(x) + (float64(k%3)+.5)/3, float64(y) + (float64(k/3)+.5)/3})
				col := [3]float64{92, 70, 52} // the table
				if p[0] > 0 && p[0] < width && p[1] > 0 && p[1] < height {
					r, g, bl, _ := sheet.At(int(p[0]*per), int((height-p[1])*per)).RGBA()
					col = [3]float64{float64(r >> 8), float64(g >> 8), float64(bl >> 8)}
				}
				light := 0.95 - 0.25*p[0]/width - 0.1*p[1]/height // a lamp at the lower left
				for i := range sum {
					sum[i] += col[i] * light / 9
				}
			}
			n := 4 * rng.NormFloat64()
			v := func(i int) uint8 { return uint8(min(max(sum[i]+n, 0), 255)) }
			out.SetRGBA(x, y, color.RGBA{v(0), v(1), v(2), 255})
		}
	}
	return out
}

func run(folder string) error {
	ps := parts()
	drawn := svg(ps)
	raster := func(args ...string) ([]byte, error) {
		c := exec.Command("rsvg-convert", args...)
		c.Stdin = strings.NewReader(drawn)
		return c.Output()
	}
	pic, err := raster("--dpi-x=200", "--dpi-y=200", "--format=png")
	if err != nil {
		return err
	}
	sheet, err := png.Decode(bytes.NewReader(pic))
	if err != nil {
		return err
	}
	c := look([3]float64{150, -95, 235}, [3]float64{108, 82, 0}, 0.09)
	for i := range ps {
		for _, v := range ps[i].At {
			ps[i].Seen = append(ps[i].Seen, c.sees(v))
		}
	}
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, c.photograph(sheet), &jpeg.Options{Quality: 72}); err != nil {
		return err
	}
	pdf, err := raster("--format=pdf")
	if err != nil {
		return err
	}
	truth, err := json.MarshalIndent(map[string]any{
		"sheet": xy{width, height}, "photo": [2]int{c.w, c.h}, "north": []xy{{197, 130}, {197, 148}},
		"corners": []xy{c.sees(xy{0, height}), c.sees(xy{width, height}), c.sees(xy{width, 0}), c.sees(xy{0, 0})},
		"parts":   ps,
	}, "", " ")
	if err != nil {
		return err
	}
	for name, data := range map[string][]byte{"permit.jpg": photo.Bytes(), "permit.pdf": pdf, "permit.json": append(truth, '\n')} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: go run testdata/scans/invent.go testdata/scans")
		os.Exit(2)
	}
	if err := run(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
