package geo

// Unit is a unit of length by its written name: ft, m, us-ft, in, cm, mm, yd,
// or px, which stands for a drawing whose scale is unknown.
type Unit string

// The units that a sketch, a job or a reading may name.
const (
	Foot       Unit = "ft"
	Metre      Unit = "m"
	SurveyFoot Unit = "us-ft"
	Inch       Unit = "in"
	Centimetre Unit = "cm"
	Millimetre Unit = "mm"
	Yard       Unit = "yd"
	Pixel      Unit = "px"
)

// Length is a length as it was read: the metres it means, what was written,
// and the unit it was written in. Written is kept because a misread tape can
// only be recognised from the figures on it.
type Length struct {
	Metres  float64
	Written string
	Unit    Unit
}

// Metres returns the metres of one u; ok is false for Pixel and unknown units.
// Sources: the international foot of 0.3048 m (85 FR 62698); the US survey
// foot of 1200/3937 m; the rest by definition.
func (u Unit) Metres() (m float64, ok bool) {
	switch u {
	case Foot:
		return 0.3048, true
	case Metre:
		return 1, true
	case SurveyFoot:
		return 1200.0 / 3937, true
	case Inch:
		return 0.0254, true
	case Centimetre:
		return 0.01, true
	case Millimetre:
		return 0.001, true
	case Yard:
		return 0.9144, true
	}
	return 0, false
}
