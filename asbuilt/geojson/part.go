package geojson

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
)

// feature reads one Feature (RFC 7946, 3.2), counted from 1. What cannot be
// read is left out of the part.
func (d *decoder) feature(n int, v value) asbuilt.Part {
	p := asbuilt.Part{Feature: n}
	if v.kind() != '{' {
		d.addf("", v.show(), "a Feature (RFC 7946, 3.2)")
		return p
	}
	m := d.object("", v, "type", "id", "geometry", "properties", "bbox")
	p.ID = d.id(m["id"], m["properties"])
	d.place = p.Place()

	if t := m["type"]; t.text() != "Feature" {
		d.addf("type", t.show(), `"Feature" (RFC 7946, 3.2); its form stands in geometry.type`)
	}
	for _, name := range []string{"coordinates", "geometries", "features"} { // RFC 7946, 7.1
		if _, ok := m[name]; ok {
			d.addf(name, "a member "+quote(name), "no such member in a Feature (RFC 7946, 7.1): coordinates stand in its geometry")
		}
	}
	props := map[string]value{}
	if v := m["properties"]; v.kind() != '{' {
		d.addf("properties", v.show(), `an object that says at least the part: "properties": {"part": "lateral"}`)
	} else {
		props = d.object("properties", v, "part", "name", "kind", "outlets", "size", "cover", "invert",
			"from", "bed", "width", "length", "grade", "of", "clearance", "ties")
		p.Kind = d.part(props["part"])
	}
	p.Shapes = d.geometry("geometry", m["geometry"], p.Kind)
	d.written(&p, props)
	return p
}

// id reads a Feature's id, text or number (RFC 7946, 3.2).
func (d *decoder) id(v, properties value) string {
	if !given(v) {
		want := "an id, unique in the sketch, such as L1"
		for e := range properties.members() {
			if e.name == "id" {
				want = `the id beside "type", not within "properties"`
			}
		}
		d.addf("id", v.show(), "%s", want)
		return ""
	}
	id := d.text("id", v, MaxID)
	if id != strings.TrimSpace(id) || id == "" && v.kind() == '"' && v.text() == "" {
		d.addf("id", v.show(), "an id without spaces before or after, such as L1")
		return strings.TrimSpace(id)
	}
	return id
}

// part reads properties.part.
func (d *decoder) part(v value) asbuilt.Kind {
	var words []string
	for _, k := range asbuilt.Kinds() {
		words = append(words, string(k))
	}
	if !given(v) {
		d.addf("properties.part", v.show(), "%s", strings.Join(words, ", "))
		return ""
	}
	return asbuilt.Kind(d.word("properties.part", v, words...))
}

// written reads what is written beside a part.
func (d *decoder) written(p *asbuilt.Part, m map[string]value) {
	p.Name = d.text("properties.name", m["name"], MaxText)
	p.Size = d.length("properties.size", m["size"])
	p.Width = d.length("properties.width", m["width"])
	p.Length = d.length("properties.length", m["length"])
	p.Cover = d.length("properties.cover", m["cover"])
	p.Invert = d.length("properties.invert", m["invert"])
	p.Clearance = d.length("properties.clearance", m["clearance"])
	p.From = d.text("properties.from", m["from"], MaxID)
	p.Of = d.text("properties.of", m["of"], MaxID)
	p.Grade = d.grade(m["grade"])
	switch p.Kind { // other kinds may carry words of their own under these names
	case asbuilt.Box:
		p.BoxKind = asbuilt.Distribution
		if k := d.word("properties.kind", m["kind"], string(asbuilt.Distribution), string(asbuilt.Drop)); k != "" {
			p.BoxKind = asbuilt.BoxKind(k)
		}
		p.Outlets = d.outlets(m["outlets"])
	case asbuilt.Lateral:
		p.Bed = asbuilt.Bed(d.word("properties.bed", m["bed"], string(asbuilt.Gravel), string(asbuilt.Chamber), string(asbuilt.Pipe)))
	}
	p.Ties = d.ties(p, m["ties"])
}

// length reads a written length: text with a unit, or a number in the sketch's
// unit. The sign is left to Check.
func (d *decoder) length(field string, v value) *geo.Length {
	bare := d.bare
	if bare == "" {
		bare = geo.Foot // sketch.unit is complained of already
	}
	text := strings.TrimSpace(v.text())
	x, number := v.number()
	if v.kind() == '"' {
		_, err := strconv.ParseFloat(text, 64)
		number = err == nil
	}
	var l geo.Length
	var err error
	switch {
	case !given(v) || v.kind() == '"' && text == "":
		return nil
	case number && bare == geo.Pixel:
		d.noUnit(field, v)
		return nil
	case v.kind() == '0' && number:
		l, err = geo.Bare(x, bare)
	case v.kind() == '"':
		l, err = geo.ParseLength(text, bare)
	default:
		d.addf(field, v.show(), lengthWanted)
		return nil
	}
	var m *geo.Misread
	switch {
	case errors.As(err, &m):
		d.addf(field, v.show(), "%s (%s)", m.Want, m.Wrong)
		return nil
	case err != nil:
		d.addf(field, v.show(), "%s (%v)", lengthWanted, err)
		return nil
	}
	return &l
}

const lengthWanted = `a length such as 43'6", 43.5 ft or 13.26 m`

// noUnit refuses a bare number where sketch.unit says nothing of the ground.
func (d *decoder) noUnit(field string, v value) {
	why := "sketch.unit is px"
	if d.sketch.Ratio != 1 {
		why = fmt.Sprintf("sketch.unit is %s of paper", d.sketch.Unit)
	}
	d.addf(field, v.show(), `text with a unit, such as "%s ft" (%s)`, strings.Trim(shorten(string(v)), `"`), why)
}

// grade reads a fall over length: 0.005 or "0.5 %".
func (d *decoder) grade(v value) *float64 {
	if !given(v) {
		return nil
	}
	x, ok := v.number()
	if v.kind() == '"' {
		t, percent := strings.CutSuffix(strings.TrimSpace(v.text()), "%")
		y, err := strconv.ParseFloat(strings.TrimSpace(t), 64)
		if x, ok = y, err == nil; percent {
			x = y / 100
		}
	}
	if !ok || math.IsNaN(x) || math.IsInf(x, 0) {
		d.addf("properties.grade", v.show(), `fall over length: 0.005 or "0.5 %%" for 6 in in 100 ft`)
		return nil
	}
	return &x
}

// outlets reads the number of a box's outlets, 0 where it is not given.
func (d *decoder) outlets(v value) int {
	if !given(v) {
		return 0
	}
	x, ok := v.number()
	if v.kind() == '"' {
		y, err := strconv.Atoi(strings.TrimSpace(v.text()))
		x, ok = float64(y), err == nil
	}
	if !ok || x != math.Trunc(x) || x < 1 || x > asbuilt.MaxOutlets {
		d.addf("properties.outlets", v.show(), "a whole number from 1 to %d", asbuilt.MaxOutlets)
		return 0
	}
	return int(x)
}

// ties reads the written ties of a part.
func (d *decoder) ties(p *asbuilt.Part, v value) (ties []asbuilt.Tie) {
	const want = `an array of {"at": "end", "from": "A", "distance": "43'6\""}`
	if !given(v) {
		return nil
	}
	if v.kind() != '[' {
		d.addf("properties.ties", v.show(), want)
		return nil
	}
	for i, t := range v.items() {
		field := fmt.Sprintf("properties.ties[%d]", i)
		switch {
		case i >= MaxTies:
			d.addf("properties.ties", fmt.Sprintf("more than %d ties", MaxTies), "at most %d", MaxTies)
			return ties
		case t.kind() != '{':
			d.addf(field, t.show(), want)
			ties = append(ties, asbuilt.Tie{}) // keeps the others at their place in Check's words
			continue
		}
		m := d.object(field, t, "at", "from", "distance")
		tie := asbuilt.Tie{
			At:   d.at(p, field+".at", m["at"]),
			From: d.text(field+".from", m["from"], MaxID),
		}
		if tie.From == "" {
			d.addf(field+".from", m["from"].show(), "the id of a landmark")
		}
		if l := d.length(field+".distance", m["distance"]); l != nil {
			tie.Distance = *l
		} else {
			d.once(field+".distance", m["distance"].show(), lengthWanted)
		}
		ties = append(ties, tie)
	}
	return ties
}

// at reads the spot that a tie runs to: the centre where it is not given, and
// of a line one of its ends, which must be said.
func (d *decoder) at(p *asbuilt.Part, field string, v value) asbuilt.Spot {
	spots := p.TieSpots()
	if !given(v) {
		if slices.Contains(spots, asbuilt.Start) {
			d.addf(field, v.show(), "start or end: which end of the %s the tie runs to", p.Kind)
			return ""
		}
		return asbuilt.Center
	}
	return asbuilt.Spot(d.word(field, v, string(asbuilt.Start), string(asbuilt.End), string(asbuilt.Center), string(asbuilt.Corner)))
}

// once adds a problem unless the same member already has one.
func (d *decoder) once(field, found, want string) {
	for _, p := range d.found {
		if p.Place == d.place && p.Field == field {
			return
		}
	}
	d.addf(field, found, "%s", want)
}
