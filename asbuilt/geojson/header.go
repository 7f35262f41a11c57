package geojson

import (
	"errors"
	"io/fs"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/spelling"
)

// header reads the member sketch. It leaves a usable sketch whatever it finds,
// so that the features can be read too.
func (d *decoder) header(v value) {
	s := d.sketch
	s.Plane, s.Unit, s.Ratio, s.Trust, d.bare = asbuilt.Paper, geo.Pixel, 1, asbuilt.Roughly, geo.Pixel
	if v.kind() != '{' {
		d.addf("sketch", v.show(), `an object that says at least the unit: "sketch": {"unit": "ft"}`)
		return
	}
	m := d.object("sketch", v, "plane", "unit", "ratio", "trust", "up", "mirrored", "drawn", "by", "permit", "scan", "note", "known")

	plane := d.word("sketch.plane", m["plane"], string(asbuilt.Paper), string(asbuilt.WGS84))
	if plane != "" {
		s.Plane = asbuilt.Plane(plane)
	}
	unit, unitRead := d.unit(m["unit"])
	if given(m["ratio"]) {
		s.Ratio = d.ratio(m["ratio"])
		switch {
		case s.Plane == asbuilt.WGS84:
			d.addf("sketch.ratio", m["ratio"].show(), "no ratio with plane wgs84")
		case unitRead && unit == geo.Pixel:
			d.addf("sketch.ratio", m["ratio"].show(), "no ratio with unit px: the scale is unknown")
		}
	}
	s.Unit, d.bare = unit, unit
	switch {
	case s.Plane == asbuilt.WGS84:
		s.Unit, s.Ratio = geo.Metre, 1
	case s.Ratio != 1 && (unit == geo.Inch || unit == geo.Centimetre || unit == geo.Millimetre):
		d.bare = geo.Pixel
	}
	if !unitRead {
		d.bare = "" // complained of once, not at every bare number
	}

	if t := d.word("sketch.trust", m["trust"], string(asbuilt.ToScale), string(asbuilt.Roughly), string(asbuilt.NotToScale)); t != "" {
		s.Trust = asbuilt.Trust(t)
	}
	s.MirrorUnknown = d.word("sketch.mirrored", m["mirrored"], "no", "unknown") == "unknown"
	s.Up = d.up(m["up"])
	s.Drawn = d.text("sketch.drawn", m["drawn"], MaxText)
	s.By = d.text("sketch.by", m["by"], MaxText)
	s.Permit = d.text("sketch.permit", m["permit"], MaxText)
	s.Note = d.text("sketch.note", m["note"], MaxNote)
	s.Known = d.known(m["known"])
	s.Scan = d.text("sketch.scan", m["scan"], MaxText)
	if s.Scan != "" && (!fs.ValidPath(s.Scan) || s.Scan == "." || strings.ContainsAny(s.Scan, `\:`)) {
		d.addf("sketch.scan", m["scan"].show(), "the name of a file in the job's folder, such as scan.jpg")
	}
}

// unit reads sketch.unit; ok is false where it could not be read.
func (d *decoder) unit(v value) (u geo.Unit, ok bool) {
	const want = "ft, m, us-ft, in, cm, mm or yd, or px where the scale is unknown"
	switch {
	case !given(v) && d.sketch.Plane == asbuilt.WGS84:
		return geo.Metre, true
	case !given(v):
		d.addf("sketch.unit", v.show(), "the unit of one drawing coordinate: %s", want)
		return geo.Pixel, false
	}
	u, err := geo.ParseUnit(v.text())
	var m *geo.Misread
	switch {
	case err == nil && v.kind() == '"':
		return u, true
	case v.kind() == '"' && errors.As(err, &m):
		d.addf("sketch.unit", v.show(), "%s", m.Want)
	default:
		d.addf("sketch.unit", v.show(), "%s", want)
	}
	return geo.Pixel, false
}

// ratio reads sketch.ratio: 240, "240" or "1:240". It is 1 where it cannot be read.
func (d *decoder) ratio(v value) float64 {
	x, ok := v.number()
	if v.kind() == '"' {
		one, many, colon := strings.Cut(v.text(), ":")
		if !colon {
			one, many = "1", one
		}
		a, err := strconv.ParseFloat(strings.TrimSpace(one), 64)
		b, err2 := strconv.ParseFloat(strings.TrimSpace(many), 64)
		x, ok = b/a, err == nil && err2 == nil
	}
	if !ok || !(x >= 1 && x <= 1e5) {
		d.addf("sketch.ratio", v.show(), "ground length over paper length, 1 to 100000: 240 for a sheet at 1 in = 20 ft")
		return 1
	}
	return x
}

// up reads sketch.up.
func (d *decoder) up(v value) *asbuilt.Up {
	if !given(v) {
		return nil
	}
	if v.kind() != '{' {
		d.addf("sketch.up", v.show(), `an object {"bearing": degrees, "sigma": degrees}`)
		return nil
	}
	m := d.object("sketch.up", v, "bearing", "sigma")
	bearing, ok := m["bearing"].number()
	if !ok || math.Abs(bearing) > 360 {
		d.addf("sketch.up.bearing", m["bearing"].show(), "the true bearing of the drawing's up, degrees clockwise from north, 0 to 360")
	}
	sigma, ok := defaultUpDeg, true
	if given(m["sigma"]) {
		sigma, ok = m["sigma"].number()
	}
	if !ok || !(sigma > 0 && sigma <= 180) {
		d.addf("sketch.up.sigma", m["sigma"].show(), "a standard deviation in degrees, above 0 to 180")
	}
	return &asbuilt.Up{Bearing: geo.Degrees(bearing).Bearing(), Sigma: geo.Degrees(sigma)}
}

// word reads one of a few words, "" where there is none of them.
func (d *decoder) word(field string, v value, words ...string) string {
	if !given(v) {
		return ""
	}
	t := v.text()
	for _, w := range words {
		if t == w {
			return w
		}
	}
	d.addf(field, v.show(), "%s", spelling.OneOf(t, words))
	return ""
}

// text reads text, or a number as the text of its digits.
func (d *decoder) text(field string, v value, limit int) string {
	t := v.text()
	switch v.kind() {
	case 0, 'n':
		return ""
	case '0':
		t = string(v)
	case '"':
	default:
		d.addf(field, v.show(), "text")
		return ""
	}
	if utf8.RuneCountInString(t) > limit {
		d.addf(field, v.show(), "at most %d characters", limit)
		return ""
	}
	// A note may have lines; a name or an id goes into tables and file names.
	for _, r := range t {
		if r < ' ' && !(limit == MaxNote && (r == '\n' || r == '\t' || r == '\r')) || r == 0x7F {
			d.addf(field, v.show(), "text without control characters")
			return ""
		}
	}
	return t
}
