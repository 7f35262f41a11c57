package asbuilt

import "strings"

// SpotNamed returns the spot that a name stands for: the middle of a box, tank or
// port, by its id or by its kind where there is one of it, or an end of a lateral or
// header, such as L2.end; ok is false for any other name.
func (s *Sketch) SpotNamed(name string) (spot SpotName, ok bool) {
	if p := s.Part(name); p != nil {
		return SpotName{Part: p.ID, Spot: Center}, p.middle()
	}
	for _, end := range []Spot{Start, End} {
		id, cut := strings.CutSuffix(name, "."+string(end))
		if p := s.Part(id); cut && p != nil && (p.Kind == Lateral || p.Kind == Header) {
			return SpotName{Part: id, Spot: end}, true
		}
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		if string(p.Kind) != name || !p.middle() {
			continue
		}
		if ok {
			return SpotName{}, false // there are several
		}
		spot, ok = SpotName{Part: p.ID, Spot: Center}, true
	}
	return spot, ok
}

// middle reports whether a part on a pipe is one place.
func (p *Part) middle() bool { return p.Kind == Box || p.Kind == Tank || p.Kind == Port }
