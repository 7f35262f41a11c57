// Package little is sites small enough to be adjusted by hand, or by a script of
// twenty lines: for tests of the equations and of the fit.
package little

import (
	"context"
	"fmt"
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// Known is a place in metres, east and north, and its standard deviation per
// axis.
type Known [3]float64

// Site is a little site: every place is known beforehand as it is drawn, to a
// standard deviation of its own, and the sheet is laid on the field as it is,
// one unit a metre. So the effect of one reading can be worked out by hand.
// testdata/reference/equations.py adjusts the same sites with SciPy;
// equations.json has its answers.
type Site struct {
	Name        string
	Parts       []asbuilt.Part
	Sigma       map[string]float64 // of a part's places per axis, metres
	Points      map[string]Known   // of the log: holes and stakes
	Declination float64            // degrees, 0: not given
	Readings    []survey.Reading

	Off map[string][]float64 // observed less computed before the adjustment, worked by hand, by reading: metres or degrees
}

// Network returns the site as an adjustment: the engine's own equations, with
// the priors of the site in the place of a drawing's. It is an error for a place
// to have no standard deviation.
func (s Site) Network() (*observe.Network, error) {
	j := &survey.Job{Settings: survey.DefaultSettings(), Readings: s.Readings,
		Sketch: &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: s.Parts}}
	j.Settings.Declination = geo.Degrees(s.Declination)
	log, d := observe.NewLog(j), drawing.New(j.Sketch, drawing.Hypothesis{})
	sigma := make([]float64, len(d.Nodes))
	for name, k := range d.Spots {
		sigma[k] = s.Sigma[name.Part]
	}
	for id, line := range d.Lines {
		for _, k := range line {
			sigma[k] = s.Sigma[id]
		}
	}
	size, logDet := 2*len(d.Nodes), 0.0
	info := make([]float64, size*size)
	for k, v := range sigma {
		if !(v > 0) {
			return nil, fmt.Errorf("%s: every place needs a standard deviation", s.Name)
		}
		for _, i := range []int{2 * k, 2*k + 1} {
			info[i*size+i] = 1 / (v * v)
			logDet += 2 * math.Log(v)
		}
	}
	const held = 1e-9
	lay := observe.Layout{Mean: [observe.LayUnknowns]float64{d.Centre.X, d.Centre.Y, 0, 0, 0}, Sigma: [observe.LayUnknowns]float64{held, held, held, held, held}}
	n := observe.NewNetwork(log, d, lay, info, logDet)
	for i, p := range log.Points {
		at, ok := s.Points[p.Name]
		if !ok {
			return nil, fmt.Errorf("%s: where is %s?", s.Name, p.Name)
		}
		n.Set(n.Prior.Mean, i, geo.Vec{X: at[0], Y: at[1]})
		n.Set(n.Prior.Blocks[0].Sigma, i, geo.Vec{X: at[2], Y: at[2]})
	}
	return n.With(log.Observations(d, observe.Explanation{})), nil
}

// Solve adjusts the site, to the last digit that there is.
func (s Site) Solve() (*observe.Network, *adjust.Solution, error) {
	n, err := s.Network()
	if err != nil {
		return nil, nil, err
	}
	small := make([]float64, n.Size)
	for i := range small {
		small[i] = 1e-10
	}
	var v adjust.Solver
	sol, err := v.Solve(context.Background(), n, &n.Prior, n.Prior.Mean, adjust.Options{Small: small, MaxIterations: 200})
	return n, sol, err
}
