package survey

import "asfound/asbuilt/practice"

// Pushing is what it takes a crew to open a tank and push something through the pipe
// that leaves it.
type Pushing struct {
	Name    string  // cable, or sonde: a camera with a transmitter that is located from above
	Open    float64 // minutes to find a tank and open it
	Minutes float64 // minutes to push, to locate and to roll up again
	Reaches float64 // chance that it gets to what is sought
}

// The names of what is pushed.
const (
	PushCable = "cable"
	PushSonde = "sonde"
)

// Pushings is what a crew may have to push, with the usual figures. Common practice,
// no published source.
var Pushings = []Pushing{
	{PushCable, practice.OpenTank, practice.PushCable, 1 - practice.StopsShort},
	{PushSonde, practice.OpenTank, practice.PushSonde, 1 - practice.StopsShort},
}

// PushingNamed returns what is usual of one of Pushings.
func PushingNamed(name string) (p Pushing, ok bool) {
	for _, p = range Pushings {
		if p.Name == name {
			return p, true
		}
	}
	return Pushing{}, false
}
