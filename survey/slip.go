package survey

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
)

// slip is one mistake that a reading may hold.
type slip struct {
	reading string // id of the reading, or of what is written on the sheet
	odds    float64
	cause   finding.Finding // what is said of it; without a code: the error has no cause that is known
	instead string          // what would have been right, as a row would have it; empty: not known
	out     bool            // an error of any size: the reading is left out
	volume  float64         // logarithm of what such an error is spread over
	met     string          // a hole met this part instead
	change  func(o *observation)
}

// The odds of slips before any evidence, by what a crew may do wrong once in
// so many readings. Judgement, checked by simulation; no published source.
const (
	oddsOne       = 0.008 // a foot or a metre cut off or added, each way
	oddsTen       = 0.003
	oddsTapes     = 0.001 // a whole tape length
	oddsTenths    = 0.008 // inches written as tenths, or tenths as inches
	oddsDigits    = 0.004 // neighbouring digits changed over, all pairs of a number together
	oddsUnit      = 0.001 // metres for feet
	oddsCorner    = 0.010 // from another landmark than it says, all together
	oddsSlope     = 0.008 // a slope distance taken for a level one
	oddsSides     = 0.010 // left for right
	oddsBackwards = 0.006 // a line or a bearing from its other end
	oddsNorth     = 0.010 // magnetic for true, or the declination applied twice
	oddsTrench    = 0.030 // the neighbouring trench, all together
	oddsGross     = 0.004 // an error of any size
)

// grossLength is the range in metres in which an error of any size is taken to
// be uniform: as wide as what is known of a hole before any reading, so that
// nothing is held against the one reading that places a hole. A bearing's is
// the full circle.
var grossLength = pointSigma * math.Sqrt(2*math.Pi)

const foot = 0.3048

// shift is a slip that adds a fixed amount to what should have been read.
type shift struct {
	metres, odds float64
	cause        finding.Finding
}

var (
	feetShifts = []shift{
		{+foot, oddsOne, finding.FootLong.New()},
		{-foot, oddsOne, finding.FootShort.New()},
		{+10 * foot, oddsTen, finding.TenLong.New(finding.Word("amount", "10 ft"))},
		{-10 * foot, oddsTen, finding.TenShort.New(finding.Word("amount", "10 ft"))},
		{-50 * foot, oddsTapes, finding.TapeShort.New(finding.Word("amount", "50 ft"))},
		{-100 * foot, oddsTapes, finding.TapeShort.New(finding.Word("amount", "100 ft"))},
	}
	metreShifts = []shift{
		{+1, oddsOne, finding.MetreLong.New()},
		{-1, oddsOne, finding.MetreShort.New()},
		{+10, oddsTen, finding.TenLong.New(finding.Word("amount", "10 m"))},
		{-10, oddsTen, finding.TenShort.New(finding.Word("amount", "10 m"))},
		{-30, oddsTapes, finding.TapeShort.New(finding.Word("amount", "30 m"))},
	}
)

// slips lists what may be wrong with one reading, group being all that it
// became.
func (b *book) slips(d *drawing, e explanation, group []observation) (all []*slip) {
	o := &group[0]
	id := o.id
	add := func(s *slip) { s.reading = id; all = append(all, s) }
	switch o.kind {
	case distance, tied, length, within:
		for _, s := range lengthSlips(o.read, b.job.Settings.Unit) {
			add(s)
		}
		if o.kind == distance || o.kind == tied {
			b.cornerSlips(d, o, add)
		}
		if o.kind == distance && o.reading >= 0 && o.value2 == 0 {
			b.slopeSlip(o, add)
		}
	case stationOf:
		for _, s := range lengthSlips(o.read, b.job.Settings.Unit) {
			change := s.change
			s.change = only(stationOf, change)
			add(s)
		}
		if len(group) > 1 {
			for _, s := range lengthSlips(group[1].read, b.job.Settings.Unit) {
				s.odds /= 2
				s.cause, s.change = finding.OfOffset.New(finding.About(s.cause)), only(offsetOf, s.change)
				add(s)
			}
			off := group[1].value
			add(&slip{odds: oddsSides, cause: finding.LeftForRight.New(),
				instead: "offset " + signed(-off, group[1].read.Unit), change: only(offsetOf, func(o *observation) { o.value = -o.value })})
		}
		r := &b.readings[o.reading]
		add(&slip{odds: oddsBackwards, cause: finding.Backwards.New(finding.Word("from", r.To), finding.Word("instead", r.From)),
			instead: "from " + r.To + " to " + r.From, change: func(o *observation) {
				o.p, o.q = o.q, o.p
				if o.kind == offsetOf { // what was right of the one way is left of the other
					o.value = -o.value
				}
			}})
	case direction:
		b.bearingSlips(o, add)
	case coincide, onLine, besideLine, onEdge, onCorner:
		b.trenchSlips(o, e, add)
	}
	var cause finding.Finding
	odds := oddsGross
	switch o.kind {
	case position:
		cause, odds = finding.StrayFix.New(), 2*oddsGross
	case coincide, onLine, besideLine, onEdge, onCorner:
		cause = finding.MetOtherThing.New()
	}
	volume := 0.0
	for i := range group {
		volume += group[i].logRange()
	}
	return append(all, &slip{reading: id, odds: odds, cause: cause, out: true, volume: volume})
}

// logRange returns the logarithm of the range, of all its rows together, that
// an error of any size is spread over.
func (o *observation) logRange() float64 {
	switch o.kind {
	case position, coincide, onCorner:
		return 2 * math.Log(grossLength)
	case direction:
		return math.Log(2 * math.Pi)
	}
	return math.Log(grossLength)
}

// only applies a change to the observations of one kind.
func only(k equationKind, change func(*observation)) func(*observation) {
	return func(o *observation) {
		if o.kind == k {
			change(o)
		}
	}
}

// lengthSlips lists what may be wrong with the figures of a length.
func lengthSlips(l geo.Length, usual geo.Unit) (all []*slip) {
	to := func(metres, odds float64, cause finding.Finding, instead string) {
		if metres <= 0 || math.Abs(metres-l.Metres) < 0.02 {
			return
		}
		moved := metres - math.Abs(l.Metres)
		all = append(all, &slip{odds: odds, cause: cause, instead: instead,
			change: func(o *observation) { o.value = math.Copysign(math.Abs(o.value)+moved, o.value) }})
	}
	unit := l.Unit
	if unit == "" {
		unit = usual
	}
	size := math.Abs(l.Metres)
	shifts := feetShifts
	if unit == geo.Metre || unit == geo.Centimetre || unit == geo.Millimetre {
		shifts = metreShifts
	}
	for _, s := range shifts {
		to(size-s.metres, s.odds, s.cause, geo.FormatLength(size-s.metres, unit))
	}
	for _, w := range misread(l.Written, unit) {
		to(math.Abs(w.Metres), oddsTenths, finding.InchesTenths.New(finding.Word("amount", w.Written)), w.Written)
	}
	changed := transposed(l.Written, unit)
	for _, w := range changed {
		to(math.Abs(w.Metres), oddsDigits/float64(len(changed)), finding.DigitsChanged.New(finding.Word("amount", w.Written)), w.Written)
	}
	if unit == geo.Foot || unit == geo.SurveyFoot {
		to(size/foot, oddsUnit, finding.InMetres.New(), fmt.Sprintf("%.2f m", size/foot))
	}
	if unit == geo.Metre {
		to(size*foot, oddsUnit, finding.InFeet.New(), fmt.Sprintf("%.2f ft", size))
	}
	return all
}

var (
	feetInches = regexp.MustCompile(`^(\d+) *(?:'|ft|feet)[ -]*(\d+) *(?:"|in|inches)?$`)
	feetTenths = regexp.MustCompile(`^(\d+)\.(\d{1,2}) *(?:'|ft|feet)?$`)
)

// misread returns what a length in feet would be if its inches had been
// written as tenths (12'6" as 12.6), or its tenths as inches.
func misread(written string, unit geo.Unit) (all []geo.Length) {
	if unit != geo.Foot {
		return nil
	}
	text := ""
	if m := feetTenths.FindStringSubmatch(written); m != nil {
		if in, err := strconv.Atoi(m[2]); err == nil && in < 12 {
			text = fmt.Sprintf(`%s' %d"`, m[1], in)
		}
	}
	if m := feetInches.FindStringSubmatch(written); m != nil && len(m[2]) == 1 {
		text = m[1] + "." + m[2] + " ft"
	}
	if l, err := geo.ParseLength(text, unit); text != "" && err == nil {
		all = append(all, l)
	}
	return all
}

// transposed returns the lengths that come of changing two neighbouring digits
// of a written one over.
func transposed(written string, unit geo.Unit) (all []geo.Length) {
	digit := func(c byte) bool { return c >= '0' && c <= '9' }
	last := -1
	for i := range len(written) {
		if !digit(written[i]) {
			// The point between feet and tenths does not keep digits apart, a
			// mark between feet and inches does.
			if written[i] != '.' {
				last = -1
			}
			continue
		}
		if last >= 0 && written[i] != written[last] {
			w := []byte(written)
			w[i], w[last] = w[last], w[i]
			if l, err := geo.ParseLength(string(w), unit); err == nil {
				all = append(all, l)
			}
		}
		last = i
	}
	return all
}

// cornerSlips lists the other landmarks that a tie may have been taken from.
func (b *book) cornerSlips(d *drawing, o *observation, add func(*slip)) {
	if len(d.marks) < 2 {
		return
	}
	for _, side := range []bool{false, true} {
		end, far := o.p, o.q
		if side {
			end, far = o.q, o.p
		}
		if end < 0 || !slices.Contains(d.marks, int(end)) {
			continue
		}
		for _, m := range d.marks {
			if place(m) == end || place(m) == far {
				continue
			}
			other := place(m)
			add(&slip{odds: oddsCorner / float64(len(d.marks)-1), cause: finding.OtherCorner.New(finding.Parts(d.markName(m), d.markName(int(end)))),
				instead: "from " + d.markName(m), change: func(o *observation) {
					if o.p == end {
						o.p = other
					} else {
						o.q = other
					}
				}})
		}
	}
}

// markName returns the id of the landmark of node m.
func (d *drawing) markName(m int) string {
	for i := range d.sketch.Parts {
		p := &d.sketch.Parts[i]
		if k, ok := d.spots[SpotName{p.ID, asbuilt.Center}]; ok && k == m && p.Kind == asbuilt.Landmark {
			return p.ID
		}
	}
	return ""
}

// slopeSlip adds that a tape was laid along the slope: by the heights of its
// ends where the log has them, else by a slope that nobody noted.
func (b *book) slopeSlip(o *observation, add func(*slip)) {
	r := &b.readings[o.reading]
	from, ok := b.height(r.From)
	to, ok2 := b.height(r.To)
	level := 0.0
	if ok && ok2 {
		rise := to - from
		if v := o.value*o.value - rise*rise; math.Abs(rise) > 0.1 && v > 0 {
			level = math.Sqrt(v)
		}
	}
	switch {
	case level > 0:
		add(&slip{odds: 3 * oddsSlope, cause: finding.SlopeDistance.New(),
			instead: geo.FormatLength(level, b.job.Settings.Unit), change: func(o *observation) { o.value = level }})
	case !ok && !ok2:
		// Slopes of 10 to 40 % make a tape 0.5 to 8 % long.
		add(&slip{odds: oddsSlope, cause: finding.SlopeUnnoted.New(),
			change: func(o *observation) { o.value, o.sigma = 0.97*o.value, math.Hypot(o.sigma, 0.02*o.value) }})
	}
}

// height returns the level of a point of the log.
func (b *book) height(point string) (float64, bool) {
	for i := range b.readings {
		if r := &b.readings[i]; r.Kind == Level && r.Point == point && r.Value != nil {
			return r.Value.Metres, true
		}
	}
	return 0, false
}

// bearingSlips lists what may be wrong with a bearing.
func (b *book) bearingSlips(o *observation, add func(*slip)) {
	add(&slip{odds: oddsBackwards, cause: finding.TurnedRound.New(), change: func(o *observation) { o.value += math.Pi }})
	declination := b.job.Settings.Declination.Radians()
	switch {
	case !o.compass && declination != 0:
		add(&slip{odds: oddsNorth, cause: finding.MagneticNorth.New(), instead: "north: magnetic",
			change: func(o *observation) { o.value += declination }})
	case !o.compass:
		add(&slip{odds: oddsNorth, cause: finding.MaybeMagnetic.New(), instead: "north: magnetic",
			change: func(o *observation) { o.sigma = math.Hypot(o.sigma, 1.3*noDeclination) }})
	case declination != 0:
		add(&slip{odds: oddsNorth, cause: finding.TrueNorth.New(), instead: "north: true",
			change: func(o *observation) { o.value -= declination }})
	}
}

// trenchSlips lists the other parts that a hole may have met: neighbours of
// the same kind.
func (b *book) trenchSlips(o *observation, e explanation, add func(*slip)) {
	r := &b.readings[o.reading]
	target := r.Target
	var same []string
	at := -1
	for i := range b.job.Sketch.Parts {
		p := &b.job.Sketch.Parts[i]
		if named := b.job.Sketch.Part(target); named != nil && p.Kind == named.Kind && p.Kind != asbuilt.Tank {
			if p.ID == target {
				at = len(same)
			}
			same = append(same, p.ID)
		}
	}
	if at < 0 || e.met[r.ID] != "" {
		return
	}
	sum := 0.0
	weigh := func(i int) float64 { return 1 / float64((i-at)*(i-at)) }
	for i := range same {
		if i != at {
			sum += weigh(i)
		}
	}
	for i, id := range same {
		if i != at {
			add(&slip{odds: oddsTrench * weigh(i) / sum, cause: finding.OtherTrench.New(finding.Parts(id, target)), instead: "target " + id, met: id})
		}
	}
}

// signed writes an offset with its sign.
func signed(metres float64, u geo.Unit) string {
	if metres > 0 {
		return "+" + geo.FormatLength(metres, u)
	}
	return geo.FormatLength(metres, u)
}
