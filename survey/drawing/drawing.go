package drawing

import (
	"math"
	"slices"
	"sync"

	"asfound/asbuilt"
	"asfound/geo"
)

// Group says which things of a sheet were drawn in one go, and so are wrong
// together.
type Group int

// The groups of a sheet.
const (
	House Group = iota // landmarks, buildings and surroundings
	Tank               // the tank and what joins it
	Field              // box, headers, laterals, ports
)

// Node is a drawn point whose true place is unknown: a landmark, a tank or box
// centre, a vertex of a lateral or header, a port.
type Node struct {
	At       Drawn
	Group    Group
	Kind     asbuilt.Kind
	Lateral  int     // index into Drawing.Laterals, −1: none
	Along    float64 // fraction along that lateral
	OffHouse bool    // a landmark that is no corner of a drawn building
}

// Lateral is a lateral as drawn.
type Lateral struct {
	Part  *asbuilt.Part
	Nodes []int
}

// Drawing is a sketch as the adjustment sees it: its nodes, and which part
// owns which.
type Drawing struct {
	Sketch     *asbuilt.Sketch
	Fault      Hypothesis
	Scale      float64 // prior metres per drawing unit
	ScaleSigma float64 // standard deviation of its logarithm
	Nodes      []Node
	Spots      map[asbuilt.SpotName]int
	Lines      map[string][]int // nodes of each lateral and header, in flow order
	Laterals   []Lateral
	Marks      []int            // nodes of the landmarks, in the order of the sketch
	Centre     asbuilt.Position // of all nodes
	Buildings  [][]Drawn        // the rings of the buildings

	joins func() []Join     // Joins, worked out once asked for
	names map[string]string // corner of the sheet by the crew's name of it, nil: the same
	house Drawn             // the middle of the house
}

// New lays out the nodes of a sketch that has a fault.
func New(s *asbuilt.Sketch, f Hypothesis) *Drawing {
	d := &Drawing{Sketch: s, Fault: f, Spots: map[asbuilt.SpotName]int{}, Lines: map[string][]int{}}
	d.Scale, d.ScaleSigma = priorScale(s)
	if f.ScaleSigma > 0 {
		d.ScaleSigma = f.ScaleSigma
	}
	if f.Kind == Named {
		d.names = namesOf(cornersOf(s), f.Quarter)
	}
	l := layer{Drawing: d}
	l.spots()
	l.laterals()
	l.headers()
	l.ports()
	for _, v := range l.raw {
		d.Centre = d.Centre.Add(v.Scale(1 / float64(len(l.raw))))
	}
	d.house = l.middleOfHouse()
	for i, v := range l.raw {
		d.Nodes[i].At = d.Lay(v, d.Nodes[i].Group)
	}
	d.buildings()
	d.joins = sync.OnceValue(d.missing)
	d.alongLaterals()
	d.portsOnLaterals()
	return d
}

// layer lays out nodes one after another.
type layer struct {
	*Drawing
	raw []asbuilt.Position // of each node
}

// add makes a node of a drawn point.
func (l *layer) add(v asbuilt.Position, n Node) int {
	l.raw = append(l.raw, v)
	n.Lateral = -1
	l.Nodes = append(l.Nodes, n)
	return len(l.raw) - 1
}

// spots adds landmarks, tanks and boxes.
func (l *layer) spots() {
	corner := l.Reach(0.3)
	for i := range l.Sketch.Parts {
		p := &l.Sketch.Parts[i]
		if p.Kind != asbuilt.Landmark && p.Kind != asbuilt.Tank && p.Kind != asbuilt.Box {
			continue
		}
		v, ok := l.point(p)
		if !ok {
			continue
		}
		n := Node{Kind: p.Kind, Group: GroupOf(p.Kind)}
		n.OffHouse = p.Kind == asbuilt.Landmark && !onBuilding(l.Sketch, v, corner)
		k := l.add(v, n)
		l.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}] = k
		if p.Kind == asbuilt.Landmark {
			l.Marks = append(l.Marks, k)
		}
	}
}

// laterals adds the vertices of the laterals.
func (l *layer) laterals() {
	for i := range l.Sketch.Parts {
		if p := &l.Sketch.Parts[i]; p.Kind == asbuilt.Lateral && len(p.Shapes) > 0 {
			var line []int
			for _, v := range p.Shapes[0].Vertices {
				line = append(line, l.add(v, Node{Kind: p.Kind, Group: Field}))
			}
			l.setLine(p, line)
			l.Laterals = append(l.Laterals, Lateral{p, line})
		}
	}
}

// headers adds the vertices of the headers. A header ends where something else
// begins: it shares that node, so that a reading of the one places the other as
// well.
func (l *layer) headers() {
	join := l.Reach(0.6)
	for i := range l.Sketch.Parts {
		p := &l.Sketch.Parts[i]
		if p.Kind != asbuilt.Header || len(p.Shapes) == 0 {
			continue
		}
		var line []int
		for _, v := range p.Shapes[0].Vertices {
			if k := nearest(l.raw, l.Nodes, v, join); k >= 0 && !slices.Contains(line, k) {
				line = append(line, k)
				continue
			}
			g := Field
			if inTank(l.Sketch, v, l.Reach(1)) {
				g = Tank
			}
			line = append(line, l.add(v, Node{Kind: p.Kind, Group: g}))
		}
		l.setLine(p, line)
	}
}

// ports adds the inspection ports.
func (l *layer) ports() {
	for i := range l.Sketch.Parts {
		if p := &l.Sketch.Parts[i]; p.Kind == asbuilt.Port {
			if v, ok := p.Point(asbuilt.Center); ok {
				l.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}] = l.add(v, Node{Kind: p.Kind, Group: Field})
			}
		}
	}
}

// buildings lays out the rings of the buildings.
func (d *Drawing) buildings() {
	for i := range d.Sketch.Parts {
		if p := &d.Sketch.Parts[i]; p.Kind == asbuilt.Building {
			for _, s := range p.Shapes {
				var ring []Drawn
				for _, v := range s.Vertices {
					ring = append(ring, d.Lay(v, House))
				}
				if s.Form == asbuilt.Polygon && len(ring) > 2 {
					d.Buildings = append(d.Buildings, ring)
				}
			}
		}
	}
}

// middleOfHouse returns the middle of the house's nodes.
func (l *layer) middleOfHouse() (v Drawn) {
	n := 0.0
	for i, w := range l.raw {
		if l.Nodes[i].Group == House {
			v, n = v.Add(l.Sheet(w)), n+1
		}
	}
	if n == 0 {
		return v
	}
	return v.Scale(1 / n)
}

// alongLaterals says of each vertex of a lateral how far along it lies.
func (d *Drawing) alongLaterals() {
	for li, l := range d.Laterals {
		length := 0.0
		for i := 1; i < len(l.Nodes); i++ {
			length += d.Nodes[l.Nodes[i-1]].At.Dist(d.Nodes[l.Nodes[i]].At)
		}
		run := 0.0
		for i, k := range l.Nodes {
			if i > 0 {
				run += d.Nodes[l.Nodes[i-1]].At.Dist(d.Nodes[k].At)
			}
			d.Nodes[k].Lateral = li
			if length > 0 {
				d.Nodes[k].Along = run / length
			}
		}
	}
}

// portsOnLaterals says of each port how far along its lateral it lies.
func (d *Drawing) portsOnLaterals() {
	for i := range d.Sketch.Parts {
		p := &d.Sketch.Parts[i]
		k, ok := d.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}]
		if p.Kind != asbuilt.Port || !ok {
			continue
		}
		for li, l := range d.Laterals {
			if l.Part.ID == p.Of {
				a, b := d.ends(li)
				_, d.Nodes[k].Along = geo.SegmentDistance(a.v, b.v, d.Nodes[k].At.v)
				d.Nodes[k].Lateral = li
			}
		}
	}
}

// Sheet returns the place on the sheet of a position of the sketch: about the
// drawing's centre and mirrored where the drawing is.
func (d *Drawing) Sheet(v asbuilt.Position) Drawn {
	v = v.Sub(d.Centre)
	if d.Fault.Kind == Mirrored {
		v.X = -v.X
	}
	return Drawn{geo.Vec(v)}
}

// Lay is Sheet for a thing of a group: where tank and field were drawn off
// another wall, they are turned about the house.
func (d *Drawing) Lay(v asbuilt.Position, g Group) Drawn {
	at := d.Sheet(v)
	if d.Fault.Kind == Walled && g != House {
		at = at.Sub(d.house).Rotate(geo.Degrees(90 * float64(d.Fault.Quarter))).Add(d.house)
	}
	return at
}

// point returns where a part with a single place is drawn; of a corner, the one
// that the crew means by its name.
func (d *Drawing) point(p *asbuilt.Part) (asbuilt.Position, bool) {
	if other := d.Sketch.Part(d.names[p.ID]); other != nil {
		p = other
	}
	return p.Point(asbuilt.Center)
}

// CrewName returns the crew's name of a corner of the sheet: a tie that is
// written on the sheet runs from the corner of the sheet.
func (d *Drawing) CrewName(corner string) string {
	for crew, sheet := range d.names {
		if sheet == corner {
			return crew
		}
	}
	return corner
}

// CornerNamed returns the corner of the sheet that the crew means by its first
// corner, and the crew's name of that; both empty where the names agree.
func (d *Drawing) CornerNamed() (crew, sheet string) {
	if d.names == nil {
		return "", ""
	}
	crew = cornersOf(d.Sketch)[0]
	return crew, d.names[crew]
}

// MarkName returns the id of the landmark of node m.
func (d *Drawing) MarkName(m int) string {
	for i := range d.Sketch.Parts {
		p := &d.Sketch.Parts[i]
		if k, ok := d.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}]; ok && k == m && p.Kind == asbuilt.Landmark {
			return p.ID
		}
	}
	return ""
}

// GroupOf returns the group that a kind of part is drawn with.
func GroupOf(k asbuilt.Kind) Group {
	switch k {
	case asbuilt.Tank:
		return Tank
	case asbuilt.Box, asbuilt.Header, asbuilt.Lateral, asbuilt.Port:
		return Field
	}
	return House
}

// Reach returns the drawing units of m metres.
func (d *Drawing) Reach(m float64) float64 { return m / d.Scale }

// ends returns the drawn ends of lateral li, about the centre.
func (d *Drawing) ends(li int) (start, end Drawn) {
	n := d.Laterals[li].Nodes
	return d.Nodes[n[0]].At, d.Nodes[n[len(n)-1]].At
}

func (d *Drawing) setLine(p *asbuilt.Part, line []int) {
	d.Lines[p.ID] = line
	d.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Start}] = line[0]
	d.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.End}] = line[len(line)-1]
}

// Centroid returns the mean of the nodes of a group, and whether it has any.
func (d *Drawing) Centroid(g Group) (v Drawn, ok bool) {
	n := 0.0
	for _, k := range d.Nodes {
		if k.Group == g {
			v, n = v.Add(k.At), n+1
		}
	}
	if n == 0 {
		return Drawn{}, false
	}
	return v.Scale(1 / n), true
}

// Away returns how far in metres two groups lie apart on the sheet, by their
// middles; 0 where the sheet lacks one of them.
func (d *Drawing) Away(a, b Group, scale float64) float64 {
	if v, ok := d.Centroid(a); ok {
		if w, ok := d.Centroid(b); ok {
			return v.Dist(w) * scale
		}
	}
	return 0
}

// direction returns the unit vector along the laterals, on average, in the axes
// of the sheet, and the median spacing between neighbours in metres.
func (d *Drawing) direction() (e geo.Vec, spacing float64) {
	for li := range d.Laterals {
		a, b := d.ends(li)
		v := b.Sub(a).v
		if v.Dot(e) < 0 {
			v = v.Scale(-1)
		}
		e = e.Add(v)
	}
	if e = e.Unit(); e == (geo.Vec{}) {
		e = geo.Vec{X: 1}
	}
	var across []float64
	for li := range d.Laterals {
		a, b := d.ends(li)
		across = append(across, a.Lerp(b, 0.5).v.Dot(e.Right())*d.Scale)
	}
	slices.Sort(across)
	var gaps []float64
	for i := 1; i < len(across); i++ {
		if g := across[i] - across[i-1]; g > 0.5 {
			gaps = append(gaps, g)
		}
	}
	if len(gaps) == 0 {
		return e, usualSpacing
	}
	return e, math.Min(Median(gaps), 2*usualSpacing)
}
