package browser

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/testdata/long"
)

// TestScreens goes through every screen at both sizes, with a crowded job in
// feet, one in metres, and one without a reading, and with the crowded one in
// dark surroundings, holds each to axe-core, and leaves a picture of each.
func TestScreens(t *testing.T) {
	long.Only(t, "minutes in a browser")
	s := newSite(t)
	jobs := []string{"demo", "metric-gnss", "day-before"}
	for name, look := range map[string]struct {
		size size
		dark bool
		jobs []string
	}{
		"phone": {phone, false, jobs}, "desk": {desk, false, jobs},
		"phone-dark": {phone, true, jobs[:1]},
	} {
		t.Run(name, func(t *testing.T) {
			b := open(t, look.size)
			if look.dark {
				b.prefers("color-scheme", "dark")
			}
			b.visit(s.url + "/")
			b.sees("Import a job")
			b.look(name + "-jobs-empty")
			for _, job := range look.jobs {
				b.visit(s.url + "/#/jobs")
				b.bring(job)
				b.look(name + "-plan-" + job)
				assert.Equal(t, look.dark, b.luminance("body") < 0.02, "the page takes the device's side")
				assert.InDelta(t, 1, b.luminance(".map"), 0.01, "the map stays paper")
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
				if look.size == phone {
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

// luminance returns the relative luminance (WCAG 2.2) of an element's ground.
func (b *tab) luminance(selector string) float64 {
	b.t.Helper()
	return eval[float64](b, `(() => {
		const [r, g, b] = getComputedStyle(document.querySelector(`+quote(selector)+`)).backgroundColor.match(/[\d.]+/g).map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
		return 0.2126 * r + 0.7152 * g + 0.0722 * b;
	})()`)
}
