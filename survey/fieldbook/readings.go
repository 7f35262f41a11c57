package fieldbook

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"asfound/asbuilt"
	"asfound/asbuilt/spelling"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// DecodeReadings reads a log. unit is that of bare numbers in rows that name
// none. The readings that could be read are returned beside the problems of
// those that could not.
func DecodeReadings(r io.Reader, file string, unit geo.Unit) ([]survey.Reading, asbuilt.Problems) {
	var problems asbuilt.Problems
	text, ok := readText(r, file, &problems)
	if !ok {
		return nil, problems
	}
	c := csv.NewReader(strings.NewReader(string(text)))
	c.FieldsPerRecord = -1
	c.ReuseRecord = true
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		problems.Addf(file, "", "", "an empty file", "a header row such as kind,point,from,to,value")
		return nil, problems
	}
	if err != nil {
		addSyntax(&problems, file, err)
		return nil, problems
	}
	d := &log{file: file, unit: unit, problems: &problems, ids: map[string]int{}}
	if !d.header(head) {
		return nil, problems
	}
	for {
		fields, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			addSyntax(&problems, file, err)
			break // what follows a broken quote cannot be told apart
		}
		line, _ := c.FieldPos(0)
		if d.row++; d.row > MaxRows {
			problems.Addf(file, fmt.Sprintf("row %d", line), "", fmt.Sprintf("more than %d rows", MaxRows), "the log of one job")
			break
		}
		if len(problems) > maxProblems {
			problems.Addf(file, "", "", "more problems than are listed", "these to be mended first")
			break
		}
		d.read(fields, line)
	}
	d.unique()
	return d.readings, problems
}

func addSyntax(problems *asbuilt.Problems, file string, err error) {
	var e *csv.ParseError
	if errors.As(err, &e) {
		problems.Addf(file, fmt.Sprintf("line %d, character %d", e.Line, e.Column), "", e.Err.Error(), `fields with commas or quotes in double quotes, inner quotes doubled: "43'6"""`)
		return
	}
	problems.Addf(file, "", "", err.Error(), "comma-separated values (RFC 4180)")
}

// log is one reading of one log.
type log struct {
	file     string
	unit     geo.Unit
	column   map[string]int
	row      int
	problems *asbuilt.Problems
	readings []survey.Reading
	ids      map[string]int // rows of explicit ids

	fields []string // of the row being read
	place  string
	bare   geo.Unit
}

func (d *log) header(head []string) bool {
	d.column = map[string]int{}
	for i, h := range head {
		name := strings.ToLower(strings.TrimSpace(h))
		if name == "" {
			continue
		}
		if first, twice := d.column[name]; twice {
			d.problems.Addf(d.file, "row 1", fmt.Sprintf("columns %d and %d", first+1, i+1), show(h), "each column once")
			continue
		}
		if !slices.Contains(known, name) {
			if n := spelling.Nearest(name, known); n != "" && !slices.Contains(lower(head), n) {
				d.problems.Addf(d.file, "row 1", fmt.Sprintf("column %d", i+1), show(h), "%s, if that was meant", n)
			}
		}
		d.column[name] = i
	}
	if _, ok := d.column["kind"]; !ok {
		d.problems.Addf(d.file, "row 1", "", "no column kind in "+show(strings.Join(head, ",")), "a header row such as kind,point,from,to,value,target,depth")
		return false
	}
	return true
}

func lower(s []string) []string {
	l := make([]string, len(s))
	for i, v := range s {
		l[i] = strings.ToLower(strings.TrimSpace(v))
	}
	return l
}

// get returns the trimmed value of a column of the row being read.
func (d *log) get(column string) string {
	i, ok := d.column[column]
	if !ok || i >= len(d.fields) {
		return ""
	}
	return strings.TrimSpace(d.fields[i])
}

func (d *log) addf(column, found, want string, args ...any) {
	d.problems.Addf(d.file, d.place, column, found, want, args...)
}

// read reads one row.
func (d *log) read(fields []string, line int) {
	d.fields, d.place = fields, fmt.Sprintf("row %d", line)
	if !slices.ContainsFunc(fields, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	before := len(*d.problems)
	for i, f := range fields {
		if len(f) > maxField {
			d.addf(fmt.Sprintf("column %d", i+1), show(f), "at most %d bytes", maxField)
			return
		}
		if strings.ContainsRune(f, 0) {
			d.addf(fmt.Sprintf("column %d", i+1), show(f), "text without zero bytes")
			return
		}
	}
	if n := len(fields) - len(d.column); n > 0 && slices.ContainsFunc(fields[len(fields)-n:], func(s string) bool { return s != "" }) && len(fields) > d.width() {
		d.addf("", fmt.Sprintf("%d fields", len(fields)), "%d, as many as the header has; a comma within a field needs double quotes around it", d.width())
		return
	}
	r := survey.Reading{File: d.file, Row: line, ID: d.get("id"), Kind: survey.Kind(strings.ToLower(d.get("kind"))), By: d.get("by"), Note: d.get("note")}
	spec, ok := kinds[r.Kind]
	if !ok {
		d.addf("kind", show(d.get("kind")), "one of %s", spelling.OneOf(string(r.Kind), kindNames()))
		return
	}
	d.needs(r.Kind, spec)
	d.bare = d.unit
	if u := d.get("unit"); u != "" {
		unit, err := geo.ParseUnit(u)
		if _, ground := unit.Metres(); err != nil || !ground {
			d.addf("unit", show(u), "ft, m, us-ft, in, cm, mm or yd")
		} else {
			d.bare = unit
		}
	}
	d.fill(&r)
	if len(*d.problems) > before {
		return
	}
	if r.ID != "" {
		if first, twice := d.ids[r.ID]; twice {
			d.addf("id", show(r.ID), "an id of its own; row %d has this one", first)
			return
		}
		d.ids[r.ID] = line
	}
	d.readings = append(d.readings, r)
}

// width returns the number of columns of the header, unnamed ones included.
func (d *log) width() (n int) {
	for _, i := range d.column {
		n = max(n, i+1)
	}
	return n
}

func kindNames() []string {
	var names []string
	for k := range kinds {
		names = append(names, string(k))
	}
	slices.Sort(names)
	return names
}

// needs checks that a row has what its kind needs, and nothing of another's.
func (d *log) needs(kind survey.Kind, spec columns) {
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
func (d *log) fill(r *survey.Reading) {
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
	switch r.Kind {
	case survey.Tape, survey.Cable:
		r.Value = d.length("value", 0, 1e4)
		r.Rise = d.length("rise", -1e3, 1e3)
		if r.Value != nil && r.Value.Metres == 0 {
			d.addf("value", show(d.get("value")), "a distance above zero")
		}
		if r.Value != nil && r.Rise != nil && r.Rise.Metres*r.Rise.Metres >= r.Value.Metres*r.Value.Metres {
			d.addf("rise", show(d.get("rise")), "less than the distance taped, %s", show(d.get("value")))
		}
	case survey.Baseline:
		r.Value, r.Offset = d.length("value", -1e4, 1e4), d.length("offset", -1e4, 1e4)
	case survey.Level:
		r.Value = d.length("value", -1e4, 1e4)
	}
	r.Depth = d.length("depth", 0, 30)
	r.Spot = asbuilt.Spot(d.word("spot", "on", "start", "end", "edge", "corner", "center"))
	r.Feature = survey.Feature(d.word("feature", "crown", "top", "invert", "bottom"))
}

// length reads a length between limits in metres; nil where the column is
// empty or cannot be read.
func (d *log) length(column string, least, most float64) *geo.Length {
	s := d.get(column)
	if s == "" {
		return nil
	}
	l, err := geo.ParseLength(s, d.bare)
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
func (d *log) word(column string, words ...string) string {
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
func (d *log) bearing(r *survey.Reading) {
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
func (d *log) fix(r *survey.Reading) {
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

// unique gives ids to the rows without one, out of the way of those with one.
func (d *log) unique() {
	for i := range d.readings {
		r := &d.readings[i]
		if r.ID != "" {
			continue
		}
		id := fmt.Sprintf("r%d", r.Row)
		if _, taken := d.ids[id]; taken {
			d.problems.Addf(d.file, fmt.Sprintf("row %d", d.ids[id]), "id", show(id), "another id: row %d, which has none, is called so", r.Row)
		}
		r.ID = id
	}
}
