// Package spelling finds the word that was probably meant, for messages.
package spelling

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Nearest returns the known word that s looks like a misspelling of, "" where
// there is none. One edit is allowed in words of four letters or more, two in
// words of seven or more; in words of four a changed letter is not, since short
// words are often alike (side, size).
func Nearest(s string, known []string) string {
	best, least := "", 3
	low := strings.ToLower(strings.TrimSpace(s))
	if utf8.RuneCountInString(low) > longest {
		return ""
	}
	for _, k := range known {
		if s == k {
			continue
		}
		n := utf8.RuneCountInString(k)
		d := Edits(low, strings.ToLower(k))
		ok := d == 0 || d == 1 && n > 4 || d == 2 && n >= 7 ||
			d == 1 && n == 4 && (utf8.RuneCountInString(low) != n || Anagram(low, k))
		if ok && d < least {
			best, least = k, d
		}
	}
	return best
}

// OneOf lists words, and the one that was probably meant.
func OneOf(found string, words []string) string {
	list := strings.Join(words, ", ")
	if n := Nearest(found, words); n != "" {
		return fmt.Sprintf("%s (did you mean %s?)", list, n)
	}
	return list
}

// Anagram reports whether a and b have the same letters, in whatever order.
func Anagram(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for _, r := range a {
		if strings.Count(a, string(r)) != strings.Count(b, string(r)) {
			return false
		}
	}
	return true
}

// Edits counts the letters to put in, leave out, change or swap with their
// neighbour to turn a into b: the restricted Damerau–Levenshtein distance.
func Edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	two, one := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range one {
		one[j] = j
	}
	for i := range x {
		row := make([]int, len(y)+1)
		row[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, one[j+1]+1, one[j]+cost)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				row[j+1] = min(row[j+1], two[j-1]+1)
			}
		}
		two, one = one, row
	}
	return one[len(y)]
}

// longest is the length in letters beyond which a text is no misspelt word.
const longest = 80
