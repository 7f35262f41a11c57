package plot

import (
	"cmp"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// scene draws a location into a frame of a page, and keeps what the legend
// must explain and what there was no room for.
type scene struct {
	page    *chart.Page
	frame   chart.Frame
	loc     *locate.Location
	plan    *probe.Plan // nil: none, or one that must not be shown
	m       *siteMap    // whose words it speaks
	unit    geo.Unit
	labels  *chart.Labels
	wait    []waiting
	legend  []entry
	crowded map[int]bool // ranks of which a label had no room for all its lines
	terse   map[int]bool // ranks that are labelled with their first line alone
	short   int          // labels cut or left out for want of room
}

// Ranks of the next hole, of the last structure and of the labels that come in numbers: where one of these has no room for all its
// lines, all of them have the first alone, so that none seems to say more.
const rankNext, rankTank, rankHole, rankLateral = 1, 5, 15, 20

// kinds say among which signs the label of a rank shows which is meant.
var kinds = map[int]string{rankNext: "hole", 3: "structure", 4: "structure", rankTank: "structure", 10: "landmark", 12: "guarded", rankHole: "hole", rankLateral: "lateral", 35: "structure", 50: "around"}

// waiting is a label that is placed once all signs are drawn.
type waiting struct {
	chart.Label
	rank int // lower first
}

// entry is a line of the legend and where it stands in it.
type entry struct {
	order int
	key   string // of its finding
	chart.Entry
}

// draw draws everything, the lowest first.
func (s *scene) draw() {
	s.labels = &chart.Labels{Frame: s.frame.Window}
	s.crowded = map[int]bool{}
	w := s.frame.Window
	s.page.Group("map", &w, func() {
		layer := func(name string, f func()) { s.page.Group(name, nil, f) }
		layer("surroundings", s.surroundings)
		layer("corridors", s.corridors)
		layer("old", s.old)
		layer("trenches", s.trenches)
		layer("clearances", s.clearances)
		layer("structures", s.structures)
		layer("ellipses", s.ellipses)
		layer("landmarks", s.landmarks)
		layer("holes", s.holes)
		layer("plan", s.proposals)
		layer("labels", s.place)
	})
}

// explain adds a line to the legend, once.
func (s *scene) explain(order int, says finding.Finding, draw func(p *chart.Page, r chart.Rect)) {
	key := says.Key()
	for _, e := range s.legend {
		if e.key == key {
			return
		}
	}
	s.legend = append(s.legend, entry{order, key, chart.Entry{Text: s.m.says(says), Draw: draw}})
}

// entries returns the legend in its order.
func (s *scene) entries() []chart.Entry {
	slices.SortStableFunc(s.legend, func(a, b entry) int { return cmp.Compare(a.order, b.order) })
	var list []chart.Entry
	for _, e := range s.legend {
		list = append(list, e.Entry)
	}
	return list
}

// label asks for a label at a place of the ground, beside a sign of radius
// millimetres. The first of lines will do where there is no room for all.
func (s *scene) label(rank int, at geo.Vec, radius float64, t chart.Text, lines ...string) {
	if !s.frame.Sees(at) {
		return
	}
	l := chart.Label{Text: t, Lines: lines, At: s.frame.Page(at), Radius: radius, Kind: kinds[rank]}
	if len(lines) > 1 && rank > rankTank { // next hole, box and tank say all of it, further off if need be
		l.Short = lines[:1]
		if s.terse[rank] { // what is left out stands in the lists
			l.Lines = l.Short
			s.short++
		}
	}
	s.wait = append(s.wait, waiting{l, rank})
}

// labelEnd asks for a label beyond the end of a line of the ground.
func (s *scene) labelEnd(rank int, line []geo.Vec, radius float64, t chart.Text, lines ...string) {
	n, end := len(s.wait), line[len(line)-1]
	s.label(rank, end, radius, t, lines...)
	if len(s.wait) > n {
		s.wait[n].Toward = s.frame.Page(end).Sub(s.frame.Page(line[len(line)-2]))
	}
}

// place puts the labels, the important ones first.
func (s *scene) place() {
	if off := s.off(); off != "" {
		w, t := s.frame.Window, chart.Text{Size: 5.5, Color: wall, Halo: true}
		words := chart.Cut(s.m.says(finding.PaperOffSheet.New(finding.Word("names", off))), w.W-4, t.Size, false)
		s.page.Text(t, vec(w.X+1.5, w.Y+w.H-1.5), words)
		s.labels.Keep(chart.Rect{X: w.X, Y: w.Y + w.H - 4, W: chart.TextWidth(words, t.Size, false) + 3, H: 4})
	}
	slices.SortStableFunc(s.wait, func(a, b waiting) int { return cmp.Compare(a.rank, b.rank) })
	for _, w := range s.wait {
		s.labels.Sign(w.Kind, w.At, w.Radius)
	}
	for _, w := range s.wait {
		if _, whole := s.labels.Place(s.page, w.Label); !whole {
			s.short++
			s.crowded[w.rank] = true
		}
	}
}

// keep makes labels keep off a sign of radius millimetres.
func (s *scene) keep(at geo.Vec, radius float64) {
	p := s.frame.Page(at)
	s.labels.Keep(chart.Rect{X: p.X - radius, Y: p.Y - radius, W: 2 * radius, H: 2 * radius})
}

// line draws a line of the ground.
func (s *scene) line(st chart.Style, line []geo.Vec) {
	for _, part := range s.frame.Line(line) {
		s.page.Line(st, part...)
		s.labels.KeepLine(part...)
	}
}

// ring draws a polygon of the ground.
func (s *scene) ring(st chart.Style, ring []geo.Vec) {
	if r := s.frame.Ring(ring); r != nil {
		s.page.Polygon(st, r)
		if st.Stroke.A > 0 {
			s.labels.KeepLine(append(slices.Clone(r), r[0])...)
		}
	}
}

// region fills a region of the ground, hatched where gap, in millimetres, is
// not 0.
func (s *scene) region(st chart.Style, r geo.Region, hatch chart.Style, gap, direction float64) {
	for _, patch := range r {
		rings := [][]chart.Point{}
		for _, ring := range append([][]geo.Vec{patch.Outer}, patch.Holes...) {
			if cut := s.frame.Ring(ring); cut != nil {
				rings = append(rings, cut)
			}
		}
		if len(rings) == 0 {
			continue
		}
		if gap > 0 {
			s.page.Lines(hatch, chart.Hatch(gap, geo.Degrees(direction), rings...)...)
		}
		s.page.Polygon(st, rings...)
	}
}

// shape draws one outline of a part; a point gets sign.
func (s *scene) shape(st chart.Style, sh geo.Outline, sign func(at chart.Point)) {
	switch {
	case len(sh.Vertices) == 0:
	case sh.Closed:
		s.ring(st, sh.Vertices)
	case len(sh.Vertices) > 1:
		st.Fill = chart.Color{}
		s.line(st, sh.Vertices)
	case sign != nil && s.frame.Sees(sh.Vertices[0]):
		sign(s.frame.Page(sh.Vertices[0]))
	}
}

// middle returns a place to name outlines by: near the middle of what can be
// seen of the first that can; ok is false where none can.
func (s *scene) middle(outlines []geo.Outline) (at geo.Vec, ok bool) {
	exact := s.frame // keeps the middle, and cuts at the neat line
	exact.Window = exact.Window.Inset(chart.ClipMargin)
	for _, sh := range outlines {
		var seen []chart.Point
		switch {
		case len(sh.Vertices) == 0:
		case sh.Closed:
			seen = exact.Ring(sh.Vertices)
		case len(sh.Vertices) > 1:
			if parts := exact.Line(sh.Vertices); len(parts) > 0 {
				seen = longest(parts)
			}
		case s.frame.Sees(sh.Vertices[0]):
			seen = []chart.Point{s.frame.Page(sh.Vertices[0])}
		}
		if len(seen) > 0 {
			var sum chart.Point
			for _, v := range seen {
				sum = sum.Add(v)
			}
			return s.frame.Ground(sum.Scale(1 / float64(len(seen)))), true
		}
	}
	return geo.Vec{}, false
}

// longest returns the ends of the longest segment of lines.
func longest(lines [][]chart.Point) (segment []chart.Point) {
	best := -1.0
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			if d := l[i].Dist(l[i-1]); d > best {
				best, segment = d, l[i-1:i+1]
			}
		}
	}
	return segment
}

// name returns what a part is called on the map: its name, else its id.
func name(o *locate.Outline) string {
	switch {
	case o.Name == "" || o.Name == o.Part:
		return o.Part
	case o.Kind == asbuilt.Landmark || o.Kind == asbuilt.Well: // ties and lists speak of these by their id
		return o.Part + ": " + o.Name
	}
	return o.Name
}

// depth writes a depth with the half-width of its 95 % interval, which never
// reaches above the ground.
func (m *siteMap) depth(d locate.Depth) string {
	if math.IsNaN(d.Mean + d.Sigma) {
		return m.word(finding.PaperNotKnown)
	}
	half, shallow := d.Within()
	mean := finding.Number("mean", d.Mean)
	if shallow {
		return m.says(finding.PaperDepthMost.New(mean, finding.Number("most", d.Mean+half)))
	}
	return m.says(finding.PaperDepthRange.New(mean, finding.Number("half", half)))
}

// deep says how deep, for a label.
func (m *siteMap) deep(d locate.Depth) string {
	return m.says(finding.PaperDeep.New(finding.Word("depth", m.depth(d))))
}
