package browser

import (
	"encoding/json"
	"math"
	"math/cmplx"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// ground is the hidden truth of an invented job: where everything lies, in
// metres as complex numbers, and what a hole meets there. The app learns of it
// only through the answers of its holes.
type ground map[string]complex128

// groundOf reads a truth; what is buried is moved, so that the sheet is wrong by
// that much and the first hole is not enough.
func groundOf(t *testing.T, job string, moved complex128) ground {
	t.Helper()
	text, err := os.ReadFile("../../testdata/sites/" + job + "/truth.json")
	require.NoError(t, err)
	var is struct {
		Places map[string][2]float64 `json:"places"`
	}
	require.NoError(t, json.Unmarshal(text, &is))
	g := ground{}
	for name, p := range is.Places {
		g[name] = complex(p[0], p[1])
		if len(name) > 1 { // landmarks have one letter
			g[name] += moved
		}
	}
	return g
}

// A hole of 8 in radius meets what is nearer than that to its rim: a box 2 ft
// square, a trench 2 ft wide, the sizes that the sheets have; contact with less
// than 2 in of either is not noticed.
const reach = 0.3048 + 0.2032 - 0.05 // metres

// meets says what a hole at a place meets: the box, a lateral, or nothing.
func (g ground) meets(at complex128) string {
	if cmplx.Abs(at-g["box"]) < reach {
		return "box"
	}
	for name, a := range g {
		part, isStart := strings.CutSuffix(name, ".start")
		if !isStart {
			continue
		}
		along := g[part+".end"] - a
		q := (at - a) / along // along the trench, and square off it, of its length
		if real(q) > 0 && real(q) < 1 && math.Abs(imag(q))*cmplx.Abs(along) < reach {
			return "lateral"
		}
	}
	return ""
}

// A length on the screen, and the hole that it proposes, as a person reads them.
const reads = `(?:(\d+)′ (\d*)(½?)″|([\d.]+) m)`

var (
	proposal = regexp.MustCompile(`as proposed: (\S+) ` + reads + ` and (\S+) ` + reads + `, (right|left) of the line from`)
	callIt   = regexp.MustCompile(`calls it empty at ` + reads)
)

// metres returns the length that its groups add up to.
func metres(m []string) float64 {
	if m[3] != "" {
		v, _ := strconv.ParseFloat(m[3], 64)
		return v
	}
	feet, _ := strconv.ParseFloat(m[0], 64)
	inches, _ := strconv.ParseFloat("0"+m[1], 64)
	if m[2] != "" {
		inches += 0.5
	}
	return (feet + inches/12) * 0.3048
}

// setOut returns where two tapes that are read off the screen cross.
func (g ground) setOut(t *testing.T, screen string) complex128 {
	t.Helper()
	m := proposal.FindStringSubmatch(screen)
	require.NotNil(t, m, screen)
	a, b := g[m[1]], g[m[6]]
	ra, rb := metres(m[2:6]), metres(m[7:11])
	d := cmplx.Abs(b - a)
	x := (ra*ra - rb*rb + d*d) / (2 * d)
	y := math.Sqrt(max(ra*ra-x*x, 0))
	if m[11] == "right" {
		y = -y
	}
	return a + complex(x, y)*(b-a)/complex(d, 0)
}

// tape enters two tapes to a place, from the landmarks of the proposal, in the unit
// that it has.
func (g ground) tape(t *testing.T, b *tab, at complex128) {
	t.Helper()
	m := proposal.FindStringSubmatch(b.text())
	require.NotNil(t, m)
	written := func(from string) string {
		d := cmplx.Abs(at - g[from])
		if m[5] != "" {
			return strconv.FormatFloat(d, 'f', 2, 64)
		}
		inches := int(math.Round(d / 0.0254))
		return strconv.Itoa(inches/12) + "'" + strconv.Itoa(inches%12)
	}
	b.press("Two tapes")
	b.keys(written(m[1]))
	b.press("Next: from")
	b.keys(written(m[6]))
	b.press("Next: what")
}

// exposed is the farthest that the middle of a box of 0.6 m lies from a hole of
// 0.15 m that met it anywhere: half its diagonal, the hole, and 0.1 m for the two
// tapes. Metres.
const exposed = 0.6/math.Sqrt2 + 0.15 + 0.1

// TestDigToTheBox runs whole invented digs as a new user would: a phone, no
// network, and at each hole the proposed place is dug and what was met is
// logged, until the box is exposed. Where the plan says to follow a line, it is
// followed, to the box. A hole takes three taps and the digits of
// its depth.
func TestDigToTheBox(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	s.stop()
	for _, tt := range []struct {
		job   string
		moved complex128        // metres
		depth map[string]string // what is typed on the keypad: ' steps to the inches
	}{
		{"day-before", complex(0.8, 0.5), map[string]string{"box": "1'7", "lateral": "1'6"}},
		{"two-tapes", 0, map[string]string{"box": "0.5", "lateral": "0.5"}},
	} {
		b.visit(s.url + "/#/jobs")
		b.bring(tt.job)
		g := groundOf(t, tt.job, tt.moved)
		for hole, met := 1, ""; met != "box"; hole++ {
			require.LessOrEqual(t, hole, 10, "%s: the box is not found", tt.job)
			before := b.radius()
			taps := 0
			tap := func(name string) { b.press(name); taps++ }
			b.settled()
			follows := strings.Contains(b.text(), "First follow the")
			if follows {
				b.look("phone-follow-" + tt.job)
			}
			tap("Log a hole")
			b.sees("as proposed:")
			at := g.setOut(t, b.text())
			if follows {
				// The line leads to the box: that is taped from the same landmarks.
				at = g["box"]
				g.tape(t, b, at)
				taps = 0
			}
			met = g.meets(at)
			deep := tt.depth[met]
			switch met {
			case "box":
				tap("● the box")
			case "lateral":
				tap("A trench, not sure which")
			default:
				tap("○ Nothing")
				m := callIt.FindStringSubmatch(b.text())
				require.NotNil(t, m, b.text())
				if deep = m[4]; deep == "" {
					deep = m[1] + "'" + m[2]
				}
			}
			b.keys(deep)
			tap("Save")
			assert.LessOrEqual(t, taps, 3, "taps of a hole")
			if met == "box" {
				b.sees("The box is found")
				b.press("To the plan")
			}
			b.kept()
			b.wait(`document.querySelector(".change")`)
			after := b.radius()
			t.Logf("%s: hole %d, %d taps, met %q, %.1f m from the box: radius %.2f m, then %.2f m", tt.job, hole, taps, met, cmplx.Abs(at-g["box"]), before, after)
			b.shot("phone-dig-" + tt.job + "-" + strconv.Itoa(hole))
			if met == "box" {
				b.sees("none: seen")
				assert.Less(t, after, exposed, "metres: the box is exposed")
			}
		}
	}
	assert.Empty(t, b.log, "exceptions")
}
