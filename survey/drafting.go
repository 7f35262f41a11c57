package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
	"asfound/geo"
)

// drafting is how wrong a drawing of one trust is, as standard deviations.
//
// None of these numbers is published. They are engineering judgement, checked
// by simulation (survey/simulate), until finished jobs can replace them.
type drafting struct {
	scale    float64 // of the logarithm of the scale
	stretch  float64 // half the logarithm of x scale over y scale
	shift    float64 // metres: field against house
	drift    float64 // per metre between house and field, in the same
	turn     float64 // radians: field against house
	size     float64 // field drawn at another scale than the house
	spacing  float64 // per spacing of neighbouring laterals
	along    float64 // metres: a lateral slid along itself
	length   float64 // per length of a lateral
	tilt     float64 // radians: a lateral not parallel to the others
	box      float64 // metres: the box against the laterals
	landmark float64 // metres: a landmark against the others
	point    float64 // metres: any other drawn point
}

const (
	usualLateral = 18.3 // metres, 60 ft: common practice, no published source
	usualLot     = 40.0 // metres across house and field: common practice, no published source
	usualSpacing = 2.5  // metres, 8 ft on centre: common practice, no published source
)

func draftingOf(t asbuilt.Trust) drafting {
	deg := math.Pi / 180
	switch t {
	case asbuilt.ToScale:
		return drafting{scale: 0.02, stretch: 0.01, shift: 0.3, drift: 0.01, turn: 1 * deg, size: 0.01, spacing: 0.03,
			along: 0.2, length: 0.02, tilt: 0.5 * deg, box: 0.2, landmark: 0.10, point: 0.055}
	case asbuilt.NotToScale:
		return drafting{scale: 0.35, stretch: 0.10, shift: 1.5, drift: 0.10, turn: 6 * deg, size: 0.12, spacing: 0.15,
			along: 1.0, length: 0.10, tilt: 3 * deg, box: 1.0, landmark: 0.38, point: 0.155}
	}
	return drafting{scale: 0.10, stretch: 0.04, shift: 0.8, drift: 0.04, turn: 3 * deg, size: 0.05, spacing: 0.08,
		along: 0.5, length: 0.05, tilt: 1.5 * deg, box: 0.5, landmark: 0.205, point: 0.0925}
}

// discrepancy is the prior of how far each node lies from where a perfect
// drawing would have it, in metres in the axes of the sheet, as two
// covariances of 2 × len(nodes) numbers that are added: of the field as one
// block, and of everything within it. It is least-squares collocation with a
// sum of named modes. Source of the method: Moritz, Advanced Physical Geodesy,
// part B; the modes are this project's own.
type discrepancy struct {
	n             int // 2 × nodes
	block, within []float64
}

// newDiscrepancy builds the discrepancy of a drawing at a scale in metres per
// drawing unit.
func newDiscrepancy(d *drawing, scale float64) *discrepancy {
	f := draftingOf(d.sketch.Trust)
	c := &discrepancy{n: 2 * len(d.nodes)}
	c.block = make([]float64, c.n*c.n)
	c.within = make([]float64, c.n*c.n)

	q := make([]geo.Vec, len(d.nodes))
	for i, k := range d.nodes {
		q[i] = k.at.Scale(scale)
	}
	// mode adds sigma² v vᵀ, v being given by its value at each node.
	mode := func(to []float64, sigma float64, value func(i int) geo.Vec) {
		v := make([]float64, c.n)
		for i := range d.nodes {
			w := value(i)
			v[2*i], v[2*i+1] = sigma*w.X, sigma*w.Y
		}
		for i, a := range v {
			if a == 0 {
				continue
			}
			for j, b := range v {
				to[i*c.n+j] += a * b
			}
		}
	}
	only := func(g group, w geo.Vec) func(int) geo.Vec {
		return func(i int) geo.Vec {
			if d.nodes[i].group == g {
				return w
			}
			return geo.Vec{}
		}
	}
	east, north := geo.Vec{X: 1}, geo.Vec{Y: 1}

	home, haveHome := d.centroid(house)
	if fc, ok := d.centroid(field); ok {
		away := 0.0
		if haveHome {
			away = fc.Dist(home) * scale
		}
		shift := math.Hypot(f.shift, f.drift*away)
		mode(c.block, shift, only(field, east))
		mode(c.block, shift, only(field, north))
		from := d.root(fc)
		about := func(turn bool) func(int) geo.Vec {
			return func(i int) geo.Vec {
				if d.nodes[i].group != field {
					return geo.Vec{}
				}
				v := q[i].Sub(from.Scale(scale))
				if turn {
					v = geo.Vec{X: -v.Y, Y: v.X}
				}
				return v
			}
		}
		mode(c.block, f.turn, about(true))
		mode(c.block, f.size, about(false))
	}
	if tc, ok := d.centroid(tank); ok {
		away := 0.0
		if haveHome {
			away = tc.Dist(home) * scale
		}
		shift := math.Hypot(0.65*f.shift, f.drift*away)
		mode(c.block, shift, only(tank, east))
		mode(c.block, shift, only(tank, north))
	}
	c.addLaterals(d, f, scale, mode)

	for i, k := range d.nodes {
		one := func(w geo.Vec) func(int) geo.Vec {
			return func(j int) geo.Vec {
				if i == j {
					return w
				}
				return geo.Vec{}
			}
		}
		sigma := f.point
		switch {
		case k.kind == asbuilt.Landmark:
			sigma = f.landmark
			if k.loose {
				sigma = surroundingSigma(f, q[i].Dist(home.Scale(scale)))
			}
		case k.kind == asbuilt.Box, k.kind == asbuilt.Header:
			sigma = math.Hypot(f.box, f.point)
		}
		mode(c.within, sigma, one(east))
		mode(c.within, sigma, one(north))
	}
	return c
}

// root returns the place that the field is drawn outwards from: the middle of
// its boxes and of the starts of its laterals, where it joins the house; the
// middle of the field where it has neither.
func (d *drawing) root(middle geo.Vec) geo.Vec {
	var from []geo.Vec
	for _, k := range d.nodes {
		if k.group == field && (k.kind == asbuilt.Box || k.lateral >= 0 && k.u == 0) {
			from = append(from, k.at)
		}
	}
	if len(from) == 0 {
		return middle
	}
	return geo.Mean(from)
}

// surroundingSigma returns the standard deviation per axis, in metres, of
// something drawn off the house, away metres from its centre.
func surroundingSigma(f drafting, away float64) float64 {
	return math.Sqrt(f.landmark*f.landmark + f.shift*f.shift/4 + f.drift*f.drift*away*away/4)
}

// addLaterals adds what goes wrong lateral by lateral: where each lies across
// and along, how long it is, how it is turned.
func (c *discrepancy) addLaterals(d *drawing, f drafting, scale float64, mode func([]float64, float64, func(int) geo.Vec)) {
	e, spacing := d.direction()
	across := make([]float64, len(d.laterals))
	dir := make([]geo.Vec, len(d.laterals))
	long := make([]float64, len(d.laterals))
	for li := range d.laterals {
		a, b := d.ends(li)
		across[li] = a.Lerp(b, 0.5).Dot(e.Right()) * scale
		long[li] = b.Dist(a) * scale
		if dir[li] = b.Sub(a).Unit(); dir[li] == (geo.Vec{}) {
			dir[li] = e
		}
	}
	on := func(li int, w func(u float64) geo.Vec) func(int) geo.Vec {
		return func(i int) geo.Vec {
			if d.nodes[i].lateral != li {
				return geo.Vec{}
			}
			return w(d.nodes[i].u)
		}
	}
	// Spacings are drawn one after another, so their errors add up: an
	// exponential covariance whose neighbour increment has spacing·f.spacing.
	reach := 4 * spacing
	sc := f.spacing * spacing * math.Sqrt(2)
	for i, ni := range d.nodes {
		for j, nj := range d.nodes {
			if ni.lateral < 0 || nj.lateral < 0 {
				continue
			}
			a, b := dir[ni.lateral].Right(), dir[nj.lateral].Right()
			if a.Dot(e.Right()) < 0 {
				a = a.Scale(-1)
			}
			if b.Dot(e.Right()) < 0 {
				b = b.Scale(-1)
			}
			k := sc * sc * math.Exp(-math.Abs(across[ni.lateral]-across[nj.lateral])/reach)
			c.within[2*i*c.n+2*j] += k * a.X * b.X
			c.within[2*i*c.n+2*j+1] += k * a.X * b.Y
			c.within[(2*i+1)*c.n+2*j] += k * a.Y * b.X
			c.within[(2*i+1)*c.n+2*j+1] += k * a.Y * b.Y
		}
	}
	lateralMode := func(sigma float64, w func(li int, u float64) geo.Vec) {
		mode(c.within, sigma, func(i int) geo.Vec {
			if li := d.nodes[i].lateral; li >= 0 {
				return w(li, d.nodes[i].u)
			}
			return geo.Vec{}
		})
	}
	// Start line and length: partly common to all, partly each lateral's own.
	lateralMode(0.6*f.along, func(li int, _ float64) geo.Vec { return dir[li] })
	lateralMode(0.7*f.length, func(li int, u float64) geo.Vec { return dir[li].Scale((u - 0.5) * long[li]) })
	for li := range d.laterals {
		mode(c.within, 0.6*f.along, on(li, func(float64) geo.Vec { return dir[li] }))
		mode(c.within, 0.7*f.length, on(li, func(u float64) geo.Vec { return dir[li].Scale((u - 0.5) * long[li]) }))
		mode(c.within, 0.6*f.tilt, on(li, func(u float64) geo.Vec { return dir[li].Right().Scale((u - 0.5) * long[li]) }))
	}
}

// information returns the inverse and the logarithm of the determinant of the
// covariance (all·within + all·block·blocks), the factors being squares of
// standard deviations: how much worse than usual the whole drawing is, and the
// field as one block beyond that.
func (c *discrepancy) information(all, block float64) (info []float64, logDet float64, ok bool) {
	m := mat.NewSymDense(c.n, nil)
	for i := range c.n {
		for j := i; j < c.n; j++ {
			m.SetSym(i, j, all*all*(c.within[i*c.n+j]+block*block*c.block[i*c.n+j]))
		}
	}
	var f mat.Cholesky
	if !f.Factorize(m) {
		return nil, 0, false
	}
	var inv mat.SymDense
	if f.InverseTo(&inv) != nil {
		return nil, 0, false
	}
	info = make([]float64, c.n*c.n)
	for i := range c.n {
		for j := range c.n {
			info[i*c.n+j] = inv.At(i, j)
		}
	}
	return info, f.LogDet(), true
}
