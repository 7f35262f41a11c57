package plot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/locate"
)

// contrast is the contrast ratio with white of WCAG 2.2.
func contrast(c chart.Color) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 1.05 / (0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B) + 0.05)
}

// WCAG 2.2: 4.5:1 for text. #767676 on white is 4.54:1 (the value most often
// quoted for the least grey that passes).
func TestContrast(t *testing.T) {
	assert.InDelta(t, 4.54, contrast(chart.RGB(0x767676)), 0.01)
	for name, c := range map[string]chart.Color{"green": green, "blue": blue, "red": red, "orange": orange, "purple": purple, "pink": pink, "old": old, "ink": ink, "wall": wall} {
		assert.GreaterOrEqual(t, contrast(c), 4.5, name)
	}
	assert.GreaterOrEqual(t, contrast(chart.Grey), 7.0)
	assert.Less(t, contrast(yellow), 3.0, "which is why yellow never stands alone")
}

// The words of crews in Spanish are common usage (no published source).
// The uniform colour code of the APWA: red electric, yellow gas and oil,
// orange communication, blue potable water, purple reclaimed water, green sewer.
func TestServices(t *testing.T) {
	for name, want := range map[string]chart.Color{
		"Electric cable to barn": red, "propane": yellow, "telephone": orange, "fibre": orange, "water main": blue,
		"irrigation water": purple, "storm drain": green, "old line": ink,
		"línea de luz": red, "Cable eléctrico": red, "CABLE ELÉCTRICO": red, "cable de ele\u0301ctrico": red, "gas": yellow, "línea de gas": yellow, "cable de teléfono": orange, "fibra óptica": orange,
		"tubería de agua": blue, "agua potable": blue, "agua de riego": purple, "drenaje pluvial": green, "aguas negras": green, "alcantarillado": green, "línea vieja": ink,
	} {
		assert.Equal(t, want, serviceOf(&locate.Outline{Kind: asbuilt.Utility, Name: name}).color, name)
	}
	// No two are told apart by colour alone.
	for i, a := range services {
		for _, b := range services[i+1:] {
			if a.sort == b.sort {
				continue
			}
			assert.NotEqual(t, a.dash, b.dash, "%s, %s", a.sort, b.sort)
			assert.NotEqual(t, a.turn, b.turn, "%s, %s", a.sort, b.sort)
		}
	}
}

// The hull of two circles: area of the tapered strip by hand. Equal radii give
// 2 r d + π r².
func TestTaper(t *testing.T) {
	a, b := geo.Vec{X: 1, Y: 2}, geo.Vec{X: 4, Y: 6} // 5 m apart
	area := func(ring []geo.Vec) float64 { return geo.Region{{Outer: ring}}.Area() }
	assert.InDelta(t, 2*5+math.Pi, area(taper(a, b, 1, 1)), 0.02)
	// Radii 2 and 1: cos φ = 1/5; two right trapezoids of side √(25−1) between
	// radii 2 and 1, and sectors of 2(π−φ) and 2φ.
	phi := math.Acos(0.2)
	assert.InDelta(t, math.Sqrt(24)*3+4*(math.Pi-phi)+phi, area(taper(a, b, 2, 1)), 0.06)
	assert.InDelta(t, 36*math.Pi, area(taper(a, b, 1, 6)), 0.6, "the larger holds the smaller")
	assert.Nil(t, taper(a, b, 0, 0))
	assert.Nil(t, taper(a, b, math.NaN(), 1))
}

// A trench of 2 m about a right angle of 10 m and 10 m: the mitred corner
// leaves 2 × (10 + 10) m².
func TestTrench(t *testing.T) {
	ring := trench([]geo.Vec{{}, {X: 10}, {X: 10, Y: 10}}, 1)
	assert.Len(t, ring, 6)
	assert.InDelta(t, 40, geo.Region{{Outer: ring}}.Area(), 1e-9)
}
