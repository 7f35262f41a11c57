package browser

import (
	"testing"

	"asfound/testdata/long"
)

// Every step of the tracing screen is checked as every screen is.
func TestTraceLooks(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := tracing(t)
	for name, z := range map[string]size{"phone": phone, "desk": desk} {
		h := handOn(t, z, s.URL)
		h.look("trace-" + name + "-choose")
		h.squareUp()
		h.press("Landmark")
		h.tap([2]float64{70, 118})
		h.press("Box")
		h.tap([2]float64{64, 92})
		h.press("Lateral")
		h.tap([2]float64{70, 84})
		h.tap([2]float64{135, 84})
		h.look("trace-" + name + "-lateral")
		h.press("Repeat…")
		h.look("trace-" + name + "-repeat")
		h.press("Ties")
		h.typeIn("box center, from A", "26 8") // not a length: shown beside the field
		h.look("trace-" + name + "-wrong")
		h.press("Parts")
		h.press("L1 Lateral")
		h.look("trace-" + name + "-parts")
		h.press("Scale")
		h.look("trace-" + name + "-scale")
		h.press("Save")
		h.sees("Must be fixed")
		h.look("trace-" + name + "-save")
		h.press("Leave")
		h.look("trace-" + name + "-leave")
	}
}
