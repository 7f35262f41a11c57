package browser

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"asfound/testdata/long"
)

// TestLegend opens the legend with one tap, without a network, and closes it by its
// key, by Esc and by Back; it explains what is on the map and nothing else.
func TestLegend(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	for name, z := range map[string]size{"phone": {360, 740, true}, "desk": desk} {
		s := newSite(t)
		b := open(t, z)
		b.visit(s.url + "/")
		b.whole()
		b.bring("demo")
		s.stop()
		const isOpen = `document.querySelector("dialog[open]")`
		b.press("Legend")
		b.sees("On this map")
		for _, says := range []string{"next hole", "tape from a landmark", "inferred", "corridor", "region", "utility or no-dig area", "property line", "as the old sketch has it"} {
			assert.Contains(t, eval[string](b, isOpen+".innerText"), says)
		}
		assert.NotContains(t, eval[string](b, isOpen+".innerText"), "stake", "nothing on this map is one")
		assert.NotContains(t, eval[string](b, isOpen+".innerText"), "recorded", "nor only recorded")
		b.wait(`[...document.querySelectorAll(".sample")].every((c) => c.getContext("2d").getImageData(0, 0, c.width, c.height).data.some((v) => v))`)
		b.look(name + "-legend")
		b.press("Close")
		b.wait("!" + isOpen)
		b.press("Legend")
		b.wait(isOpen)
		b.do(chromedp.KeyEvent("\x1b"))
		b.wait("!" + isOpen)
		b.press("Legend")
		b.wait(isOpen)
		b.do(chromedp.NavigateBack())
		b.wait("!" + isOpen)
		b.sees("Log a hole")
		b.press("Legend")
		b.wait(isOpen)
		b.do(reload) // at this address
		b.sees("On this map")
		b.press("Close")
		b.wait("!" + isOpen)
		b.sees("Log a hole")
		assert.Empty(t, b.log, "exceptions")
	}
}
