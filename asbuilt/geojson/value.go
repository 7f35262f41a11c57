package geojson

import (
	"bytes"
	"encoding/json"
	"iter"
	"strconv"
	"strings"
	"unicode/utf8"
)

// value is a JSON value as it stands in a file that has been found well
// formed. It is read again each time it is asked, so that nothing but the file
// itself is held in memory.
type value []byte

// member is one member of an object.
type member struct {
	name  string
	value value
}

// kind returns '{' of an object, '[' of an array, '"' of a string, '0' of a
// number, 't', 'f' or 'n' of the words, and 0 where there is no value.
func (v value) kind() byte {
	switch {
	case len(v) == 0:
		return 0
	case v[0] == '-' || v[0] >= '0' && v[0] <= '9':
		return '0'
	}
	return v[0]
}

// members returns the members of an object in the order of the file.
func (v value) members() iter.Seq[member] {
	return func(yield func(member) bool) {
		if v.kind() != '{' {
			return
		}
		for rest := space(v[1:]); len(rest) > 0 && rest[0] != '}'; {
			var name, val value
			name, rest = next(rest)
			val, rest = next(space(rest)[1:])
			if !yield(member{name.text(), val}) {
				return
			}
			rest = space(bytes.TrimPrefix(space(rest), []byte(",")))
		}
	}
}

// items returns the items of an array, counted from 0.
func (v value) items() iter.Seq2[int, value] {
	return func(yield func(int, value) bool) {
		if v.kind() != '[' {
			return
		}
		i := 0
		for rest := space(v[1:]); len(rest) > 0 && rest[0] != ']'; i++ {
			var val value
			val, rest = next(rest)
			if !yield(i, val) {
				return
			}
			rest = space(bytes.TrimPrefix(space(rest), []byte(",")))
		}
	}
}

// text returns what a string says, "" where v is not a string.
func (v value) text() (s string) {
	if v.kind() != '"' {
		return ""
	}
	if bytes.IndexByte(v, '\\') < 0 {
		return string(v[1 : len(v)-1])
	}
	if json.Unmarshal(v, &s) != nil {
		return ""
	}
	return s
}

// number returns a number; ok is false where v is not a number, or too large to
// be held.
func (v value) number() (x float64, ok bool) {
	if v.kind() != '0' {
		return 0, false
	}
	x, err := strconv.ParseFloat(string(v), 64)
	return x, err == nil
}

// show returns the value as a problem shows it.
func (v value) show() string {
	switch v.kind() {
	case 0:
		return "none"
	case '"':
		return quote(v.text())
	}
	var b bytes.Buffer
	if len(v) > 8*shownRunes || json.Compact(&b, v) != nil {
		b.Reset()
		b.Write(bytes.Join(bytes.Fields(v[:min(len(v), 8*shownRunes)]), nil))
	}
	return shorten(b.String())
}

// quote returns s in quotes, shortened, with what cannot be printed escaped.
func quote(s string) string {
	r := []rune(s[:min(len(s), 4*shownRunes+utf8.UTFMax)])
	if len(r) > shownRunes {
		return strconv.Quote(string(r[:shownRunes-1]) + "…")
	}
	return strconv.Quote(s)
}

// shorten cuts s to the runes that a problem shows.
func shorten(s string) string {
	if r := []rune(s[:min(len(s), 8*shownRunes)]); len(r) > shownRunes+2 {
		return strings.ToValidUTF8(string(r[:shownRunes-1]), "") + "…"
	}
	return s
}

// next splits the first value off b.
func next(b []byte) (v value, rest []byte) {
	b = space(b)
	depth, text := 0, false
	for i := 0; i < len(b); i++ {
		switch c := b[i]; {
		case text && c == '\\':
			i++
		case c == '"':
			if text = !text; !text && depth == 0 {
				return value(b[:i+1]), b[i+1:]
			}
		case text:
		case c == '{' || c == '[':
			depth++
		case c == '}' || c == ']':
			if depth == 0 {
				return value(b[:i]), b[i:]
			}
			if depth--; depth == 0 {
				return value(b[:i+1]), b[i+1:]
			}
		case depth == 0 && (c == ',' || c == ':' || c == ' ' || c == '\t' || c == '\n' || c == '\r'):
			return value(b[:i]), b[i:]
		}
	}
	return value(b), nil
}

// space drops white space in front.
func space(b []byte) []byte { return bytes.TrimLeft(b, " \t\r\n") }
