package chart

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteSVG writes the page as SVG 1.1 in its true size. Text is text, in the
// Go font where there is one, else in the reader's own, fitted to the width
// that it was measured with. The error is the writer's.
func (p *Page) WriteSVG(w io.Writer) error {
	s := &svg{}
	s.printf(`<svg xmlns="http://www.w3.org/2000/svg" role="img" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="Go, 'Lucida Grande', Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans Condensed', sans-serif" style="font-kerning:none">`+"\n",
		num(p.Size.W), num(p.Size.H), num(p.Size.W), num(p.Size.H))
	s.printf("<title>%s</title>\n", escape(p.Title))
	s.printf(`<rect width="%s" height="%s" fill="#ffffff"/>`+"\n", num(p.Size.W), num(p.Size.H))
	for _, i := range p.items {
		i.draw(s)
	}
	s.printf("</svg>\n")
	_, err := io.WriteString(w, s.b.String())
	return err
}

type svg struct {
	b     strings.Builder
	clips int
}

func (s *svg) printf(format string, args ...any) { fmt.Fprintf(&s.b, format, args...) }

// num writes millimetres to the micrometre, which no printer reaches.
func num(x float64) string {
	x = math.Round(x*1000) / 1000
	if x == 0 {
		x = 0 // no −0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // strings.Builder returns no error
	return b.String()
}

func hex(c Color) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// paint returns the attributes of a style.
func paint(st Style) string {
	var b strings.Builder
	if st.Fill.A == 0 {
		b.WriteString(` fill="none"`)
	} else {
		fmt.Fprintf(&b, ` fill="%s"`, hex(st.Fill))
		if st.Fill.A < 255 {
			fmt.Fprintf(&b, ` fill-opacity="%s"`, num(float64(st.Fill.A)/255))
		}
	}
	if st.Stroke.A == 0 {
		return b.String()
	}
	fmt.Fprintf(&b, ` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, hex(st.Stroke), num(width(st)))
	if st.Stroke.A < 255 {
		fmt.Fprintf(&b, ` stroke-opacity="%s"`, num(float64(st.Stroke.A)/255))
	}
	if len(st.Dash) > 0 {
		d := make([]string, len(st.Dash))
		for i, x := range st.Dash {
			d[i] = num(x)
		}
		fmt.Fprintf(&b, ` stroke-dasharray="%s"`, strings.Join(d, " "))
	} else {
		b.WriteString(` stroke-linecap="round"`)
	}
	return b.String()
}

func width(st Style) float64 {
	if st.Width > 0 {
		return st.Width
	}
	return 0.25
}

func (s *svg) path(p path) {
	s.b.WriteString(`<path d="`)
	for _, l := range p.lines {
		for i, v := range l {
			s.printf("%s%s %s", map[bool]string{true: "M", false: "L"}[i == 0], num(v.X), num(v.Y))
		}
		if p.closed {
			s.b.WriteString("Z")
		}
	}
	rule := ""
	if len(p.lines) > 1 && p.style.Fill.A > 0 {
		rule = ` fill-rule="evenodd"`
	}
	s.printf(`"%s%s/>`+"\n", paint(p.style), rule)
}

func (s *svg) ellipse(e ellipse) {
	if e.rx == e.ry {
		s.printf(`<circle cx="%s" cy="%s" r="%s"%s/>`+"\n", num(e.at.X), num(e.at.Y), num(e.rx), paint(e.style))
		return
	}
	s.printf(`<ellipse cx="%s" cy="%s" rx="%s" ry="%s" transform="rotate(%s %s %s)"%s/>`+"\n",
		num(e.at.X), num(e.at.Y), num(e.rx), num(e.ry), num(e.turn), num(e.at.X), num(e.at.Y), paint(e.style))
}

func (s *svg) text(t text) {
	size := t.Size * mmPerPoint
	at := t.at // where the reader fits no text, one set to the right still ends where it should
	switch t.Align {
	case Middle:
		at = at.Add(Point{X: t.w / 2}.Rotate(t.Turn))
	case Right:
		at = at.Add(Point{X: t.w}.Rotate(t.Turn))
	}
	s.printf(`<text x="%s" y="%s" font-size="%s" textLength="%s" lengthAdjust="spacingAndGlyphs" fill="%s"%s`,
		num(at.X), num(at.Y), num(size), num(t.w), hex(t.Color), [...]string{Left: "", Middle: ` text-anchor="middle"`, Right: ` text-anchor="end"`}[t.Align])
	if t.Strong {
		s.b.WriteString(` font-weight="bold"`)
	}
	if t.Halo {
		s.printf(` stroke="#ffffff" stroke-width="%s" stroke-linejoin="round" paint-order="stroke"`, num(halo*size))
	}
	if a := t.Turn.Degrees(); a != 0 {
		s.printf(` transform="rotate(%s %s %s)"`, num(a), num(at.X), num(at.Y))
	}
	s.printf(">%s</text>\n", escape(t.s))
}

func (s *svg) open(g group) {
	if g.clip != nil {
		s.clips++
		s.printf(`<clipPath id="clip%d"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`+"\n",
			s.clips, num(g.clip.X), num(g.clip.Y), num(g.clip.W), num(g.clip.H))
	}
	s.b.WriteString("<g")
	if g.name != "" {
		s.printf(` class="%s"`, escape(g.name))
	}
	if g.clip != nil {
		s.printf(` clip-path="url(#clip%d)"`, s.clips)
	}
	s.b.WriteString(">\n")
}

func (s *svg) close(group) { s.b.WriteString("</g>\n") }
