package encounter

import "asfound/asbuilt"

// Outcome is what a hole may meet. A crew cannot tell which of several trenches
// it is.
type Outcome int

// The outcomes of a hole, in the order in which they are checked.
const (
	Sought Outcome = iota // what is sought
	Trench                // a lateral between its ends
	Start                 // the near end of a lateral, where the header comes in
	End                   // the far end of a lateral
	Header                // a header or effluent pipe
	Other                 // another part: a box, tank or port that is not sought
	None                  // nothing down to the stop depth

	Outcomes = int(None) + 1 // how many there are
)

// Line reports whether a line was met.
func (m Outcome) Line() bool { return m == Trench || m == Start || m == End || m == Header }

// Outcome returns what it is to meet an object, at an end of its line or, for an
// empty spot, between its ends.
func (o *Object) Outcome(spot asbuilt.Spot) Outcome {
	switch {
	case o.Sought:
		return Sought
	case o.Kind == asbuilt.Lateral && spot == asbuilt.Start:
		return Start
	case o.Kind == asbuilt.Lateral && spot == asbuilt.End:
		return End
	case o.Kind == asbuilt.Lateral:
		return Trench
	case o.Kind == asbuilt.Header:
		return Header
	}
	return Other
}
