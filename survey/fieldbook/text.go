package fieldbook

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"asfound/asbuilt"
)

// MaxBytes is the largest file read, MaxRows the most rows of a log, MaxColumns
// the most columns of a row.
const (
	MaxBytes   = 32 << 20
	MaxRows    = 100_000
	MaxColumns = 100

	maxDepth      = 64   // XML elements within one another
	maxAttributes = 1000 // of one XML element, roughly

	maxField    = 4096
	maxProblems = 200
)

// readText returns the text of a file: UTF-8, a byte order mark allowed, not
// over MaxBytes.
func readText(r io.Reader, file string, problems *asbuilt.Problems) (text []byte, ok bool) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	found, want := "", ""
	switch {
	case err != nil:
		found, want = "an error while reading: "+err.Error(), "a readable file"
	case len(data) > MaxBytes:
		found, want = fmt.Sprintf("more than %d MB", MaxBytes>>20), "the log of one job"
	case bytes.HasPrefix(data, []byte("\xFF\xFE")) || bytes.HasPrefix(data, []byte("\xFE\xFF")) || bytes.IndexByte(data[:min(len(data), 64)], 0) >= 0:
		found, want = "UTF-16 text or a binary file", "text in UTF-8: save the file again in that encoding"
	case !utf8.Valid(data):
		line := 1 + bytes.Count(data[:invalid(data)], []byte("\n"))
		problems.Addf(file, fmt.Sprintf("line %d", line), "", "bytes that are not UTF-8 (Latin-1 or Windows text?)", "text in UTF-8: save the file again in that encoding")
		return nil, false
	default:
		data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
		if bytes.IndexByte(data, '\n') < 0 { // lines may end in CR alone, which would otherwise read as one line
			data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
		}
		return data, true
	}
	problems.Addf(file, "", "", found, "%s", want)
	return nil, false
}

// invalid returns the offset of the first byte that is not UTF-8.
func invalid(b []byte) int {
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return len(b)
}

// show returns a value as a message has it: quoted, and not too long.
func show(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return strconv.Quote(s)
}

// number reads a finite decimal number.
func number(s string) (v float64, ok bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	return v, err == nil && v-v == 0
}

// Wide returns the line and the number of columns of the first row of a table
// that has more than MaxColumns, 0 where none has. It counts before the table is
// split into cells: a row of many commas would take many times its own size.
func Wide(table []byte) (line, n int) {
	quoted := false
	row, commas := 1, 0 // of the row being counted
	line = 1
	for _, b := range table {
		switch {
		case b == '"':
			quoted = !quoted // a doubled quote does so twice
		case b == '\n':
			line++
			if !quoted {
				if commas >= MaxColumns {
					return row, commas + 1
				}
				row, commas = line, 0
			}
		case b == ',' && !quoted:
			commas++
		}
	}
	if commas >= MaxColumns {
		return row, commas + 1
	}
	return 0, 0
}

// TooWide says that a row of a table has too many columns.
func TooWide(file string, line, n int) asbuilt.Problem {
	return asbuilt.Problem{File: file, Row: line, Found: fmt.Sprintf("%d columns", n), Want: fmt.Sprintf("at most %d: the log of one job", MaxColumns)}
}
