package chart

import (
	"slices"
)

// Column is a column of a table.
type Column struct {
	Head   string
	Width  float64 // millimetres
	Align  Align
	Strong bool // in bold
}

// Table is rows of text under a header, which is left out where no column has
// a Head. Cells wrap; a row is as high as its highest cell.
type Table struct {
	Columns []Column
	Rows    [][]string         // cells beyond the columns are not shown
	Size    float64            // points
	Strong  func(row int) bool // rows in bold, nil: none
}

// cell padding, millimetres
const padX, padY = 1.2, 0.7

// RowHeight returns the height of row i in millimetres; i = −1 is the header.
func (t *Table) RowHeight(i int) float64 {
	if i < 0 && !t.headed() {
		return 0
	}
	h := LineHeight(t.Size)
	for c := range t.Columns {
		h = max(h, ParagraphHeight(t.cell(i, c), t.Columns[c].Width-2*padX, t.Size, t.strong(i, c)))
	}
	return h + 2*padY
}

// Height returns the height of the whole table in millimetres.
func (t *Table) Height() float64 {
	h := t.RowHeight(-1)
	for i := range t.Rows {
		h += t.RowHeight(i)
	}
	return h
}

// Width returns the width of the table in millimetres.
func (t *Table) Width() (w float64) {
	for _, c := range t.Columns {
		w += c.Width
	}
	return w
}

func (t *Table) strong(i, c int) bool {
	return i < 0 || t.Columns[c].Strong || t.Strong != nil && t.Strong(i)
}

func (t *Table) headed() bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Head != "" })
}

func (t *Table) cell(i, c int) string {
	switch {
	case i < 0:
		return t.Columns[c].Head
	case c < len(t.Rows[i]):
		return t.Rows[i][c]
	}
	return ""
}

// Draw draws the header and as many rows as fit room millimetres below at, its
// top left corner. It returns how many rows were drawn, and the Y of the lower
// edge. Draw the others with Rest on a further page.
func (t *Table) Draw(p *Page, at Point, room float64) (rows int, bottom float64) {
	y := at.Y
	y = t.row(p, -1, at.X, y)
	for i := range t.Rows {
		if y+t.RowHeight(i) > at.Y+room+1e-9 {
			break
		}
		y = t.row(p, i, at.X, y)
		rows++
	}
	return rows, y
}

// Rest returns the table without its first n rows.
func (t *Table) Rest(n int) *Table {
	r := *t
	r.Rows = t.Rows[min(n, len(t.Rows)):]
	if t.Strong != nil {
		r.Strong = func(i int) bool { return t.Strong(i + n) }
	}
	return &r
}

func (t *Table) row(p *Page, i int, x, y float64) (bottom float64) {
	h := t.RowHeight(i)
	if h == 0 {
		return y
	}
	line := Style{Stroke: Grey, Width: 0.15}
	if i < 0 {
		p.Rect(Style{Fill: RGB(0xe9e9e9)}, Rect{x, y, t.Width(), h})
		line = Style{Stroke: Black, Width: 0.3}
	}
	for c, col := range t.Columns {
		text := Text{Size: t.Size, Strong: t.strong(i, c), Align: col.Align}
		p.Paragraph(text, Rect{x, y + padY, col.Width, h}.insetX(padX), t.cell(i, c))
		x += col.Width
	}
	p.Line(line, Point{X: x - t.Width(), Y: y + h}, Point{X: x, Y: y + h})
	return y + h
}

func (r Rect) insetX(d float64) Rect { return Rect{r.X + d, r.Y, max(0, r.W-2*d), r.H} }
