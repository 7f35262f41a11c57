package geo_test

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// Metres in these tests follow from the exact inch of 0.0254 m and foot of
// 0.3048 m (85 FR 62698, 2020-10-05) and the survey foot of 1200/3937 m.

func TestParseLength(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64 // metres
		unit geo.Unit
	}{
		{`43'6"`, 522 * 0.0254, geo.Foot},
		{`43' 6 1/2"`, 522.5 * 0.0254, geo.Foot},
		{`43'-6"`, 522 * 0.0254, geo.Foot},
		{`12'-6 1/2"`, 150.5 * 0.0254, geo.Foot},
		{`12' 6-1/2"`, 150.5 * 0.0254, geo.Foot},
		{`43'6`, 522 * 0.0254, geo.Foot},
		{`43’6”`, 522 * 0.0254, geo.Foot},
		{`43′ 6″`, 522 * 0.0254, geo.Foot},
		{`43'6''`, 522 * 0.0254, geo.Foot},
		{`43′6′′`, 522 * 0.0254, geo.Foot},
		{`43'6½"`, 522.5 * 0.0254, geo.Foot},
		{`43 ft 6 in`, 522 * 0.0254, geo.Foot},
		{`43 Ft. 6 In.`, 522 * 0.0254, geo.Foot},
		{`43 feet 6 inches`, 522 * 0.0254, geo.Foot},
		{`43ft6in`, 522 * 0.0254, geo.Foot},
		{`43.5 ft`, 43.5 * 0.3048, geo.Foot},
		{`43.5'`, 43.5 * 0.3048, geo.Foot},
		{`43 1/2'`, 43.5 * 0.3048, geo.Foot},
		{`0'6"`, 6 * 0.0254, geo.Foot},
		{`43'0"`, 43 * 0.3048, geo.Foot},
		{`43' 11 15/16"`, (43*12 + 11 + 15./16) * 0.0254, geo.Foot},
		{`6 in`, 6 * 0.0254, geo.Inch},
		{`18"`, 18 * 0.0254, geo.Inch},
		{`3/4"`, 0.75 * 0.0254, geo.Inch},
		{`13.26 m`, 13.26, geo.Metre},
		{`13.26m`, 13.26, geo.Metre},
		{`1326 cm`, 13.26, geo.Centimetre},
		{`13260 mm`, 13.26, geo.Millimetre},
		{`2.5 yd`, 2.5 * 0.9144, geo.Yard},
		{`3937 us-ft`, 1200, geo.SurveyFoot},
		{`3937 US survey feet`, 1200, geo.SurveyFoot},
		{`43.5`, 43.5 * 0.3048, geo.Foot},
		{`.5`, 0.5 * 0.3048, geo.Foot},
		{`43.`, 43 * 0.3048, geo.Foot},
		{`4.35e1`, 43.5 * 0.3048, geo.Foot},
		{`-3'6"`, -42 * 0.0254, geo.Foot},
		{`−3′6″`, -42 * 0.0254, geo.Foot},
		{`- 0.5 m`, -0.5, geo.Metre},
		{`+2 m`, 2, geo.Metre},
		{"\t 43.5\u00a0ft \n", 43.5 * 0.3048, geo.Foot},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := geo.ParseLength(tt.text, geo.Foot)
			require.NoError(t, err)
			assert.InDelta(t, tt.want, got.Metres, 1e-12)
			assert.Equal(t, tt.unit, got.Unit)
			assert.Equal(t, strings.TrimSpace(tt.text), got.Written)
		})
	}
}

func TestParseLengthTakesBareNumbersInTheUnitGiven(t *testing.T) {
	for unit, want := range map[geo.Unit]float64{
		geo.Foot: 12 * 0.3048, geo.Metre: 12, geo.SurveyFoot: 12 * 1200. / 3937, geo.Inch: 12 * 0.0254,
	} {
		got, err := geo.ParseLength("12", unit)
		require.NoError(t, err)
		assert.InDelta(t, want, got.Metres, 1e-12)
		assert.Equal(t, unit, got.Unit)
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, tt := range []struct{ text, says string }{
		{"", "nothing written"},
		{"  ", "nothing written"},
		{"NaN", "not a finite number"},
		{"Inf ft", "not a finite number"},
		{"-infinity", "not a finite number"},
		{"1e999", "too large"},
		{"1e308 yd 1", ""},
		{"60 fathoms", `no unit "fathoms"`},
		{"60 fot", "did you mean ft?"},
		{"twelve feet", "no figure"},
		{`43'12"`, "12 inches make a foot or more"},
		{`43'14"`, "0 to 11 inches"},
		{`43' 11 8/8"`, "makes one or more"},
		{`43.5'6"`, "part of a foot"},
		{"43 6", `43'6"`},
		{"43-6", `43'6"`},
		{"4 m 20 cm", "one figure and one unit"},
		{"43' 6 m", "only inches may follow"},
		{"1,250 ft", "want 1.250 ft or 1250 ft: a point before the decimals and none between thousands"},
		{"12,345", "want 12.345 or 12345"},
		{"1,234,567 m", "none between thousands"},
		{"1.234,5 m", "a comma in a number"},
		{"1,5,2 m", "a comma in a number"},
		{"pies", "no figure"},
		{"12 pies 3 metros", "only inches may follow"},
		{"43 pies 12 pulgadas", "12 inches make a foot or more"},
		{"43.5 ± 0.5", "its uncertainty"},
		{"1/0", "nothing below the line"},
		{"0x1p4", ""},
		{"1_000", ""},
		{"43''6'", ""},
		{"--4", ""},
		{"4-", ""},
		{"43.5 px", "no length on the ground"},
		{strings.Repeat("9", 400), "too long"},
	} {
		t.Run(tt.text, func(t *testing.T) {
			_, err := geo.ParseLength(tt.text, geo.Foot)
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.says)
			var m *geo.Misread
			require.True(t, errors.As(err, &m))
			assert.NotEmpty(t, m.Wrong)
			assert.NotEmpty(t, m.Want)
		})
	}
	_, err := geo.ParseLength("12", geo.Pixel)
	assert.ErrorContains(t, err, `"px"`)
}

func TestBare(t *testing.T) {
	l, err := geo.Bare(43.5, geo.Foot)
	require.NoError(t, err)
	assert.Equal(t, geo.Length{Metres: 43.5 * 0.3048, Written: "43.5", Unit: geo.Foot}, l)
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := geo.Bare(v, geo.Foot)
		assert.Error(t, err)
	}
	_, err = geo.Bare(1, geo.Pixel)
	assert.Error(t, err)
	_, err = geo.Bare(1, "furlong")
	assert.Error(t, err)
}

func TestParseUnit(t *testing.T) {
	for text, want := range map[string]geo.Unit{
		"ft": geo.Foot, "Feet": geo.Foot, "'": geo.Foot, "′": geo.Foot, "ft.": geo.Foot,
		"M": geo.Metre, "meters": geo.Metre, "us-ft": geo.SurveyFoot, "ftUS": geo.SurveyFoot,
		`"`: geo.Inch, "″": geo.Inch, "cm": geo.Centimetre, "mm": geo.Millimetre, "yards": geo.Yard, " px ": geo.Pixel,
	} {
		got, err := geo.ParseUnit(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, says := range map[string]string{
		"": "want ft, m", "fot": "did you mean ft?", "metrs": "did you mean m?", "us-f": "did you mean us-ft?", "furlong": "want ft, m",
		"km": "want ft, m", strings.Repeat("m", 1000): "want ft, m",
	} {
		_, err := geo.ParseUnit(text)
		assert.ErrorContains(t, err, says, text)
	}
	_, err := geo.ParseUnit("km")
	assert.NotContains(t, err.Error(), "did you mean", "half of a two-letter name is not a misspelling")
}

func TestFormatLength(t *testing.T) {
	for _, tt := range []struct {
		metres float64
		unit   geo.Unit
		want   string
	}{
		{522 * 0.0254, geo.Foot, `43' 6"`},
		{522.5 * 0.0254, geo.Foot, `43' 7"`},
		{522.49 * 0.0254, geo.Foot, `43' 6"`},
		{43*0.3048 + 11.6*0.0254, geo.Foot, `44' 0"`}, // never 43' 12"
		{11.6 * 0.0254, geo.Foot, `1' 0"`},
		{6 * 0.0254, geo.Foot, `6"`},
		{0, geo.Foot, `0"`},
		{-0.001, geo.Foot, `0"`},
		{-42 * 0.0254, geo.Foot, `-3' 6"`},
		{13.26, geo.Metre, "13.26 m"},
		{13.2649, geo.Metre, "13.26 m"},
		{13.265, geo.Metre, "13.27 m"},
		{-0.004, geo.Metre, "0.00 m"},
		{-0.005, geo.Metre, "-0.01 m"},
		{1200, geo.SurveyFoot, "3937.00 us-ft"},
		{13.26, geo.Centimetre, "1326 cm"},
		{13.26, geo.Millimetre, "13260 mm"},
		{0.4572, geo.Inch, "18.0 in"},
		{9.144, geo.Yard, "10.00 yd"},
		{13.26, geo.Pixel, "13.26 m"},
		{math.NaN(), geo.Foot, "?"},
		{math.Inf(-1), geo.Metre, "?"},
		{1e300, geo.Foot, "?"},
	} {
		assert.Equal(t, tt.want, geo.FormatLength(tt.metres, tt.unit), "%v m in %s", tt.metres, tt.unit)
	}
	assert.Equal(t, "43.5 ft", geo.FormatTenths(43.5*0.3048))
	assert.Equal(t, "44.0 ft", geo.FormatTenths(43.96*0.3048))
	assert.Equal(t, "-0.5 ft", geo.FormatTenths(-0.5*0.3048))
}

func TestFormatDepth(t *testing.T) {
	assert.Equal(t, `26"`, geo.FormatDepth(26*0.0254, geo.Foot))
	assert.Equal(t, `47"`, geo.FormatDepth(47.4*0.0254, geo.Foot))
	assert.Equal(t, `4' 0"`, geo.FormatDepth(47.6*0.0254, geo.Foot))
	assert.Equal(t, `5' 0"`, geo.FormatDepth(60*0.0254, geo.Foot))
	assert.Equal(t, `-2"`, geo.FormatDepth(-2*0.0254, geo.Foot))
	assert.Equal(t, "0.66 m", geo.FormatDepth(26*0.0254, geo.Metre))
}

// What is formatted reads back to within half of the last place.
func TestFormatThenParse(t *testing.T) {
	places := map[geo.Unit]float64{ // metres of the last place
		geo.Foot: 0.0254, geo.Metre: 0.01, geo.SurveyFoot: 0.01 * 1200 / 3937, geo.Inch: 0.1 * 0.0254,
		geo.Centimetre: 0.01, geo.Millimetre: 0.001, geo.Yard: 0.01 * 0.9144,
	}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(-5000, 5000).Draw(t, "metres")
		for unit, place := range places {
			for _, text := range []string{geo.FormatLength(m, unit), geo.FormatDepth(m, unit)} {
				got, err := geo.ParseLength(text, geo.Pixel) // every format names its unit
				require.NoError(t, err)
				assert.InDelta(t, m, got.Metres, place/2+1e-9, text)
				assert.NotRegexp(t, `' 1[2-9]"`, text)
			}
		}
		got, err := geo.ParseLength(geo.FormatTenths(m), geo.Pixel)
		require.NoError(t, err)
		assert.InDelta(t, m, got.Metres, 0.05*0.3048+1e-9)
	})
}

// Feet and inches in any dress mean the same length.
func TestParseLengthInAnyDress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet := rapid.IntRange(0, 400).Draw(t, "feet")
		inches := rapid.IntRange(0, 11).Draw(t, "inches")
		n := rapid.IntRange(0, 15).Draw(t, "sixteenths")
		dress := rapid.SampledFrom([]string{`%f'%i %n/16"`, `%f' %i-%n/16"`, `%f ft %i %n/16 in`, ` %f′ - %i %n/16″ `, `%f FEET %i %n/16 INCHES`}).Draw(t, "dress")
		text := strings.NewReplacer("%f", strconv.Itoa(feet), "%i", strconv.Itoa(inches), "%n", strconv.Itoa(n)).Replace(dress)
		got, err := geo.ParseLength(text, geo.Metre)
		require.NoError(t, err)
		assert.InDelta(t, (float64(12*feet+inches)+float64(n)/16)*0.0254, got.Metres, 1e-9, text)
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`43'6"`, `43' 6 1/2"`, "43 ft 6 in", "13.26 m", "-1e5", "½", "1/0", "″", "9'9'9", "6-1/2", "\xff\xfe", "43′6″", "1 us survey foot"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := geo.ParseLength(text, geo.Foot)
		if err != nil {
			if l != (geo.Length{}) {
				t.Fatalf("an error and a length besides: %+v", l)
			}
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		if math.IsNaN(l.Metres) || math.IsInf(l.Metres, 0) {
			t.Fatalf("%q read as %v m", text, l.Metres)
		}
		if _, ok := l.Unit.Metres(); !ok {
			t.Fatalf("%q read in unit %q, which has no metres", text, l.Unit)
		}
		again, err := geo.ParseLength(l.Written, geo.Foot)
		if err != nil || again != l {
			t.Fatalf("%q read as %+v, then as %+v, %v", text, l, again, err)
		}
	})
}

// The table that the page's reader of lengths is held to as well.
func TestSharedLengths(t *testing.T) {
	text, err := os.ReadFile("../testdata/reference/lengths.json")
	require.NoError(t, err)
	var table struct {
		Lengths []struct {
			Text   string
			Bare   geo.Unit
			Metres *float64
		}
	}
	require.NoError(t, json.Unmarshal(text, &table))
	require.Greater(t, len(table.Lengths), 40)
	for _, tt := range table.Lengths {
		got, err := geo.ParseLength(tt.Text, tt.Bare)
		if tt.Metres == nil {
			assert.Error(t, err, "%s: read as %v", tt.Text, got)
			continue
		}
		if assert.NoError(t, err, tt.Text) {
			assert.InDelta(t, *tt.Metres, got.Metres, 1e-9, tt.Text)
			assert.Equal(t, tt.Text, got.Written)
		}
	}
}
