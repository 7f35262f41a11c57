package browser

import (
	"archive/zip"
	"bytes"
	"maps"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// ground returns where the parts of the sheet lie: what is buried is moved.
func (p permit) ground(moved complex128) ground {
	const foot = 0.3048
	g := ground{}
	for _, part := range p.Parts {
		at := func(i int) complex128 { return complex(part.At[i][0]*foot, part.At[i][1]*foot) }
		switch part.Kind {
		case "landmark":
			g[part.ID] = at(0)
		case "box":
			g[part.ID] = at(0) + moved
		case "lateral":
			g[part.ID+".start"], g[part.ID+".end"] = at(0)+moved, at(1)+moved
		}
	}
	return g
}

// paper presses the button of a document and waits until it is handed over.
func (b *tab) paper(name, file string) {
	b.t.Helper()
	eval[bool](b, `(window.saved = [], HTMLAnchorElement.prototype.click = function () { window.saved.push(this.download); }, true)`)
	b.press(name)
	b.wait(`window.saved.some((n) => n.endsWith("` + file + `"))`)
}

// TestStory is a job from the photographed sheet to the record, on a small phone
// without a network, in dark surroundings, with five slips on the way, each mended;
// then it is handed to a second phone, without motion.
func TestStory(t *testing.T) {
	long.Only(t, "a minute in a browser")
	s := newSite(t)
	b := open(t, smallPhone)
	other := open(t, smallPhone)
	for _, phone := range []*tab{b, other} {
		phone.visit(s.url + "/")
		phone.whole()
	}
	b.prefers("color-scheme", "dark")
	s.stop()

	// The sheet.
	b.visit(s.url + "/#/jobs")
	b.fill("Title", "Invented lot of the story")
	b.press("Trace the sketch")
	h := &hand{tab: b, permit: readPermit(t), rng: rand.New(rand.NewPCG(3, 5)), miss: 1.2}
	h.traceAll()
	b.sees("Log a hole")
	b.settled()
	b.look("story-1-traced")
	g := h.ground(complex(0.45, -0.35))

	// A tape between two corners, its figures changed over at first.
	sheet := b.measured()
	b.press("Measure")
	b.fill("From", "A")
	b.fill("To", "B")
	b.keys("24'")
	b.press("Save")
	b.look("story-2-question")
	b.press("Mend it")
	b.clear(3)
	b.keys("42'")
	b.press("Save")
	b.sees("tape A to B: 42′ 0″")
	require.Len(t, b.measured(), len(sheet)+1)
	b.settled()

	// The phone goes back in the middle of a hole: nothing of it is kept.
	taped := b.measured()
	b.press("Log a hole")
	b.press("○ Nothing")
	b.keys("3'")
	b.press("Back")
	b.settled()
	assert.Equal(t, taped, b.measured())

	// The wrong button: the box is said to be met, and is not.
	b.press("Log a hole")
	b.sees("as proposed:")
	b.press("● the box")
	b.press("Save without depth")
	b.sees("The box is found")
	b.press("To the plan")
	b.kept()
	b.undo()
	assert.Equal(t, taped, b.measured())
	b.settled()
	b.sees("Log a hole")

	// A reading is withdrawn that was good.
	b.press("More")
	b.press("withdraw: tape A to B")
	b.press("Yes, withdraw it")
	b.sees("withdrawn: tape A to B")
	b.undo()
	assert.Equal(t, taped, b.measured())
	b.press("Back")
	b.settled()

	// To the box, as the app says; the first depth is typed as feet.
	taps := 0
	asked := false
	for hole, met := 1, ""; met != "box"; hole++ {
		require.LessOrEqual(t, hole, 12, "the box is not found")
		b.settled()
		follows := strings.Contains(b.text(), "First follow the")
		b.press("Log a hole")
		b.sees("as proposed:")
		at := g.setOut(t, b.text())
		if follows {
			at = g["box"]
			g.tape(t, b, at)
		}
		met = g.meets(at)
		deep := "'47"
		switch met {
		case "box":
			b.press("● the box")
		case "lateral":
			b.press("A trench, not sure which")
		default:
			b.press("○ Nothing")
			m := callIt.FindStringSubmatch(b.text())
			require.NotNil(t, m, b.text())
			deep = m[1] + "'" + m[2]
		}
		taps += 3
		if !asked {
			asked = true
			b.keys("47")
			b.press("Save")
			b.sees("Did you mean 47 in?")
			b.look("story-3-depth")
			b.press("Mend it")
			b.clear(2)
		}
		b.keys(deep)
		b.press("Save")
		if met == "box" {
			b.sees("The box is found")
			b.look("story-5-found")
			b.press("To the plan")
		}
		b.kept()
		t.Logf("hole %d met %q, %.1f m from the box; radius %.2f m", hole, met, cmplx.Abs(at-g["box"]), b.radius())
		if hole == 1 {
			b.settled()
			b.look("story-4-dug")
		}
	}
	b.settled()
	radius := b.radius()
	assert.Less(t, radius, exposed, "metres: the box is exposed")

	// The papers, still without a network.
	b.press("More")
	b.press("Documents")
	b.look("story-6-documents")
	b.paper("Dig plan to take along", ".pdf")
	b.paper("Corrected as-built", ".pdf")

	// The job goes to the second phone as its folder.
	files := b.exported()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(files[name]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	folder := filepath.Join(t.TempDir(), "story.zip")
	require.NoError(t, os.WriteFile(folder, buf.Bytes(), 0o644))
	other.prefers("color-scheme", "dark", "reduced-motion", "reduce")
	other.visit(s.url + "/#/jobs")
	other.upload("A zip, or the files", folder)
	other.settled()
	other.sees("none: seen")
	other.look("story-7-second")
	assert.Equal(t, b.measured(), other.measured())
	assert.InDelta(t, radius, other.radius(), 1e-6)
	moving := eval[float64](other, `document.getAnimations().filter((a) => a.playState === "running" && a.effect.getComputedTiming().duration > 10).length`)
	assert.Zero(t, moving, "animations where none are wanted")

	t.Logf("%d taps to trace, %d for the holes", h.taps, taps)
	assert.Empty(t, append(b.log, other.log...), "exceptions")
}
