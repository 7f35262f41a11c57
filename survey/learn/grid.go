package learn

import (
	"math"

	"asfound/asbuilt"
)

// The grid of factors, the same for each of the three: from ratio^first on, so many
// steps of ratio. Judgement: a sheet is not more than a few times as far off as its
// trust says for long, or its trust would be another.
const (
	ratio = 1.5
	first = -2
	steps = 6
	cells = steps * steps * steps

	fine      = 4 // parts of a step, where factors are weighed
	fineSteps = (steps-1)*fine + 1
)

// axes is a function of the three factors' logarithms on the grid.
type axes [cells]float64

// logAt returns the logarithm of the factor at a place on the grid, in steps.
func logAt(step float64) float64 { return (first + step) * math.Log(ratio) }

// at returns the steps of a cell: of scale, field and detail.
func at(cell int) [3]int { return [3]int{cell / steps / steps, cell / steps % steps, cell % steps} }

// factorsAt returns the factors of a cell.
func factorsAt(cell int) asbuilt.Factors {
	k := at(cell)
	one := func(i int) float64 { return math.Exp(logAt(float64(k[i]))) }
	return asbuilt.Factors{Scale: one(0), Field: one(1), Detail: one(2)}
}

// logs returns the logarithms of factors.
func logs(f asbuilt.Factors) [3]float64 {
	return [3]float64{math.Log(f.Scale), math.Log(f.Field), math.Log(f.Detail)}
}

// weights returns the weights of a row of the grid at u steps along it: the cubic
// through the four nearest points (Lagrange; Abramowitz & Stegun, 25.2.13). Beyond the
// grid it is that of its edge.
func weights(u float64) (w [steps]float64) {
	u = min(max(u, 0), steps-1)
	from := min(max(int(u)-1, 0), steps-4)
	for i := from; i < from+4; i++ {
		w[i] = 1
		for j := from; j < from+4; j++ {
			if j != i {
				w[i] *= (u - float64(j)) / float64(i-j)
			}
		}
	}
	return w
}

// between returns a function of the grid between its points.
func (a *axes) between(f asbuilt.Factors) (sum float64) {
	var w [3][steps]float64
	for i, l := range logs(f) {
		w[i] = weights((l - logAt(0)) / math.Log(ratio))
	}
	for cell, v := range a {
		k := at(cell)
		sum += w[0][k[0]] * w[1][k[1]] * w[2][k[2]] * v
	}
	return sum
}

// finely calls visit with the steps of every point of a grid of finer steps, and the
// function there.
func (a *axes) finely(visit func(u [3]float64, v float64)) {
	var w [fineSteps][steps]float64
	for i := range w {
		w[i] = weights(float64(i) / fine)
	}
	for i := range w {
		var plane [steps][steps]float64
		for cell, v := range a {
			k := at(cell)
			plane[k[1]][k[2]] += w[i][k[0]] * v
		}
		for j := range w {
			var row [steps]float64
			for m := range row {
				for n := range steps {
					row[m] += w[j][n] * plane[n][m]
				}
			}
			for k := range w {
				v := 0.0
				for m := range row {
					v += w[k][m] * row[m]
				}
				visit([3]float64{float64(i) / fine, float64(j) / fine, float64(k) / fine}, v)
			}
		}
	}
}
