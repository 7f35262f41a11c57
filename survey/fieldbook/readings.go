package fieldbook

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/spelling"
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
	if line, n := Wide(text); n > 0 {
		return nil, append(problems, TooWide(file, line, n))
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
	d := &log{file: file, unit: unit, problems: &problems, ids: map[string]int{}, cells: map[string]string{}}
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
			break // what follows a broken quote cannot be split into rows
		}
		line, _ := c.FieldPos(0)
		if d.row++; d.row > MaxRows {
			d.addf(line, "", fmt.Sprintf("more than %d rows", MaxRows), "the log of one job")
			break
		}
		if len(problems) > maxProblems {
			problems.Addf(file, "", "", "more problems than are listed", "these fixed first")
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
	column   map[string]int // by name
	width    int            // columns of the header, those without a name at its end left out
	row      int
	problems *asbuilt.Problems
	readings []survey.Reading
	ids      map[string]int    // rows of explicit ids
	cells    map[string]string // of the row being read
}

// addf adds a problem of a row.
func (d *log) addf(row int, column, found, want string, args ...any) {
	*d.problems = append(*d.problems, asbuilt.Problem{File: d.file, Row: row, Field: column, Found: found, Want: fmt.Sprintf(want, args...)})
}

func (d *log) header(head []string) bool {
	d.column = map[string]int{}
	names := make([]string, len(head))
	for i, h := range head {
		names[i] = strings.ToLower(strings.TrimSpace(h))
	}
	for i, name := range names {
		if name == "" {
			continue
		}
		if first, twice := d.column[name]; twice {
			d.addf(1, fmt.Sprintf("columns %d and %d", first+1, i+1), show(head[i]), "each column once")
			continue
		}
		if n := Misspelt(name, names); n != "" {
			d.addf(1, fmt.Sprintf("column %d", i+1), show(head[i]), "%s, if that was meant", n)
		}
		d.column[name], d.width = i, i+1
	}
	if _, ok := d.column["kind"]; !ok {
		d.addf(1, "", "no column kind in "+show(strings.Join(head, ",")), "a header row such as kind,point,from,to,value,target,depth")
		return false
	}
	return true
}

// Misspelt returns the column of the log that a name was probably meant to be,
// "" where it is a column itself, is like none, or the column it is like is
// there too. All names are in lower case.
func Misspelt(name string, beside []string) string {
	if slices.Contains(known, name) {
		return ""
	}
	if n := spelling.Nearest(name, known); !slices.Contains(beside, n) {
		return n
	}
	return ""
}

// read reads one row.
func (d *log) read(fields []string, line int) {
	if !slices.ContainsFunc(fields, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	if len(fields) > d.width && slices.ContainsFunc(fields[d.width:], func(s string) bool { return s != "" }) {
		d.addf(line, "", fmt.Sprintf("%d fields", len(fields)), "%d, as many as the header has; a comma within a field needs double quotes around it", d.width)
		return
	}
	clear(d.cells)
	for name, i := range d.column {
		if i < len(fields) {
			d.cells[name] = fields[i]
		}
	}
	r, problems := DecodeRow(d.cells, d.unit)
	r.File, r.Row = d.file, line
	for _, p := range problems {
		p.File, p.Row = d.file, line
		*d.problems = append(*d.problems, p)
	}
	if len(problems) > 0 {
		return
	}
	if r.ID != "" {
		if first, twice := d.ids[r.ID]; twice {
			d.addf(line, "id", show(r.ID), "an id of its own; row %d has this one", first)
			return
		}
		d.ids[r.ID] = line
	}
	d.readings = append(d.readings, r)
}

// unique gives ids to the rows without one, avoiding those already taken.
func (d *log) unique() {
	for i := range d.readings {
		r := &d.readings[i]
		if r.ID != "" {
			continue
		}
		id := fmt.Sprintf("r%d", r.Row)
		if _, taken := d.ids[id]; taken {
			d.addf(d.ids[id], "id", show(id), "another id: row %d, which has none, is called so", r.Row)
		}
		r.ID = id
	}
}
