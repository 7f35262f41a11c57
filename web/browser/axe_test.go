package browser

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// finding is what axe-core (https://github.com/dequelabs/axe-core, 4.14.1)
// reports about one rule.
type finding struct {
	ID     string `json:"id"`
	Impact string `json:"impact"`
	Help   string `json:"help"`
	Nodes  []struct {
		HTML    string `json:"html"`
		Summary string `json:"failureSummary"`
	} `json:"nodes"`
}

// axe returns what axe-core finds on the page: the rules of WCAG 2.2 A, AA and
// AAA, which holds text to a contrast of 7:1, and those of good practice.
func (b *tab) axe() []finding {
	b.t.Helper()
	if !eval[bool](b, "!!window.axe") {
		source, err := os.ReadFile("testdata/axe.min.js")
		require.NoError(b.t, err)
		eval[bool](b, string(source)+";true")
	}
	text := eval[string](b, `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}, rules: {"color-contrast-enhanced": {enabled: true}}}).then((r) => JSON.stringify(r.violations))`)
	var found []finding
	require.NoError(b.t, json.Unmarshal([]byte(text), &found))
	return found
}

// small returns the controls of the page that are smaller than 44 by 48 pixels:
// at least 48 high, and no narrower than WCAG 2.2, 2.5.5 asks for. Links within
// a sentence are exempt there, as they are here.
const small = `[...document.querySelectorAll("button, select, input, textarea, summary, a.button, a.go, a.back, .file")]
	.filter((e) => e.getClientRects().length && !(e.tagName === "INPUT" && e.type === "file"))
	.map((e) => [e, e.getBoundingClientRect()])
	.filter(([e, r]) => r.height < 47.5 || r.width < 44)
	.map(([e, r]) => e.outerHTML.slice(0, 90) + " " + r.width.toFixed(0) + "x" + r.height.toFixed(0))`

// wide returns what reaches beyond the right side of the window and does not
// scroll by itself. The page's own width does not show it: a phone zooms out
// until everything fits.
func (b *tab) wide() []string {
	b.t.Helper()
	return eval[[]string](b, `[...document.querySelectorAll("body *")]
	.filter((e) => e.getClientRects().length && !e.closest(".map, svg, .skip, .trace-board") && !e.parentElement.closest(".tablebox, .trace-tools, .trace-scroll, .trace-head nav"))
	.map((e) => [e, e.getBoundingClientRect().right])
	.filter(([e, right]) => right > `+num(float64(b.size.width))+` + 0.5)
	.map(([e, right]) => e.outerHTML.slice(0, 90) + " to " + right.toFixed(0))`)
}

// look stores a picture of a screen and checks what every screen must satisfy:
// nothing serious found by axe-core, targets of 48 pixels, nothing wider than
// the window.
func (b *tab) look(name string) {
	b.t.Helper()
	b.shot(name)
	for _, f := range b.axe() {
		if f.Impact == "serious" || f.Impact == "critical" {
			for _, n := range f.Nodes {
				assert.Fail(b.t, name+": "+f.ID+": "+f.Help, "%s\n%s", n.HTML, n.Summary)
			}
		}
	}
	assert.Empty(b.t, eval[[]string](b, small), "%s: targets below 48 px", name)
	assert.Empty(b.t, b.wide(), "%s: wider than the window", name)
}

// TestAxeBites shows that the check finds what it is meant to find.
func TestAxeBites(t *testing.T) {
	b := open(t, phone)
	b.visit("about:blank")
	eval[bool](b, `(document.body.innerHTML = "<main><p style='color:#666'>faint</p><button></button></main>", true)`)
	var ids []string
	for _, f := range b.axe() {
		ids = append(ids, f.ID)
	}
	assert.Contains(t, ids, "color-contrast-enhanced")
	assert.Contains(t, ids, "button-name")
	assert.NotEmpty(t, eval[[]string](b, small))
}
