package fieldbook

import (
	"errors"
	"math"
	"slices"
	"strings"
	"time"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/geo/spelling"
	"asfound/survey"
	"asfound/survey/observe"
)

// DecodeRow reads one row of a log, its cells by the names of their columns.
// Unknown columns are ignored. unit is that of bare
// numbers in a row that names none. The reading has neither file nor row, and no
// id where the row has none; use it only where there is no problem. The problems
// name the column alone.
func DecodeRow(cells map[string]string, unit geo.Unit) (survey.Reading, asbuilt.Problems) {
	d := &row{cells: cells, unit: unit}
	for _, c := range known {
		if len(cells[c]) > maxField {
			d.addf(c, show(cells[c]), "at most %d bytes", maxField)
		}
		if strings.ContainsRune(cells[c], 0) {
			d.addf(c, show(cells[c]), "text without zero bytes")
		}
	}
	if len(d.problems) > 0 {
		return survey.Reading{}, d.problems
	}
	r := survey.Reading{ID: d.get("id"), Kind: survey.Kind(strings.ToLower(d.get("kind"))), By: d.get("by"), Note: d.get("note")}
	spec, ok := kinds[r.Kind]
	if !ok {
		d.addf("kind", show(d.get("kind")), "one of %s", spelling.OneOf(string(r.Kind), kindNames()))
		return r, d.problems
	}
	d.needs(r.Kind, spec)
	if u := d.get("unit"); u != "" {
		unit, err := geo.ParseUnit(u)
		if _, ground := unit.Metres(); err != nil || !ground {
			d.addf("unit", show(u), "ft, m, us-ft, in, cm, mm or yd")
		} else {
			d.unit = unit
		}
	}
	d.fill(&r)
	return r, d.problems
}

// row is one row of a log that is being read.
type row struct {
	cells    map[string]string
	unit     geo.Unit // of bare numbers
	problems asbuilt.Problems
}

// get returns the trimmed value of a column.
func (d *row) get(column string) string { return strings.TrimSpace(d.cells[column]) }

func (d *row) addf(column, found, want string, args ...any) {
	d.problems.Addf("", "", column, found, want, args...)
}

func kindNames() []string {
	var names []string
	for k := range kinds {
		names = append(names, string(k))
	}
	slices.Sort(names)
	return names
}

// stops are the words of the column stopped.
func stops() (words []string) {
	for _, s := range survey.Stops {
		words = append(words, string(s))
	}
	return words
}

// needs checks that a row has what its kind needs, and no column of another
// kind.
func (d *row) needs(kind survey.Kind, spec columns) {
	for _, c := range spec.must {
		if d.get(c) == "" {
			d.addf(c, "nothing", "a value: %s needs %s", kind, strings.Join(spec.must, ", "))
		}
	}
	for _, c := range known {
		if d.get(c) != "" && !slices.Contains(spec.must, c) && !slices.Contains(spec.may, c) && !slices.Contains(common, c) {
			d.addf(c, show(d.get(c)), "nothing here: %s uses %s", kind, strings.Join(append(slices.Clone(spec.must), spec.may...), ", "))
		}
	}
}

// fill reads the values of a row into r.
func (d *row) fill(r *survey.Reading) {
	r.Point, r.From, r.To, r.Target = d.get("point"), d.get("from"), d.get("to"), d.get("target")
	if r.From != "" && r.From == r.To {
		d.addf("to", show(r.To), "another point than from")
	}
	if s := d.get("time"); s != "" {
		t, err := time.Parse(time.RFC3339, s)
		if err != nil {
			d.addf("time", show(s), "an RFC 3339 time such as 2026-05-04T09:30:00Z")
		}
		r.Time = t
	}
	r.Radius = d.length("radius", 0, 5)
	switch r.Kind {
	case survey.Bearing:
		d.bearing(r)
	case survey.GNSS:
		d.fix(r)
		r.Sigma = d.length("sigma", 0, 1e4)
	default:
		r.Sigma = d.length("sigma", 0, 1e4)
	}
	switch k := observe.KindNamed(r.Kind); k.Value {
	case observe.Distance:
		r.Value = d.length("value", 0, 1e4)
		r.Rise = d.length("rise", -1e3, 1e3)
		if r.Value != nil && r.Value.Metres == 0 {
			d.addf("value", show(d.get("value")), "a distance above zero")
		}
		if r.Value != nil && r.Rise != nil && r.Rise.Metres*r.Rise.Metres >= r.Value.Metres*r.Value.Metres {
			d.addf("rise", show(d.get("rise")), "less than the distance taped, %s", show(d.get("value")))
		}
	case observe.Signed:
		r.Value = d.length("value", -1e4, 1e4)
		if slices.Contains(k.Must, "offset") {
			r.Offset = d.length("offset", -1e4, 1e4)
		}
	case observe.Count:
		d.stabs(r)
	}
	r.Depth = d.length("depth", 0, 30)
	r.Spot = asbuilt.Spot(d.word("spot", "on", "start", "end", "edge", "corner", "center"))
	r.Feature = survey.Feature(d.word("feature", "crown", "top", "invert", "bottom"))
	r.Stopped = survey.Stop(d.word("stopped", stops()...))
	d.runs(r)
}

// runs reads the direction in which a line runs: degrees, or a time on the face
// of a clock whose 12 is where the observer faces.
func (d *row) runs(r *survey.Reading) {
	s := d.get("runs")
	r.Facing, r.Flow = d.get("facing"), survey.Flow(d.word("flow", string(survey.FlowAlong), string(survey.FlowAgainst)))
	if s == "" {
		for _, c := range []string{"facing", "flow"} {
			if d.get(c) != "" {
				d.addf(c, show(d.get(c)), "the direction in the column runs beside it, such as 3:00 or 90")
			}
		}
		return
	}
	if r.Facing == "" {
		d.addf("facing", "nothing", "the landmark, hole or stake that runs is counted from, or true or magnetic")
	}
	if n := survey.North(strings.ToLower(r.Facing)); n == survey.TrueNorth || n == survey.MagneticNorth {
		r.Facing = string(n)
	}
	if a, ok := clockwise(s); ok {
		r.Runs = &a
		return
	}
	d.addf("runs", show(s), "degrees clockwise, 0 to 360, or a time on a clock face such as 2:30")
}

// clockwise reads degrees, or the hour hand of a clock.
func clockwise(s string) (a geo.Angle, ok bool) {
	hour, minute, clock := strings.Cut(s, ":")
	if clock {
		h, okH := number(hour)
		m, okM := number(minute)
		if !okH || !okM || h < 0 || h > 12 || h != math.Trunc(h) || m < 0 || m >= 60 {
			return a, false
		}
		return geo.Degrees(math.Mod(h*30+m/2, 360)), true
	}
	v, ok := number(strings.TrimRight(s, "° "))
	return geo.Degrees(v), ok && v >= 0 && v <= 360
}

// length reads a length between limits in metres; nil where the column is
// empty or cannot be read.
func (d *row) length(column string, least, most float64) *geo.Length {
	s := d.get(column)
	if s == "" {
		return nil
	}
	l, err := geo.ParseLength(s, d.unit)
	var m *geo.Misread
	switch {
	case errors.As(err, &m):
		d.addf(column, show(s)+": "+m.Wrong, "%s", m.Want)
	case err != nil:
		d.addf(column, show(s), "a length such as 43'6\" or 13.26 m")
	case l.Metres < least || l.Metres > most:
		d.addf(column, show(s), "a length between %g m and %g m", least, most)
	default:
		return &l
	}
	return nil
}

// word reads one of a few words, in any case; centre is center.
func (d *row) word(column string, words ...string) string {
	s := strings.ToLower(d.get(column))
	if s == "centre" {
		s = "center"
	}
	if s != "" && !slices.Contains(words, s) {
		d.addf(column, show(d.get(column)), "one of %s", spelling.OneOf(s, words))
	}
	return s
}

// bearing reads degrees clockwise from a north.
func (d *row) bearing(r *survey.Reading) {
	if s := d.get("value"); s != "" {
		v, ok := number(strings.TrimRight(s, "° "))
		if !ok || v < 0 || v > 360 {
			d.addf("value", show(s), "degrees clockwise from north, 0 to 360")
		}
		r.Azimuth = geo.Degrees(v)
	}
	r.North = survey.North(d.word("north", "true", "magnetic"))
	if s := d.get("sigma"); s != "" {
		v, ok := number(strings.TrimRight(s, "° "))
		if !ok || v <= 0 || v > 180 {
			d.addf("sigma", show(s), "degrees above 0: the standard deviation of a bearing")
		}
		a := geo.Degrees(v)
		r.SigmaA = &a
	}
}

// fix reads a satellite fix.
func (d *row) fix(r *survey.Reading) {
	lon, lat := d.get("lon"), d.get("lat")
	if lon == "" || lat == "" {
		return
	}
	x, okX := number(lon)
	y, okY := number(lat)
	if !okX {
		d.addf("lon", show(lon), "decimal degrees, west negative: -79.9412345")
	}
	if !okY {
		d.addf("lat", show(lat), "decimal degrees, south negative: 37.2712345")
	}
	if okX && okY {
		p, err := geodesy.New(x, y)
		if err != nil {
			d.addf("lon, lat", show(lon+", "+lat), "%s", err)
		}
		r.Position = p
	}
	if s := d.get("accuracy"); s != "" {
		v, ok := number(strings.TrimSuffix(strings.TrimSpace(s), "m"))
		if !ok || v <= 0 || v > 1e5 {
			d.addf("accuracy", show(s), "metres above 0: the radius that holds the true position 95 %% of the time")
		}
		r.Accuracy = v
	}
}
