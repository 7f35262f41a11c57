package chart

import (
	"math"

	"asfound/geo"
)

// Scale is how many metres of ground one metre of paper stands for: 240 is
// 1:240.
type Scale int

// Engineer's scales, 1 in = 10, 20, 30, 40, 50, 60 ft and on in tens, from the
// largest that a lot is drawn at; and the scales of ISO 5455 for reduction, 1,
// 2 and 5 times powers of ten, with 1:250 and 1:2500 between them, which site
// plans use as well (common practice, no published source).
var (
	feetScales  = []Scale{120, 240, 360, 480, 600, 720, 1200, 2400, 3600, 4800, 6000, 7200}
	metreScales = []Scale{50, 100, 200, 250, 500, 1000, 2000, 2500, 5000}
)

// FitScale returns the largest standard scale at which w by h metres of ground
// fit room, a width and height in millimetres: an engineer's scale where unit
// is feet, otherwise a metric one. Beyond the usual ones it goes on in powers
// of ten.
func FitScale(w, h float64, room Rect, unit geo.Unit) Scale {
	scales := metreScales
	if unit == geo.Foot || unit == geo.SurveyFoot || unit == geo.Yard || unit == geo.Inch {
		scales = feetScales
	}
	for ten := 1; ten <= 1e6; ten *= 10 {
		for _, s := range scales {
			s *= Scale(ten)
			if s.Paper(w) <= room.W && s.Paper(h) <= room.H {
				return s
			}
		}
	}
	return scales[len(scales)-1] * 1e6
}

// Paper returns the millimetres of paper for metres of ground.
func (s Scale) Paper(metres float64) float64 { return metres * 1000 / float64(max(1, s)) }

// Ground returns the metres of ground for millimetres of paper.
func (s Scale) Ground(mm float64) float64 { return mm * float64(max(1, s)) / 1000 }

// InchIs returns the feet of ground that an inch of paper stands for; ok is false
// where they are no whole number.
func (s Scale) InchIs() (feet int, ok bool) { return int(s / 12), s%12 == 0 }

// step returns the largest of 1, 2 and 5 times a power of ten that is not
// above x, which is positive.
func step(x float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{5, 2} {
		if k*ten <= x*(1+1e-9) {
			return k * ten
		}
	}
	return ten
}
