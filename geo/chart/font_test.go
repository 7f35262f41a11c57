package chart

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// The outside check of widths is golang.org/x/image/font/opentype, which
// shapes text by itself.
func TestTextWidth(t *testing.T) {
	for _, tt := range []struct {
		name   string
		ttf    []byte
		strong bool
	}{{"regular", goregular.TTF, false}, {"bold", gobold.TTF, true}} {
		t.Run(tt.name, func(t *testing.T) {
			f, err := opentype.Parse(tt.ttf)
			require.NoError(t, err)
			face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 2048, DPI: 72})
			require.NoError(t, err)
			for _, s := range []string{"43' 6\"", "Swing ties from A and B", "± 0.12 m, Ж é σ"} {
				want := float64(font.MeasureString(face, s)) / 64 / 2048 * 10 * 25.4 / 72
				assert.InDelta(t, want, TextWidth(s, 10, tt.strong), 1e-6, s)
			}
		})
	}
}

// Every character has the width that golang.org/x/image/font/sfnt reads from the
// same font, and those that it lacks have none.
func TestWidthOfEveryCharacter(t *testing.T) {
	for _, f := range []*face{regular, bold} {
		parsed, err := sfnt.Parse(f.ttf)
		require.NoError(t, err)
		var b sfnt.Buffer
		units := fixed.Int26_6(parsed.UnitsPerEm()) << 6
		had := 0
		for r := rune(0); r <= 0x10FFFF; r++ {
			got, ok := f.advance(r)
			g, err := parsed.GlyphIndex(&b, r)
			require.NoError(t, err)
			require.Equal(t, g != 0, ok, "%U", r)
			if !ok {
				continue
			}
			had++
			a, err := parsed.GlyphAdvance(&b, g, units, font.HintingNone)
			require.NoError(t, err)
			require.Equal(t, float64(a)/float64(units), got, "%U", r)
		}
		assert.Greater(t, had, 600)
		for _, r := range "ñÑáéíóúüÁÉÍÓÚ¿¡½¼¾′″±°·" {
			_, ok := f.advance(r)
			assert.True(t, ok, "%c", r)
		}
	}
}

// The height of a capital is that of the letter H in the fonts.
func TestCapHeight(t *testing.T) {
	for _, f := range []*face{regular, bold} {
		parsed, err := sfnt.Parse(f.ttf)
		require.NoError(t, err)
		var b sfnt.Buffer
		g, err := parsed.GlyphIndex(&b, 'H')
		require.NoError(t, err)
		box, _, err := parsed.GlyphBounds(&b, g, fixed.I(2048), font.HintingNone)
		require.NoError(t, err)
		assert.InDelta(t, capHeight, float64(-box.Min.Y)/64/2048, 0.005)
	}
}

func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"tie\tA":        "tie A",
		"漢字":            "□□",
		"pipe 🚜 here":   "pipe □ here",
		"a\x00b\u200bc": "abc",
		"\xff":          "\uFFFD",
		"½ ± é Ж ≤ …":   "½ ± é Ж ≤ …",
	} {
		assert.Equal(t, want, printable(in, false), "%q", in)
	}
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{""}, Wrap("", 10, 8, false))
	assert.Equal(t, []string{"a", "b"}, Wrap("a\nb", 100, 8, false))
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOf(rapid.StringMatching(`[a-zA-Z0-9'".,±]{1,40}`)).Draw(t, "words"), " ")
		width, size := rapid.Float64Range(8, 120).Draw(t, "width"), rapid.Float64Range(5, 14).Draw(t, "size")
		lines := Wrap(s, width, size, false)
		for _, l := range lines {
			assert.LessOrEqual(t, TextWidth(l, size, false), width+1e-9)
		}
		glue := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		assert.Equal(t, glue(s), glue(strings.Join(lines, "")), "nothing is lost")
	})
}

func TestCut(t *testing.T) {
	s := "a title that is much too long for its place"
	c := Cut(s, 30, 8, true)
	assert.True(t, strings.HasSuffix(c, "…"))
	assert.LessOrEqual(t, TextWidth(c, 8, true), 30.0)
	assert.Equal(t, s, Cut(s, 300, 8, true))
}
