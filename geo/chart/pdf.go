package chart

import (
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// halo is the width of the white edge of text over its size.
const halo = 0.35

// Document is pages that belong together.
type Document struct {
	Title string
	Date  time.Time // stands in the file as its time of creation; zero: 1 January 2000
	Pages []*Page
}

// WritePDF writes the document as PDF with its fonts in it, cut down to the
// characters used. The same document makes the same bytes. A document without
// pages gets an empty one. The error is the writer's, or says what cannot be
// written.
func (d *Document) WritePDF(w io.Writer) error {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: Letter.W, Ht: Letter.H}})
	date := d.Date
	if date.IsZero() {
		date = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	f.SetCatalogSort(true)
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetProducer("asfound", true)
	f.SetTitle(printable(d.Title, false), true)
	f.SetLang("en")
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.AddUTF8FontFromBytes("Go", "", regular.ttf)
	f.AddUTF8FontFromBytes("Go", "B", bold.ttf)
	p := &pdf{f: f}
	for _, page := range d.Pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: page.Size.W, Ht: page.Size.H})
		f.SetLineJoinStyle("round")
		for _, i := range page.items {
			i.draw(p)
		}
	}
	return f.Output(w)
}

type pdf struct{ f *fpdf.Fpdf }

// style sets the colours and lines of st, and calls op for the fill and for
// the stroke. They are painted one after the other because PDF has one
// opacity at a time.
func (p *pdf) style(st Style, op func(how string)) {
	if c := st.Fill; c.A > 0 {
		p.f.SetFillColor(int(c.R), int(c.G), int(c.B))
		p.opacity(c)
		op("F*")
	}
	if c := st.Stroke; c.A > 0 {
		p.f.SetDrawColor(int(c.R), int(c.G), int(c.B))
		p.f.SetLineWidth(width(st))
		p.f.SetDashPattern(st.Dash, 0)
		cap := "round"
		if len(st.Dash) > 0 {
			cap = "butt"
		}
		p.f.SetLineCapStyle(cap)
		p.opacity(c)
		op("D")
	}
}

func (p *pdf) opacity(c Color) { p.f.SetAlpha(float64(c.A)/255, "Normal") }

func (p *pdf) path(l path) {
	p.style(l.style, func(how string) {
		for _, line := range l.lines {
			p.f.MoveTo(line[0].X, line[0].Y)
			for _, v := range line[1:] {
				p.f.LineTo(v.X, v.Y)
			}
			if l.closed {
				p.f.ClosePath()
			}
		}
		p.f.DrawPath(how)
	})
}

func (p *pdf) ellipse(e ellipse) {
	p.style(e.style, func(how string) {
		p.f.Ellipse(e.at.X, e.at.Y, e.rx, e.ry, -e.turn, how[:1])
	})
}

func (p *pdf) text(t text) {
	p.f.TransformBegin()
	p.f.TransformRotate(-t.Turn.Degrees(), t.at.X, t.at.Y)
	style := ""
	if t.Strong {
		style = "B"
	}
	// The library leaves out a font that it believes to be set already, which
	// the end of a transformation or a clip may have undone.
	p.f.SetFont("Go", style, t.Size+1)
	p.f.SetFont("Go", style, t.Size)
	p.f.SetAlpha(1, "Normal")
	if t.Halo {
		p.f.SetDrawColor(255, 255, 255)
		p.f.SetLineWidth(halo * t.Size * mmPerPoint)
		p.f.SetDashPattern(nil, 0)
		p.f.SetTextColor(255, 255, 255)
		p.f.SetTextRenderingMode(2)
		p.f.Text(t.at.X, t.at.Y, t.s)
		p.f.SetTextRenderingMode(0)
	}
	p.f.SetTextColor(int(t.Color.R), int(t.Color.G), int(t.Color.B))
	p.opacity(t.Color)
	p.f.Text(t.at.X, t.at.Y, t.s)
	p.f.TransformEnd()
}

func (p *pdf) open(g group) {
	if g.clip != nil {
		p.f.ClipRect(g.clip.X, g.clip.Y, g.clip.W, g.clip.H, false)
	}
}

func (p *pdf) close(g group) {
	if g.clip != nil {
		p.f.ClipEnd()
		// The library leaves out the colour of a text that it believes to be
		// set already, which the end of the clip has undone.
		p.f.SetFillColor(0, 0, 0)
	}
}
