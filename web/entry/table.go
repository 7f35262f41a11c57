package entry

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"asfound/asbuilt"
	"asfound/survey/fieldbook"
)

// columns are those of readings.csv, in the order in which they are written.
var columns = fieldbook.Columns()

// rowOf returns the row of a reading, without the empty cells.
func rowOf(e Entry) (map[string]string, error) {
	var row map[string]string
	if err := json.Unmarshal(e.Body, &row); err != nil {
		return nil, err
	}
	maps.DeleteFunc(row, func(_, cell string) bool { return cell == "" })
	return row, nil
}

// table writes rows as a log. It has all columns that are read, so that a
// foreign one beside them is not taken for a misspelling of one that is missing.
func table(rows []map[string]string) []byte {
	more := map[string]bool{}
	for _, row := range rows {
		for name := range row {
			if !slices.Contains(columns, name) {
				more[name] = true
			}
		}
	}
	head := append(slices.Clone(columns), slices.Sorted(maps.Keys(more))...)
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(head) // a buffer never fails
	fields := make([]string, len(head))
	for _, row := range rows {
		for i, name := range head {
			fields[i] = row[name]
		}
		_ = w.Write(fields)
	}
	w.Flush()
	return b.Bytes()
}

// line is a row of a log and its line number.
type line struct {
	number int
	cells  map[string]string
}

// rowsOf reads the cells of a log, verbatim, into rows without empty cells.
// Rows without an id get "r" and their line number, as in survey/fieldbook.
func rowsOf(data []byte, file string, problems *asbuilt.Problems) (rows []line) {
	if !utf8.Valid(data) {
		problems.Addf(file, "", "", "bytes that are not UTF-8 (Latin-1 or Windows text?)", "text in UTF-8: save the file again in that encoding")
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	if bytes.IndexByte(data, '\n') < 0 {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	if line, n := fieldbook.Wide(data); n > 0 {
		*problems = append(*problems, fieldbook.TooWide(file, line, n))
		return nil
	}
	c := csv.NewReader(bytes.NewReader(data))
	c.FieldsPerRecord = -1
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil
	}
	names := heading(head)
	for err == nil {
		var fields []string
		if fields, err = c.Read(); err != nil {
			break
		}
		number, _ := c.FieldPos(0)
		row := map[string]string{}
		for i, cell := range fields {
			if strings.TrimSpace(cell) == "" {
				continue
			}
			for len(names) <= i {
				names = append(names, fmt.Sprintf("column %d", len(names)+1))
			}
			if other, twice := row[names[i]]; twice {
				addRow(problems, file, number, names[i], show(other)+" and "+show(cell), "each column once")
			}
			row[names[i]] = lineEnds.Replace(cell)
		}
		if len(row) == 0 {
			continue
		}
		if len(rows) >= MaxRows || len(*problems) > maxListed {
			addRow(problems, file, number, "", "more rows or problems than are listed", "the log of one job")
			return rows
		}
		if row["id"] == "" {
			row["id"] = fmt.Sprintf("r%d", number)
		}
		rows = append(rows, line{number, row})
	}
	if !errors.Is(err, io.EOF) {
		problems.Addf(file, "", "", err.Error(), `fields with commas or quotes in double quotes, inner quotes doubled: "43'6"""`)
	}
	return rows
}

// lineEnds has every line of a cell end in a line feed.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// addRow adds a problem of a row of a file.
func addRow(problems *asbuilt.Problems, file string, row int, column, found, want string, args ...any) {
	*problems = append(*problems, asbuilt.Problem{File: file, Row: row, Field: column, Found: found, Want: fmt.Sprintf(want, args...)})
}

// heading returns the names of the columns: the log's own in lower case, as
// they are read, others as they stand.
func heading(head []string) []string {
	names := make([]string, len(head))
	for i, h := range head {
		names[i] = strings.TrimSpace(h)
		if low := strings.ToLower(names[i]); slices.Contains(columns, low) {
			names[i] = low
		}
		if names[i] == "" {
			names[i] = fmt.Sprintf("column %d", i+1)
		}
	}
	return names
}
