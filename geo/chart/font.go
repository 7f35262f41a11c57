package chart

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// missing stands for a character that the fonts do not have.
const missing = '□'

// mmPerPoint is the millimetres of one point.
const mmPerPoint = 25.4 / 72

// capHeight is the height of a capital of the Go fonts over their size: 1480
// of 2048 units in the OS/2 table.
const capHeight = 1480.0 / 2048

// face is a font that text is measured by and set in.
type face struct {
	ttf    []byte
	widths func() map[rune]float64 // of a size of 1
}

func newFace(ttf []byte) *face {
	return &face{ttf, sync.OnceValue(func() map[rune]float64 { return widthsOf(ttf) })}
}

var regular, bold = newFace(goregular.TTF), newFace(gobold.TTF)

func faceOf(strong bool) *face {
	if strong {
		return bold
	}
	return regular
}

// advance returns the width of r at size 1; ok is false where the font does
// not have it.
func (f *face) advance(r rune) (w float64, ok bool) {
	w, ok = f.widths()[r]
	return w, ok
}

// printable returns s with the characters that the fonts lack replaced: every
// kind of space by a space, zero-width marks by nothing, all others by □.
func printable(s string, strong bool) string {
	f := faceOf(strong)
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf, unicode.Cc):
			return -1
		}
		if _, ok := f.advance(r); ok {
			return r
		}
		return missing
	}, s)
}

// TextWidth returns the width of s set on one line in size points, in
// millimetres.
func TextWidth(s string, size float64, strong bool) float64 {
	f, sum := faceOf(strong), 0.0
	for _, r := range printable(s, strong) {
		w, _ := f.advance(r)
		sum += w
	}
	return sum * size * mmPerPoint
}

// Wrap breaks s into lines no wider than width millimetres at size points: at
// existing line ends, else between words, else within a word too long for a
// line. The result has at least one line.
func Wrap(s string, width, size float64, strong bool) []string {
	var lines []string
	for para := range strings.SplitSeq(s, "\n") {
		lines = append(lines, wrapLine(printable(para, strong), width, size, strong)...)
	}
	return lines
}

func wrapLine(s string, width, size float64, strong bool) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(s) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if TextWidth(next, size, strong) <= width {
			line = next
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for TextWidth(word, size, strong) > width {
			head := fitting(word, width, size, strong)
			if head == len(word) {
				break
			}
			lines = append(lines, word[:head])
			word = word[head:]
		}
		line = word
	}
	return append(lines, line)
}

// fitting returns how many bytes of word fit width, one character at least.
func fitting(word string, width, size float64, strong bool) int {
	sum, f := 0.0, faceOf(strong)
	for i, r := range word {
		w, _ := f.advance(r)
		if sum += w * size * mmPerPoint; sum > width && i > 0 {
			return i
		}
	}
	return len(word)
}

// Cut returns s, cut short with … where it is wider than width millimetres at
// size points.
func Cut(s string, width, size float64, strong bool) string {
	s = printable(s, strong)
	if TextWidth(s, size, strong) <= width {
		return s
	}
	n := fitting(s, width-TextWidth("…", size, strong), size, strong)
	return strings.TrimRight(s[:n], " ") + "…"
}
