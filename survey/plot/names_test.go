package plot

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/long"
)

// printed is a label as the SVG has it: millimetres on the page.
type printed struct {
	text   string // its first line
	rect   chart.Rect
	leader []chart.Point // from its sign; nil: none
}

var element = regexp.MustCompile(`<(text|path) ([^>]*)>(?:([^<]*)</text>)?`)

func attribute(of, name string) string {
	m := regexp.MustCompile(`(?:^| )` + name + `="([^"]*)"`).FindStringSubmatch(of)
	if m == nil {
		return ""
	}
	return m[1]
}

// printedLabels reads the labels of a map. The lines of one have the same left or
// right edge, the same size, and the next baseline 1.25 of that size below.
func printedLabels(t *testing.T, svg string) (all []printed) {
	t.Helper()
	number := func(of, name string) float64 {
		v, err := strconv.ParseFloat(attribute(of, name), 64)
		require.NoError(t, err, "%s in %s", name, of)
		return v
	}
	_, svg, found := strings.Cut(svg, `<g class="labels">`)
	require.True(t, found)
	svg, _, _ = strings.Cut(svg, "</g>")
	var leader []chart.Point
	var edge, size, base float64
	for _, m := range element.FindAllStringSubmatch(svg, -1) {
		if m[1] == "path" {
			leader = nil
			for _, p := range regexp.MustCompile(`[ML]([-0-9.]+) ([-0-9.]+)`).FindAllStringSubmatch(attribute(m[2], "d"), -1) {
				x, _ := strconv.ParseFloat(p[1], 64)
				y, _ := strconv.ParseFloat(p[2], 64)
				leader = append(leader, vec(x, y))
			}
			continue
		}
		x, y, fs, w := number(m[2], "x"), number(m[2], "y"), number(m[2], "font-size"), number(m[2], "textLength")
		left := x
		if attribute(m[2], "text-anchor") == "end" {
			left -= w
		}
		r := chart.Rect{X: left, Y: y - 0.72*fs, W: w, H: 0.9 * fs} // letters with their descenders
		if n := len(all); n > 0 && leader == nil && x == edge && fs == size && math.Abs(y-base-1.25*fs) < 0.01 {
			q := &all[n-1].rect
			right := max(q.X+q.W, r.X+r.W)
			q.X = min(q.X, r.X)
			q.W, q.H = right-q.X, r.Y+r.H-q.Y
		} else {
			all = append(all, printed{strings.ReplaceAll(m[3], "&#34;", `"`), r, leader})
		}
		edge, size, base, leader = x, fs, y, nil
	}
	return all
}

// marked is a sign on a map, by the beginning of its label.
type marked struct {
	kind, text string
	at         chart.Point
	radius     float64 // millimetres
}

func signsOf(l *locate.Location, plan *probe.Plan, f chart.Frame) (all []marked) {
	add := func(kind, text string, at geo.Vec, radius float64) {
		if f.Sees(at) {
			all = append(all, marked{kind, text, f.Page(at), radius})
		}
	}
	size := func(metres float64) float64 { return min(3, max(1.2, f.Scale.Paper(metres)/2)) }
	for _, o := range l.Outlines {
		switch last := o.Now[0].Vertices[len(o.Now[0].Vertices)-1]; o.Kind {
		case asbuilt.Landmark:
			add("landmark", o.Part, last, 1.5)
		case asbuilt.Lateral:
			add("lateral", o.Part+" (", last, 0.8)
		}
	}
	for _, s := range l.Spots {
		at := s.At
		if len(s.Lobes) > 1 {
			at = s.Lobes[0].At
		}
		switch s.Kind {
		case asbuilt.Box:
			add("structure", s.Part+" (", at, size(practice.BoxSize))
		case asbuilt.Tank:
			add("structure", s.Part+" (", at, size(practice.TankLength))
		}
	}
	for _, h := range l.Holes {
		add("hole", h.Name, h.At, min(3, max(1, f.Scale.Paper(h.Radius))))
	}
	add("hole", "NEXT HOLE", plan.Holes[0].At, 2.4)
	return all
}

func dist(r chart.Rect, p chart.Point) float64 {
	return math.Hypot(max(r.X-p.X, 0, p.X-r.X-r.W), max(r.Y-p.Y, 0, p.Y-r.Y-r.H))
}

// TestNamesBelong draws 200 invented jobs and holds the labels of the map to what a
// crew reads from them: each is nearer to its own sign than to any other of its kind,
// or a line leads from its sign to it and it keeps clear of the others; none lies over
// another, over the next hole or over the box; and the next hole always has its own.
func TestNamesBelong(t *testing.T) {
	jobs, crossed := long.Size(t, 15, 200), 0
	for seed := 1; seed <= jobs; seed++ {
		s := simulate.Invent(simulate.Order{Seed: uint64(seed), Trust: simulate.Trusts[seed%3], Mix: simulate.Mixes[seed%4], Holes: simulate.HoleCounts[seed%6], Empty: []int{0, 2, 5}[seed/3%3], Depths: true})
		if seed%2 == 0 {
			s.Job.Settings.Unit = geo.Metre
		}
		solved, err := fit.Solve(t.Context(), s.Job)
		require.NoError(t, err)
		l, err := locate.Locate(t.Context(), s.Job, solved)
		require.NoError(t, err)
		l.Fit.Doubtful = nil
		plan := inventPlan(l)
		box := l.Spot("box", asbuilt.Center)
		for i := range plan.Holes { // the next one on the box or near it
			p := &plan.Holes[i]
			p.At = box.At.Add(geo.Vec{X: 0.3 * float64(seed%4+i)}.Rotate(geo.Radians(float64(seed + 2*i))))
			p.To, p.Ties = p.At, nil
			for _, id := range []string{"A", "B"} {
				p.Ties = append(p.Ties, probe.SetOut{From: id, Distance: l.Spot(id, asbuilt.Center).At.Dist(p.At)})
			}
		}
		frame := newSiteMap(l, plan, MapOptions{Date: date}).layout().frame
		labels := printedLabels(t, svgOf(t, draw(t, l, plan, MapOptions{}).Pages[0]))
		signs := signsOf(l, plan, frame)
		next := 0
		for i, n := range labels {
			for _, o := range labels[:i] {
				assert.LessOrEqual(t, n.rect.Overlap(o.rect), 0.03*n.rect.W*n.rect.H, "lot %d: %q over %q", seed, n.text, o.text)
			}
			var own *marked
			for k := range signs {
				if s := &signs[k]; n.text == s.text || strings.HasSuffix(s.text, " (") && strings.HasPrefix(n.text, s.text) {
					own = s
				}
				switch s := signs[k]; s.text {
				case "NEXT HOLE", "box (":
					assert.Greater(t, dist(n.rect, s.at), s.radius, "lot %d: %q over %s", seed, n.text, s.text)
				}
			}
			if own == nil {
				continue
			}
			if own.text == "NEXT HOLE" {
				next++
				for _, tie := range plan.Holes[0].Ties {
					from := frame.Page(l.Spot(tie.From, asbuilt.Center).At)
					for k := range 200 {
						if dist(n.rect, own.at.Lerp(from, float64(k)/200)) == 0 {
							crossed++
							break
						}
					}
				}
			}
			if n.leader != nil {
				assert.LessOrEqual(t, n.leader[0].Dist(own.at), own.radius+0.35, "lot %d: %q, its line begins at its sign", seed, n.text)
			}
			for _, o := range signs {
				if o.kind != own.kind || o == *own {
					continue
				}
				off := dist(n.rect, o.at) - o.radius
				if n.leader != nil {
					assert.Greater(t, off, 0.5, "lot %d: %q keeps clear of %s", seed, n.text, o.text)
					continue
				}
				assert.Less(t, dist(n.rect, own.at)-own.radius, off, "lot %d: %q is nearer to %s", seed, n.text, o.text)
			}
		}
		assert.Equal(t, 1, next, "lot %d: labels of the next hole", seed)
	}
	t.Logf("%d of %d labels of the next hole lie over a tape", crossed, jobs)
	assert.LessOrEqual(t, crossed, jobs/50, "labels of the next hole over a tape")
}
