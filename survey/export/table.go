package export

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// table is a table for spreadsheets: RFC 4180, a header row, the unit of a
// column in its name. Cells of what is not known are empty.
type table struct {
	head []string
	rows [][]string
	unit geo.Unit // of the second column that a length gets; Metre: it gets none
	row  map[string]string
}

func newTable(unit geo.Unit) *table {
	if _, ok := unit.Metres(); !ok {
		unit = geo.Metre
	}
	return &table{unit: unit}
}

// text puts a cell of the row being made; the first row makes the header.
func (t *table) text(name, s string) {
	if t.row == nil {
		t.row = map[string]string{}
	}
	if len(t.rows) == 0 {
		if _, ok := t.row[name]; !ok {
			t.head = append(t.head, name)
		}
	}
	t.row[name] = s
}

func (t *table) number(name string, v float64, places int) {
	if !answer.Finite(v) {
		t.text(name, "")
		return
	}
	t.text(name, answer.Fixed(v, places))
}

// length puts a length in metres, and beside it in the crew's unit.
func (t *table) length(name string, m float64) {
	t.number(name+"_m", m, 3)
	if t.unit != geo.Metre {
		per, _ := t.unit.Metres()
		t.number(name+"_"+column(t.unit), m/per, 2)
	}
}

// none puts the empty cells of a length that is not known.
func (t *table) none(name string) {
	t.text(name+"_m", "")
	if t.unit != geo.Metre {
		t.text(name+"_"+column(t.unit), "")
	}
}

func (t *table) place(f survey.Frame, v geo.Vec) {
	t.length("east", v.X)
	t.length("north", v.Y)
	if q, ok := f.LonLat(v); ok && v.Finite() {
		t.number("lon_deg", q.Lon.Degrees(), 9)
		t.number("lat_deg", q.Lat.Degrees(), 9)
	}
	if g := newGrid(f, v); g != nil {
		t.text("x_"+column(f.CRS.Unit), string(g.X))
		t.text("y_"+column(f.CRS.Unit), string(g.Y))
		t.text("crs", g.CRS)
	}
}

// column returns a unit as the name of a column ends in it.
func column(u geo.Unit) string { return strings.ReplaceAll(string(u), "-", "_") }

// end ends the row being made.
func (t *table) end() {
	line := make([]string, len(t.head))
	for i, name := range t.head {
		line[i] = t.row[name]
	}
	t.rows, t.row = append(t.rows, line), nil
}

// write writes the table. empty is the header where it has no row.
func (t *table) write(w io.Writer, empty ...string) error {
	if len(t.rows) == 0 {
		t.head = empty
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	if err := c.Write(t.head); err != nil {
		return err
	}
	return c.WriteAll(t.rows)
}

// SpotsCSV writes the spots of a location as a table, in metres, degrees and
// the job's own unit. The columns that end in _landmarks are relative to the
// landmarks, as a crew with tapes finds a spot; the others are of the position
// in the frame. The error is the writer's.
func SpotsCSV(w io.Writer, l *locate.Location) error {
	t := newTable(l.Job.Settings.Unit)
	for i := range l.Spots {
		s := &l.Spots[i]
		t.text("part", s.Part)
		t.text("kind", string(s.Kind))
		t.text("spot", string(s.Spot))
		t.text("state", string(s.State))
		t.place(l.Frame, s.At)
		t.length("semi_major", s.Ellipse.SemiMajor)
		t.length("semi_minor", s.Ellipse.SemiMinor)
		t.number("bearing_deg", s.Ellipse.Bearing.Degrees(), 2)
		t.length("radius95", s.Radius95)
		t.length("radius95_landmarks", s.Landmarks95)
		if s.Depth != nil {
			t.length("depth", s.Depth.Mean)
			t.length("depth_sigma", s.Depth.Sigma)
			t.text("depth_to", string(s.Depth.Feature))
		} else {
			t.none("depth")
			t.none("depth_sigma")
			t.text("depth_to", "")
		}
		t.length("moved", s.At.Dist(s.Old))
		t.end()
	}
	return t.write(w, "part", "kind", "spot", "state")
}

// HolesCSV writes the holes of a plan as a table, in metres, degrees and the
// job's own unit, with three ties at most. The error is the writer's.
func HolesCSV(w io.Writer, l *locate.Location, p *probe.Plan) error {
	t := newTable(l.Job.Settings.Unit)
	to := reader(l, language.English) // a table is read by programs
	for i := range p.Holes {
		h := &p.Holes[i]
		t.text("rank", strconv.Itoa(h.Rank))
		t.number("chance", h.Chance, 4)
		t.text("seeks", strings.Join(h.Seeks, " "))
		t.place(l.Frame, h.At)
		t.length("depth", h.Depth.Mean)
		t.length("depth_sigma", h.Depth.Sigma)
		t.text("depth_to", string(h.Depth.Feature))
		t.length("stop_depth", h.StopDepth)
		for k := range 3 {
			n := strconv.Itoa(k + 1)
			if k < len(h.Ties) {
				t.text("tie"+n+"_from", h.Ties[k].From)
				t.length("tie"+n+"_distance", h.Ties[k].Distance)
				continue
			}
			t.text("tie"+n+"_from", "")
			t.none("tie" + n + "_distance")
		}
		t.text("side", side(l, to, h))
		t.text("cautions", together(h.Cautions, to))
		t.end()
	}
	return t.write(w, "rank", "chance", "seeks")
}

// ResidualsCSV writes the observed numbers after the fit as a table, each in
// metres or, where unit says deg, in degrees. The error is the writer's.
func ResidualsCSV(w io.Writer, f *fit.Fit) error {
	t := newTable(geo.Metre)
	for i := range f.Residuals {
		r := &f.Residuals[i]
		t.text("reading", r.Reading)
		t.text("what", r.What)
		t.text("unit", string(unitOf(r)))
		t.number("observed", r.Observed, 4)
		t.number("fitted", r.Fitted, 4)
		t.number("residual", r.Observed-r.Fitted, 4)
		t.number("sigma", r.Sigma, 4)
		t.number("w", r.Standardized, 2)
		t.number("redundancy", r.Redundancy, 3)
		t.number("detectable", r.Detectable, 3)
		t.end()
	}
	return t.write(w, "reading", "what", "unit")
}
