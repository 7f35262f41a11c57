package simulate

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/geo"
	"asfound/survey"
)

// Blundered is a reading with a blunder in it.
type Blundered struct {
	Kind    Blunder
	Reading string  // id
	By      float64 // how far off the reading is: metres, of a bearing degrees
	Clean   *survey.Job
}

// addBlunder makes the blunder of an order in one reading, chosen at random among
// those in which it can happen.
func (s *Site) addBlunder() {
	if s.Order.Blunder == "" {
		return
	}
	clean := *s.Job
	clean.Readings = slices.Clone(s.Job.Readings)
	for _, i := range s.mess.Perm(len(s.Job.Readings)) {
		r := &s.Job.Readings[i]
		by, ok := s.blunder(r)
		if ok {
			s.Blundered = Blundered{s.Order.Blunder, r.ID, by, &clean}
			return
		}
	}
}

// blunder changes a reading and returns by how much; ok is false where the
// blunder of the order cannot happen in it, or changes nothing that is written.
func (s *Site) blunder(r *survey.Reading) (by float64, ok bool) {
	sign := float64(1 - 2*s.mess.IntN(2))
	switch b := s.Order.Blunder; b {
	case Swapped:
		if r.Kind != survey.Baseline {
			return 0, false
		}
		off := r.Offset.Metres
		r.Offset = s.write(-off)
		return 2 * math.Abs(off), true
	case Neighbour:
		if r.Kind != survey.Found || s.Job.Sketch.Part(r.Target) == nil {
			return 0, false
		}
		k, _ := strconv.Atoi(strings.TrimPrefix(r.Target, "L"))
		if k += int(sign); k < 1 || k > len(s.plan.start) {
			k -= 2 * int(sign)
		}
		r.Target = lateral(k - 1)
		return s.plan.start[0].Dist(s.plan.start[1]), true
	case Magnetic:
		if r.Kind != survey.Bearing {
			return 0, false
		}
		r.Azimuth = geo.Degrees(r.Azimuth.Degrees() - Declination).Bearing()
		return Declination, true
	default:
		if r.Kind != survey.Tape {
			return 0, false
		}
		was := r.Value.Metres
		v := s.misread(b, r, sign)
		if v == nil || v.Metres <= 0.3 || v.Metres == was {
			return 0, false
		}
		r.Value = v
		return math.Abs(v.Metres - was), true
	}
}

// misread returns what a blunder makes of a tape; nil where it cannot happen.
func (s *Site) misread(b Blunder, r *survey.Reading, sign float64) *geo.Length {
	switch b {
	case Foot:
		return s.write(r.Value.Metres + sign*0.3048)
	case TenFeet:
		return s.write(r.Value.Metres + sign*3.048)
	case Slope:
		return s.write(r.Value.Metres * math.Hypot(1, between(s.mess, 0.25, 0.45)))
	case Tenths:
		feet, part := whole(r.Value.Written)
		if s.tenths() {
			return s.read(strconv.Itoa(feet) + "' " + part + `"`)
		}
		return s.read(strconv.Itoa(feet) + "." + part)
	case Transposed:
		return s.transposed(r.Value.Written)
	case Corner:
		k := slices.IndexFunc([]string{"A", "B", "C", "D"}, func(m string) bool { return m == r.From })
		if k < 0 || s.Job.Sketch.Part(r.To) != nil {
			return nil
		}
		from := mark((k + 4 + int(sign)) % 4)
		d := s.place(from).Dist(s.place(r.To))
		return s.write(d + math.Hypot(0.03, 0.002*d)*flat(s.mess))
	}
	return nil
}

// whole splits a written length into its feet and the figures after them.
func whole(written string) (feet int, part string) {
	f, rest, _ := strings.Cut(strings.NewReplacer("' ", ".", `"`, "", "'", ".").Replace(written), ".")
	feet, _ = strconv.Atoi(f)
	return feet, rest
}

// transposed returns a written length with two neighbouring figures swapped;
// nil where there is no such length.
func (s *Site) transposed(written string) *geo.Length {
	digits := []byte(written)
	for _, i := range s.mess.Perm(len(digits) - 1) {
		j := i + 1
		if digits[j] == '.' && j+1 < len(digits) {
			j++
		}
		if !digit(digits[i]) || !digit(digits[j]) || digits[i] == digits[j] || i == 0 && digits[j] == '0' {
			continue
		}
		swapped := slices.Clone(digits)
		swapped[i], swapped[j] = digits[j], digits[i]
		if l, err := geo.ParseLength(string(swapped), geo.Foot); err == nil {
			return &l
		}
	}
	return nil
}

func digit(b byte) bool { return b >= '0' && b <= '9' }
