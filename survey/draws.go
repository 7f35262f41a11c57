package survey

import (
	"asfound/asbuilt"
	"asfound/geo"
)

// SpotName names a spot of a part: {"box", Center}, {"L2", End}.
type SpotName struct {
	Part string
	Spot asbuilt.Spot
}

// Draws is a sample of what is believed, of equal weight: draw i is one way
// the whole site may lie, in the field frame relative to the landmarks.
type Draws struct {
	N     int
	Spots map[SpotName][]geo.Vec // N places of each spot: box and tank Center, line Start and End, landmark Center
	Lines map[string][][]geo.Vec // N polylines of each lateral and header, by part id
	Holes map[string][]geo.Vec   // N places of each hole of the log, by point name

	Member []int       // of each draw: the explanation it belongs to; two draws of the same number read the log alike
	Shifts [][]float64 // of each shift of the evidence: N standard normal numbers before it, whatever it made of them after

	at    [][]geo.Vec // of each place: N places relative to the landmarks
	frame [][]geo.Vec // the same as positions in the frame, the error of the fixes included
}
