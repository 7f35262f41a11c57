package encounter

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
)

// Outcome is what a hole may meet. A crew cannot tell which of several trenches
// it is, but it sees in which sector a pipe runs.
type Outcome int

// Sectors is how many sectors of half a turn are told apart in which a pipe runs;
// which way the water flows is not counted on. A sector of 45° says as much as a
// direction that is out by 6° as it is read and 10° as headers bend: a normal error
// of 11.7° has the entropy of an even one over 11.7°·√(2πe) = 48° (Cover & Thomas,
// Elements of Information Theory, section 8.1).
const Sectors = 4

// The outcomes of a hole, in the order in which they are checked.
const (
	Sought Outcome = iota // what is sought
	Trench                // a lateral between its ends
	Start                 // the near end of a lateral, where the header comes in
	End                   // the far end of a lateral
	Header                // a header or effluent pipe; this and the next ones by the sector in which it runs

	Other = Header + Sectors // another part: a box, tank or port that is not sought
	None  = Other + 1        // nothing down to the stop depth

	Outcomes = int(None) + 1 // how many there are
)

// Kind returns the outcome without the sector in which a pipe runs.
func (m Outcome) Kind() Outcome {
	if m > Header && m < Other {
		return Header
	}
	return m
}

// Line reports whether a line was met.
func (m Outcome) Line() bool { return m >= Trench && m < Other }

// sector returns the number of the sector in which a direction lies, from the east
// on anticlockwise, either way along it being the same.
func sector(u geo.Vec) Outcome {
	half := math.Atan2(u.Y, u.X) / math.Pi // of a turn: −1 to 1
	return Outcome(int(math.Floor((half+1)*Sectors)) % Sectors)
}

// Outcome returns what it is to meet an object, at an end of its line or, for an
// empty spot, between its ends; of a pipe, whichever way it runs.
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
