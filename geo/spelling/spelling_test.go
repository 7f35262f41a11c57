package spelling

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestEdits holds the distance against published pairs: kitten and sitting,
// Saturday and Sunday (Levenshtein, as in Wagner & Fischer 1974 textbooks, from
// memory), and the pair that tells the restricted distance from the full one:
// CA to ABC is 3, not 2 (Boytsov 2011, from memory).
func TestEdits(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"saturday", "sunday", 3},
		{"ca", "abc", 3},
		{"lenght", "length", 1},
		{"", "abc", 3},
		{"mètre", "metre", 1},
		{"same", "same", 0},
	} {
		assert.Equal(t, tt.want, Edits(tt.a, tt.b), "%s, %s", tt.a, tt.b)
		assert.Equal(t, tt.want, Edits(tt.b, tt.a), "%s, %s", tt.b, tt.a)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"of", "bed", "size", "from", "part", "width", "length", "clearance"}
	for _, tt := range []struct{ name, word, want string }{
		{"swapped letters", "lenght", "length"},
		{"swapped letters of a short word", "form", "from"},
		{"a letter too few", "sze", "size"},
		{"another case", "Width", "width"},
		{"a case is the only edit of the shortest", "Of", "of"},
		{"two edits of a long word", "clerance ", "clearance"},
		{"two edits of a short word", "wdht", ""},
		{"another word of four", "side", ""},
		{"another short word", "red", ""},
		{"the word itself", "length", ""},
		{"nothing", "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, Nearest(tt.word, known)) })
	}
}

func TestOneOf(t *testing.T) {
	assert.Equal(t, "gravel, chamber, pipe (did you mean chamber?)", OneOf("chambre", []string{"gravel", "chamber", "pipe"}))
	assert.Equal(t, "gravel, chamber, pipe", OneOf("sand", []string{"gravel", "chamber", "pipe"}))
}
