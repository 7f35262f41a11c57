package asbuilt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asfound/geo"
)

// Limits of what a sketch may say. They only keep nonsense out of the
// arithmetic; what is merely unusual is a caution (asbuilt/practice), not a
// problem.
const (
	MaxCoordinate   = 1e7  // of a vertex, either way, drawing units
	MaxLength       = 1e5  // of a written length, metres
	MaxOutlets      = 100  // of a box
	MaxLateralGrade = 0.1  // fall per length
	MaxHeaderGrade  = 1    // fall per length; headers may drop steeply
	minLength       = 1e-6 // metres, of lengths that must be above zero
	maxProblems     = 1000 // Check stops after this many
)

// Kinds returns every kind of part, in the order of the format's table.
func Kinds() []Kind {
	return []Kind{Building, Landmark, Tank, Box, Header, Lateral, Port,
		Well, Boundary, Water, Driveway, Utility, NoDig}
}

// Forms returns the forms that a part of kind k may be drawn in, and whether
// it may be drawn in several pieces.
func (k Kind) Forms() (forms []Form, several bool) {
	switch k {
	case Landmark, Port:
		return []Form{Point}, false
	case Header, Lateral:
		return []Form{Line}, false
	case Building:
		return []Form{Polygon}, false
	case Tank, Box:
		return []Form{Point, Polygon}, false
	}
	return []Form{Point, Line, Polygon}, true
}

// String returns the form by its name in RFC 7946.
func (f Form) String() string {
	switch f {
	case Point:
		return "Point"
	case Line:
		return "LineString"
	case Polygon:
		return "Polygon"
	}
	return "Form(" + strconv.Itoa(int(f)) + ")"
}

// Place returns the part's place in its file, for problems: feature 7 "L2".
func (p *Part) Place() string {
	if p.ID == "" {
		return fmt.Sprintf("feature %d", p.Feature)
	}
	return fmt.Sprintf("feature %d %q", p.Feature, p.ID)
}

// Check returns everything in a sketch that contradicts itself or is
// impossible: ids that are missing or doubled, parts drawn in a form that their
// kind does not have, ties and feeds that name what is not there, lengths below
// zero. file names the sketch in the problems.
//
// A part without shapes or without a kind is passed over: the reader has
// reported it already. Check stops at the end of the part that makes a thousand
// problems.
func (s *Sketch) Check(file string) Problems {
	c := checker{file: file, byID: map[string]*Part{}, lists: map[Kind]string{}}
	lateralOrBox := false
	for i := range s.Parts {
		p := &s.Parts[i]
		lateralOrBox = lateralOrBox || p.Kind == Lateral || p.Kind == Box || p.Kind == ""
		if _, ok := c.byID[p.ID]; !ok {
			c.byID[p.ID] = p
			c.ids = append(c.ids, p.ID)
		}
	}
	if !lateralOrBox {
		c.ps.Addf(file, "", "features", "no lateral and no box", "at least one part of kind lateral or box: without them there is nothing to look for")
	}
	for i := range s.Parts {
		if len(c.ps) >= maxProblems {
			break
		}
		c.part(&s.Parts[i])
	}
	if s.Known != nil && len(c.ps) < maxProblems {
		s.Known.check(s, func(field, found, want string) { c.ps.Addf(file, "", field, found, "%s", want) })
	}
	return c.ps
}

type checker struct {
	file  string
	byID  map[string]*Part
	ids   []string        // in the order of the sketch
	lists map[Kind]string // ids of a kind, as problems list them
	ps    Problems
}

func (c *checker) part(p *Part) {
	add := func(field, found, want string, args ...any) {
		c.ps.Addf(c.file, p.Place(), field, found, want, args...)
	}
	switch first := c.byID[p.ID]; {
	case p.ID == "":
		add("id", "none", "an id, unique in the sketch, such as L1")
	case first != p:
		add("id", strconv.Quote(p.ID), "an id of its own: feature %d has this one", first.Feature)
	}
	c.shapes(p, add)
	c.lengths(p, add)
	if p.Outlets < 0 || p.Outlets > MaxOutlets {
		add("properties.outlets", strconv.Itoa(p.Outlets), "a whole number from 1 to %d", MaxOutlets)
	}
	if limit := gradeLimit(p.Kind); p.Grade != nil && !(*p.Grade >= 0 && *p.Grade <= limit) {
		add("properties.grade", strconv.FormatFloat(*p.Grade, 'g', -1, 64),
			"fall over length, 0 to %v: 0.005 is 0.5 %%, or 6 in in 100 ft", limit)
	}
	if p.Kind == Lateral && p.From != "" {
		c.names("properties.from", p.From, Box, "the box that feeds it", add)
	}
	if p.Kind == Port && p.Of != "" {
		c.names("properties.of", p.Of, Lateral, "its lateral", add)
	}
	for i, t := range p.Ties {
		c.tie(p, fmt.Sprintf("properties.ties[%d]", i), t, add)
	}
}

// shapes checks how the part is drawn.
func (c *checker) shapes(p *Part, add func(field, found, want string, args ...any)) {
	if len(p.Shapes) == 0 || p.Kind == "" {
		return
	}
	forms, several := p.Kind.Forms()
	names := make([]string, len(forms))
	for i, f := range forms {
		names[i] = f.String()
	}
	want := strings.Join(names, " or ")
	if len(p.Shapes) > 1 && !several {
		add("geometry", fmt.Sprintf("%d pieces", len(p.Shapes)), "one %s: the form of a %s", want, p.Kind)
		return
	}
	for _, sh := range p.Shapes {
		if !slices.Contains(forms, sh.Form) {
			add("geometry.type", sh.Form.String(), "%s: the form of a %s", want, p.Kind)
			continue
		}
		least := [...]int{Point: 1, Line: 2, Polygon: 3}[sh.Form]
		if n := len(sh.Vertices); n < least || sh.Form == Point && n > 1 {
			add("geometry.coordinates", fmt.Sprintf("%d vertices", n), "%d of a %s", least, sh.Form)
		}
		for _, v := range sh.Vertices {
			if !v.Finite() || max(v.X, -v.X, v.Y, -v.Y) > MaxCoordinate {
				add("geometry.coordinates", fmt.Sprintf("[%v, %v]", v.X, v.Y), "coordinates between -%.0e and %.0e", float64(MaxCoordinate), float64(MaxCoordinate))
				break
			}
		}
	}
}

// lengths checks the signs of what is written beside the part. An invert is a
// height and may have either sign.
func (c *checker) lengths(p *Part, add func(field, found, want string, args ...any)) {
	check := func(field string, l *geo.Length, least float64, want string) {
		if l != nil && !(l.Metres >= least && l.Metres <= MaxLength) {
			add("properties."+field, strconv.Quote(l.Written), "%s, at most 100 km", want)
		}
	}
	check("length", p.Length, minLength, "a length above zero")
	check("width", p.Width, minLength, "a length above zero")
	check("size", p.Size, minLength, "a length above zero")
	check("cover", p.Cover, 0, "a depth of zero or more")
	check("clearance", p.Clearance, 0, "a distance of zero or more")
	check("invert", p.Invert, -MaxLength, "a height above the record's datum")
}

// names checks that id names a part of the wanted kind.
func (c *checker) names(field, id string, kind Kind, what string, add func(field, found, want string, args ...any)) {
	p, ok := c.byID[id]
	switch {
	case !ok:
		add(field, strconv.Quote(id), "the id of %s: %s", what, c.list(kind))
	case p.Kind != kind && p.Kind != "":
		add(field, fmt.Sprintf("%q, a %s", id, p.Kind), "the id of %s: %s", what, c.list(kind))
	}
}

// list lists the ids of a kind.
func (c *checker) list(kind Kind) string {
	if s, ok := c.lists[kind]; ok {
		return s
	}
	var ids []string
	for _, id := range c.ids {
		if c.byID[id].Kind == kind && id != "" {
			ids = append(ids, id)
		}
	}
	s := strings.Join(ids[:min(len(ids), 12)], ", ")
	switch {
	case len(ids) == 0:
		s = fmt.Sprintf("the sketch has no %s", kind)
	case len(ids) > 12:
		s += fmt.Sprintf(" … (%d in all)", len(ids))
	}
	c.lists[kind] = s
	return s
}

// tie checks one written tie of p.
func (c *checker) tie(p *Part, field string, t Tie, add func(field, found, want string, args ...any)) {
	if spots := p.TieSpots(); len(spots) > 0 && t.At != "" && !slices.Contains(spots, t.At) {
		names := make([]string, len(spots))
		for i, s := range spots {
			names[i] = string(s)
		}
		add(field+".at", strconv.Quote(string(t.At)), "%s: the spots that a %s has ties to", strings.Join(names, " or "), p.Kind)
	}
	switch {
	case t.From == "": // the reader has reported it already
	case t.From == p.ID:
		add(field+".from", strconv.Quote(t.From), "another landmark: this is the part itself")
	default:
		c.names(field+".from", t.From, Landmark, "a landmark", add)
	}
	if l := t.Distance; l.Written != "" && !(l.Metres >= minLength && l.Metres <= MaxLength) {
		add(field+".distance", strconv.Quote(l.Written), "a length above zero, at most 100 km")
	}
}

// TieSpots returns the spots of p that a written tie may run to, none where p
// has neither kind nor shape.
func (p *Part) TieSpots() []Spot {
	switch {
	case p.Kind == "" || len(p.Shapes) == 0:
		return nil
	case p.Shapes[0].Form == Line:
		return []Spot{Start, End}
	case p.Kind == Box || p.Kind == Tank || p.Shapes[0].Form == Polygon:
		return []Spot{Center, Corner}
	}
	return []Spot{Center}
}

func gradeLimit(k Kind) float64 {
	if k == Lateral {
		return MaxLateralGrade
	}
	return MaxHeaderGrade
}
