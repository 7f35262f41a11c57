package geojson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// fault is why a file could not be read as JSON at all.
type fault struct{ place, found, want string }

// readText reads a file of JSON text: UTF-8 (RFC 8259, 8.1), a byte order mark
// allowed, not over MaxBytes, not nested over MaxDepth, well formed.
func readText(r io.Reader) ([]byte, *fault) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	switch {
	case err != nil:
		return nil, &fault{"", "an error while reading: " + err.Error(), "a readable file"}
	case len(data) > MaxBytes:
		return nil, &fault{"", fmt.Sprintf("more than %d MB", MaxBytes>>20), "a sketch of one lot, at most 32 MB"}
	}
	if enc := foreign(data); enc != "" {
		return nil, &fault{"", enc, "GeoJSON text in UTF-8: save the file again in that encoding"}
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &fault{"", "an empty file", "a GeoJSON FeatureCollection (RFC 7946)"}
	}
	if i := invalidUTF8(data); i >= 0 {
		return nil, &fault{where(data, i), fmt.Sprintf("byte 0x%02X, which is not UTF-8", data[i]), "text in UTF-8: save the file again in that encoding"}
	}
	if i := tooDeep(data); i >= 0 {
		return nil, &fault{where(data, i), fmt.Sprintf("more than %d arrays and objects within one another", MaxDepth), "a GeoJSON FeatureCollection (RFC 7946)"}
	}
	var whole json.RawMessage
	if err := json.Unmarshal(data, &whole); err != nil {
		return nil, syntax(data, err)
	}
	return data, nil
}

// foreign names what the first bytes show a file to be, if it is not UTF-8
// text: "" where they do not.
func foreign(b []byte) string {
	for _, s := range []struct{ magic, name string }{
		{"\x00\x00\xFE\xFF", "UTF-32 text"},
		{"\xFF\xFE\x00\x00", "UTF-32 text"},
		{"\xFE\xFF", "UTF-16 text"},
		{"\xFF\xFE", "UTF-16 text"},
		{"\x00{", "UTF-16 text"},
		{"{\x00", "UTF-16 text"},
		{"PK\x03\x04", "a ZIP archive"},
		{"\x1F\x8B", "a gzip archive"},
		{"%PDF", "a PDF"},
		{"\xFF\xD8\xFF", "a JPEG picture"},
		{"\x89PNG", "a PNG picture"},
		{"SQLite format 3", "an SQLite file"},
	} {
		if strings.HasPrefix(string(b[:min(len(b), 16)]), s.magic) {
			return s.name
		}
	}
	return ""
}

// syntax words an error of encoding/json.
func syntax(data []byte, err error) *fault {
	var se *json.SyntaxError
	if !errors.As(err, &se) {
		return &fault{"", err.Error(), "JSON text (RFC 8259)"}
	}
	// At the end of the text the scanner is fed a space; inside a string it may
	// complain of that.
	end := strings.Contains(err.Error(), "unexpected end") ||
		strings.Contains(err.Error(), "invalid character ' '") && data[len(data)-1] != ' '
	if se.Offset >= int64(len(data)) && end {
		return &fault{where(data, len(data)), "the end of the file", "the rest of it: the file is cut short"}
	}
	i := int(max(se.Offset-1, 0))
	want := "JSON text (RFC 8259): " + strings.TrimPrefix(err.Error(), "json: ")
	for _, word := range []string{"NaN", "Infinity", "-Infinity", "nan", "inf", "None", "nil"} {
		// The scanner may stop a letter into a word that began well, as nan does for null.
		if bytes.HasPrefix(data[i:], []byte(word)) || i > 0 && bytes.HasPrefix(data[i-1:], []byte(word)) {
			want = "a number or null: JSON has no " + word + " (RFC 8259, 6)"
		}
	}
	return &fault{where(data, i), shorten(quote(around(data, i))), want}
}

// around returns what stands at i, to the end of its line.
func around(data []byte, i int) string {
	if i >= len(data) {
		return ""
	}
	line, _, _ := bytes.Cut(data[i:min(len(data), i+4*shownRunes)], []byte("\n"))
	return strings.ToValidUTF8(string(line), "")
}

// where returns line and column of byte i, both counted from 1, columns in
// runes.
func where(data []byte, i int) string {
	i = min(i, len(data))
	line := 1 + bytes.Count(data[:i], []byte("\n"))
	start := 1 + bytes.LastIndexByte(data[:i], '\n')
	return fmt.Sprintf("line %d, column %d", line, 1+utf8.RuneCount(data[start:i]))
}

// invalidUTF8 returns the place of the first byte that is not UTF-8, −1 if all
// is well.
func invalidUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// tooDeep returns the place where data is first nested deeper than MaxDepth,
// −1 if it never is. It does not mind broken JSON.
func tooDeep(data []byte) int {
	depth, text := 0, false
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case text && c == '\\':
			i++
		case c == '"':
			text = !text
		case text:
		case c == '{' || c == '[':
			if depth++; depth > MaxDepth {
				return i
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	return -1
}
