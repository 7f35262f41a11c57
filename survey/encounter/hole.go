package encounter

import (
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// Hole is a hole, or a slot, that may be dug. A slot is a hole drawn out to a
// strip: an excavator cuts it across the trenches down to one depth, and what
// lies anywhere in it is met.
type Hole struct {
	At     geo.Vec
	Slot   geo.Vec // from At to the far end of a slot, metres; zero for a hole
	Radius float64 // metres; half the width of a slot
	Sigma  float64 // metres: standard deviation of its position as set out
	Stop   float64 // metres: called empty here; 0: nothing is known of depths
	Tool   *survey.Tool
	Shows  []float64 // of each object of the site: chance that it is noticed where the hole lies over it
}

// Middle returns the middle of a hole or slot.
func (h *Hole) Middle() geo.Vec { return h.At.Add(h.Slot.Scale(0.5)) }

// Half returns half the length of a slot in metres, 0 for a hole.
func (h *Hole) Half() float64 {
	if h.Slot == (geo.Vec{}) {
		return 0
	}
	return h.Slot.Norm() / 2
}

// Minutes returns how long a hole or slot takes that is dug to a depth in
// metres: a slot takes as long as a hole, plus a time per metre.
func (h *Hole) Minutes(depth float64) float64 {
	m := h.Tool.Minutes(depth)
	if h.Slot != (geo.Vec{}) {
		m += h.Tool.Slot * h.Slot.Norm() * depth
	}
	return m
}

// MinutesOf returns the minutes of a hole that meets something: it stops there,
// which makes it shallower by a share, and a line that a machine has cut has to be
// repaired.
func (h *Hole) MinutesOf(m Outcome) float64 {
	if m == None {
		return h.Minutes(h.Stop)
	}
	minutes := h.Minutes(practice.MetDepth * h.Stop)
	if h.Tool.Slot > 0 && m.Line() {
		minutes += practice.RepairMinutes
	}
	return minutes
}

// Moved returns the hole as it lies against draws that are moved by v.
func (h *Hole) Moved(v geo.Vec) Hole {
	m := *h
	m.At = h.At.Sub(v)
	return m
}
