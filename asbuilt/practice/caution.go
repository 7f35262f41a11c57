package practice

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
)

// Range is the usual range of a written or drawn quantity. A value outside it
// gets a caution, never a refusal.
type Range struct {
	Name      string
	Low, High float64 // metres, or fall per length
	Source    string
}

// The usual ranges of a drawing.
var (
	UsualWidth     = Range{"trench width", 0.3048, 0.9144, "12 to 36 in (Lake County IL 171.103); wider than 36 in is a bed (Rapid City SD 13.20.500)"}
	UsualChamber   = Range{"chamber width", 0.381, 1.016, "20 to 40 in (ToolBase inventory); 15 in for narrow ones is common practice, no published source"}
	UsualLateral   = Range{"lateral length", 3.048, 30.48, "at most 100 ft (Rapid City SD 13.20.500; Southborough MA; Lake County IL 171.103); the least is common practice, no published source"}
	UsualRow       = Range{"chamber row length", 3.048, 45.72, "at most 150 ft (Texas on-site sewage page on leaching chambers); the least is common practice, no published source"}
	UsualCover     = Range{"cover", 0.1524, 1.2192, "12 in at least over the crown (Southborough MA; UPC summary), trenches down to 48 in (Hamden CT 50.16); 6 in is common practice, no published source"}
	UsualTankCover = Range{"cover of a tank or box", 0, 1.2192, "common practice, no published source: 6 to 24 in, lids of risers at the ground"}
	UsualGrade     = Range{"lateral grade", 0, 0.0052, "level (Switzerland County IN), 0.5 to 4 in per 100 ft (Rapid City SD 13.20.500), 0.005 at least (Southborough MA)"}
	UsualBox       = Range{"side of a box", 0.3048, 1.2192, "common practice, no published source: 12 to 24 in, larger for many outlets"}
	UsualSpacing   = Range{"laterals centre to centre", 1.2192, 12.192, "4 ft of undisturbed soil between trenches (Lake County IL 171.103; Southborough MA), 6 ft (Rapid City SD 13.20.500); the most is common practice, no published source"}
)

// writtenAgainstDrawn is how far a written length may be off the drawn one on
// a sheet that claims to be to scale, before a caution is given. Common
// practice, no published source.
const writtenAgainstDrawn = 0.25

// Cautions returns what is unusual in a sketch that asbuilt.Sketch.Check finds
// no fault with, in the order of the sketch. Each names the part, the value
// found, the usual range and its source. They are for a person to look at;
// nothing in the fit depends on them.
func Cautions(s *asbuilt.Sketch) []finding.Finding {
	var c cautions
	if m, ok := s.MetresPerUnit(); ok && s.Trust == asbuilt.ToScale {
		c.scale = m
	}
	fed := map[string]int{}
	for i := range s.Parts {
		p := &s.Parts[i]
		c.part(p)
		if b := s.BoxOf(p); b != nil {
			fed[b.ID]++
			c.direction(p, b)
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Kind == asbuilt.Box && p.Outlets > 0 && fed[p.ID] > p.Outlets {
			c.add(finding.Outlets.New(finding.Parts(p.ID), finding.Number("outlets", float64(p.Outlets)), finding.Number("fed", float64(fed[p.ID]))))
		}
	}
	c.spacing(s)
	c.under(s)
	return c.list
}

type cautions struct {
	scale float64 // metres per drawing unit of a sheet that is to scale, else 0
	list  []finding.Finding
}

func (c *cautions) add(f finding.Finding) { c.list = append(c.list, f) }

// outside reports whether a length in metres is outside the usual range.
func (r Range) outside(m float64) bool { return m < r.Low*(1-1e-9) || m > r.High*(1+1e-9) }

// written gives a caution where a written length is outside r.
func (c *cautions) written(p *asbuilt.Part, l *geo.Length, r Range) {
	if l != nil && r.outside(l.Metres) {
		c.add(finding.Unusual.New(finding.Parts(p.ID), finding.Word("kind", string(p.Kind)), finding.Word("what", r.Name),
			finding.Word("written", l.Written), finding.Number("found", l.Metres),
			finding.Number("low", r.Low), finding.Number("high", r.High), finding.Word("source", r.Source)))
	}
}

func (c *cautions) part(p *asbuilt.Part) {
	switch p.Kind {
	case asbuilt.Lateral:
		width, length := UsualWidth, UsualLateral
		if p.Bed == asbuilt.Chamber {
			width, length = UsualChamber, UsualRow
		}
		c.written(p, p.Width, width)
		c.written(p, p.Length, length)
		c.written(p, p.Cover, UsualCover)
		if g := p.Grade; g != nil && (*g < UsualGrade.Low || *g > UsualGrade.High) {
			c.add(finding.UnusualGrade.New(finding.Parts(p.ID), finding.Number("grade", *g),
				finding.Number("low", UsualGrade.Low), finding.Number("high", UsualGrade.High), finding.Word("source", UsualGrade.Source)))
		}
	case asbuilt.Tank:
		c.written(p, p.Cover, UsualTankCover)
	case asbuilt.Box:
		c.written(p, p.Cover, UsualTankCover)
		c.written(p, p.Size, UsualBox)
	}
	if len(p.Shapes) == 0 || c.scale == 0 || p.Kind != asbuilt.Lateral && p.Kind != asbuilt.Header {
		return
	}
	drawn := c.scale * p.Shapes[0].Length()
	switch {
	case p.Length != nil && p.Length.Metres > 0 && math.Abs(drawn/p.Length.Metres-1) > writtenAgainstDrawn:
		c.add(finding.WrittenDrawn.New(finding.Parts(p.ID), finding.Word("kind", string(p.Kind)), finding.Word("written", p.Length.Written),
			finding.Number("found", p.Length.Metres), finding.Number("drawn", drawn), finding.Number("most", writtenAgainstDrawn)))
	case p.Kind == asbuilt.Lateral && p.Length == nil:
		r := UsualLateral
		if p.Bed == asbuilt.Chamber {
			r = UsualRow
		}
		if r.outside(drawn) {
			c.add(finding.UnusualDrawn.New(finding.Parts(p.ID), finding.Word("kind", string(p.Kind)), finding.Word("what", r.Name), finding.Number("found", drawn),
				finding.Number("low", r.Low), finding.Number("high", r.High), finding.Word("source", r.Source)))
		}
	}
}

// under gives a caution for each box and tank that is drawn within a building.
func (c *cautions) under(s *asbuilt.Sketch) {
	for i := range s.Parts {
		p := &s.Parts[i]
		v, ok := p.Point(asbuilt.Center)
		if !ok || p.Kind != asbuilt.Box && p.Kind != asbuilt.Tank {
			continue
		}
		for k := range s.Parts {
			b := &s.Parts[k]
			within := func(sh asbuilt.Shape) bool {
				ring := geo.Outline{Closed: sh.Form == asbuilt.Polygon}
				for _, w := range sh.Vertices {
					ring.Vertices = append(ring.Vertices, geo.Vec(w))
				}
				return ring.Contains(geo.Vec(v))
			}
			if b.Kind == asbuilt.Building && slices.ContainsFunc(b.Shapes, within) {
				c.add(finding.DrawnUnder.New(finding.Parts(p.ID), finding.Word("kind", string(p.Kind))))
				break
			}
		}
	}
}

// direction gives a caution where a lateral seems to be drawn from its distal
// end: that would turn every start into an end.
func (c *cautions) direction(p, box *asbuilt.Part) {
	a, ok := p.Point(asbuilt.Start)
	b, ok2 := p.Point(asbuilt.End)
	v, ok3 := box.Point(asbuilt.Center)
	if ok && ok2 && ok3 && v.Dist(b) < v.Dist(a)/2 {
		c.add(finding.DrawnBackward.New(finding.Parts(p.ID, box.ID)))
	}
}

// spacing gives a caution for neighbouring laterals that are drawn closer
// together or further apart than is usual, on a sheet that is to scale.
func (c *cautions) spacing(s *asbuilt.Sketch) {
	if c.scale == 0 {
		return
	}
	var laterals []*asbuilt.Part
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Kind == asbuilt.Lateral && len(p.Shapes) > 0 && len(p.Shapes[0].Vertices) > 1 {
			laterals = append(laterals, p)
		}
	}
	if len(laterals) > 100 { // no lot has as many, and every pair is looked at
		return
	}
	for i, p := range laterals {
		near, best := (*asbuilt.Part)(nil), math.Inf(1)
		middle := middleOf(p)
		for j, q := range laterals {
			if i == j {
				continue
			}
			for k := 1; k < len(q.Shapes[0].Vertices); k++ {
				d := middle.FromSegment(q.Shapes[0].Vertices[k-1], q.Shapes[0].Vertices[k])
				if d*c.scale < best {
					near, best = q, d*c.scale
				}
			}
		}
		if near != nil && (best < UsualSpacing.Low*(1-1e-9) || best > UsualSpacing.High) {
			c.add(finding.Spacing.New(finding.Parts(p.ID, near.ID), finding.Number("distance", best),
				finding.Number("low", UsualSpacing.Low), finding.Number("high", UsualSpacing.High), finding.Word("source", UsualSpacing.Source)))
		}
	}
}

// middleOf returns the point halfway along a line.
func middleOf(p *asbuilt.Part) asbuilt.Position {
	v := p.Shapes[0].Vertices
	half := p.Shapes[0].Length() / 2
	for i := 1; i < len(v); i++ {
		if l := v[i-1].Dist(v[i]); l > 0 {
			if half <= l {
				return v[i-1].Lerp(v[i], half/l)
			}
			half -= l
		}
	}
	return v[len(v)-1]
}
