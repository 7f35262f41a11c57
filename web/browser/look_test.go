package browser

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/testdata/long"
)

// TestScreens goes through every screen at both sizes, with a crowded job in
// feet, one in metres, and one without a reading, holds each to axe-core, and
// leaves a picture of each.
func TestScreens(t *testing.T) {
	long.Only(t, "minutes in a browser")
	s := newSite(t)
	for name, z := range map[string]size{"phone": phone, "desk": desk} {
		t.Run(name, func(t *testing.T) {
			b := open(t, z)
			b.visit(s.url + "/")
			b.sees("Import a job")
			b.look(name + "-jobs-empty")
			for _, job := range []string{"demo", "metric-gnss", "day-before"} {
				b.visit(s.url + "/#/jobs")
				b.bring(job)
				b.look(name + "-plan-" + job)
				b.press("Turn, or north")
				b.look(name + "-house-" + job)
				b.press("Log a hole")
				b.sees("What did it meet?")
				b.look(name + "-log-what-" + job)
				b.press("Two tapes")
				b.look(name + "-log-tapes-" + job)
				b.press("Back")
				b.press("Log a hole")
				b.press("Along a wall")
				b.look(name + "-log-line-" + job)
				b.press("Back")
				b.press("Log a hole")
				b.press("A trench")
				b.look(name + "-log-depth-" + job)
				b.press("Back")
				b.press("Measure")
				b.look(name + "-measure-" + job)
				for _, what := range []string{"a position", "a level", "a bearing", "a note, photos"} {
					b.press(what)
					b.look(name + "-measure-" + what[2:] + "-" + job)
				}
				b.press("Back")
				b.press("Guide me")
				b.look(name + "-guide-" + job)
				b.press("Back")
				if z == phone {
					b.press("More")
				}
				for _, what := range []string{"Readings", "Dig plan", "Fit", "Documents", "People"} {
					b.press(what)
					b.look(name + "-" + what + "-" + job)
				}
			}
			b.visit(s.url + "/#/jobs")
			b.look(name + "-jobs")
			b.visit(s.url + "/#join=NOSUCH")
			b.sees("Name of this device")
			b.look(name + "-join")
			assert.Empty(t, b.log, "exceptions in the page")
		})
	}
}
