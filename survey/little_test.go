package survey

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
)

// known is a place in metres and its standard deviation per axis.
type known struct{ x, y, sigma float64 }

// little is a site small enough to be adjusted by hand, or by a script of
// twenty lines: every place is known beforehand as it is drawn, to a standard
// deviation of its own, and the sheet is laid on the field as it is, one unit a
// metre. So what one reading does can be worked out beside it.
// testdata/reference/equations.py adjusts the same sites with SciPy; equations.json
// has its answers.
type little struct {
	name        string
	parts       []asbuilt.Part
	sigma       map[string]float64 // of a part's places per axis, metres
	points      map[string]known   // of the log: holes and stakes
	declination float64            // degrees, 0: not given
	readings    []Reading

	off map[string][]float64 // observed less computed before the adjustment, worked by hand, by reading: metres or degrees
}

// landmark, box and lateral make parts that are drawn at places.
func landmark(id string, x, y float64) asbuilt.Part {
	return part(id, asbuilt.Landmark, asbuilt.Point, geo.Vec{X: x, Y: y})
}

func box(id string, side, x, y float64) asbuilt.Part {
	p := part(id, asbuilt.Box, asbuilt.Point, geo.Vec{X: x, Y: y})
	p.Size = metres(side)
	return p
}

func trench(id string, width float64, v ...geo.Vec) asbuilt.Part {
	p := part(id, asbuilt.Lateral, asbuilt.Line, v...)
	p.Width = metres(width)
	return p
}

func part(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) asbuilt.Part {
	return asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: v}}}
}

// try runs little sites as tests.
func try(t *testing.T, sites []little) {
	t.Helper()
	for _, l := range sites {
		t.Run(l.name, l.try)
	}
}

// solve adjusts the site.
func (l little) solve(t *testing.T) component {
	n := l.network(t)
	small := make([]float64, n.size)
	for i := range small {
		small[i] = 1e-10
	}
	var v adjust.Solver
	sol, err := v.Solve(n, &n.prior, n.prior.Mean, adjust.Options{Small: small, MaxIterations: 200})
	require.NoError(t, err)
	return component{network: n, solution: sol}
}

func (l little) try(t *testing.T) {
	n := l.network(t)
	var rows adjust.Rows
	adjust.Linearize(n, n.prior.Mean, &rows)
	got, row := map[string][]float64{}, 0
	for _, o := range n.observations {
		for k := range equations[o.kind].rows {
			off := rows.Misclosure(row) * [2]float64{o.sigma, o.sigma2}[k]
			if o.kind == direction {
				off *= 180 / math.Pi
			}
			got[o.id] = append(got[o.id], off)
			row++
		}
	}
	for id, want := range l.off {
		require.Len(t, got[id], len(want), id)
		for k := range want {
			assert.InDelta(t, want[k], got[id][k], 1e-6, "observed less computed of %s, row %d", id, k)
		}
	}

	c := l.solve(t)
	n = c.network
	at := c.places()
	place := map[string]geo.Vec{}
	for name, k := range n.drawing.spots {
		place[name.Part+" "+string(name.Spot)] = at[k]
	}
	for k, p := range n.points {
		place[p.name] = at[len(n.drawing.nodes)+k]
	}
	want := adjusted(t)[l.name]
	require.Len(t, want, len(place), "testdata/reference/equations.json has the places of %q", l.name)
	for name, v := range want {
		require.Contains(t, place, name)
		assert.InDelta(t, v[0], place[name].X, 2e-6, "%s, east", name)
		assert.InDelta(t, v[1], place[name].Y, 2e-6, "%s, north", name)
	}
}

// adjusted returns what SciPy made of the little sites: places by name, by the
// name of the site.
func adjusted(t *testing.T) (sites map[string]map[string][2]float64) {
	b, err := os.ReadFile(filepath.Join("..", "testdata", "reference", "equations.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &sites))
	return sites
}

// network returns the site as an adjustment: the engine's own equations, with
// the priors of the site in the place of a drawing's.
func (l little) network(t *testing.T) *network {
	j := &Job{Settings: DefaultSettings(), Readings: l.readings,
		Sketch: &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: l.parts}}
	j.Settings.Declination = geo.Degrees(l.declination)
	b := newBook(j)
	d := newDrawing(j.Sketch, fault{})
	sigma := make([]float64, len(d.nodes))
	for name, k := range d.spots {
		sigma[k] = l.sigma[name.Part]
	}
	for id, line := range d.lines {
		for _, k := range line {
			sigma[k] = l.sigma[id]
		}
	}
	size, logDet := 2*len(d.nodes), 0.0
	info := make([]float64, size*size)
	for k, s := range sigma {
		require.Positive(t, s, "every place needs a standard deviation")
		for _, i := range []int{2 * k, 2*k + 1} {
			info[i*size+i] = 1 / (s * s)
			logDet += 2 * math.Log(s)
		}
	}
	const held = 1e-9
	n := newNetwork(d, b.points, len(b.fixSigma), [layUnknowns]float64{d.centre.X, d.centre.Y, 0, 0, 0},
		[layUnknowns]float64{held, held, held, held, held}, info, logDet)
	b.priors(n)
	for i, p := range b.points {
		at, ok := l.points[p.name]
		require.True(t, ok, p.name)
		n.prior.Mean[2*i], n.prior.Mean[2*i+1] = at.x, at.y
		n.sigma()[2*i], n.sigma()[2*i+1] = at.sigma, at.sigma
	}
	n.observations = b.observations(d, explanation{})
	return n
}
