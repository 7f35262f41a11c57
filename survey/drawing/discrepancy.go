package drawing

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
	"asfound/geo"
)

// Drafting is how wrong a drawing of one trust is, as standard deviations.
//
// None of these numbers is published. They are engineering judgement, checked
// by simulation (survey/simulate), until finished jobs can replace them.
type Drafting struct {
	Scale    float64 // of the logarithm of the scale
	Stretch  float64 // half the logarithm of x scale over y scale
	Shift    float64 // metres: field against house
	Drift    float64 // per metre between house and field, in the same
	Turn     float64 // radians: field against house
	Size     float64 // field drawn at another scale than the house
	Spacing  float64 // per spacing of neighbouring laterals
	Along    float64 // metres: a lateral slid along itself
	Length   float64 // per length of a lateral
	Tilt     float64 // radians: a lateral not parallel to the others
	Box      float64 // metres: the box against the laterals
	Landmark float64 // metres: a landmark against the others
	Point    float64 // metres: any other drawn point
}

// DraftingOf returns how wrong a drawing is: as usual for its trust, or as finished
// jobs say of sheets like it.
func DraftingOf(s *asbuilt.Sketch) Drafting {
	d := usualDrafting(s.Trust)
	if s.Learned == nil {
		return d
	}
	f := s.Learned.Factors
	for _, v := range []*float64{&d.Scale, &d.Stretch} {
		*v *= f.Scale
	}
	for _, v := range []*float64{&d.Shift, &d.Drift, &d.Turn, &d.Size} {
		*v *= f.Field
	}
	for _, v := range []*float64{&d.Spacing, &d.Along, &d.Length, &d.Tilt, &d.Box, &d.Landmark, &d.Point} {
		*v *= f.Detail
	}
	return d
}

// usualDrafting returns how wrong a drawing of a trust usually is.
func usualDrafting(t asbuilt.Trust) Drafting {
	deg := math.Pi / 180
	switch t {
	case asbuilt.ToScale:
		return Drafting{Scale: 0.02, Stretch: 0.01, Shift: 0.3, Drift: 0.01, Turn: 1 * deg, Size: 0.01, Spacing: 0.03,
			Along: 0.2, Length: 0.02, Tilt: 0.5 * deg, Box: 0.2, Landmark: 0.10, Point: 0.055}
	case asbuilt.NotToScale:
		return Drafting{Scale: 0.35, Stretch: 0.10, Shift: 1.5, Drift: 0.10, Turn: 6 * deg, Size: 0.12, Spacing: 0.15,
			Along: 1.0, Length: 0.10, Tilt: 3 * deg, Box: 1.0, Landmark: 0.38, Point: 0.155}
	}
	return Drafting{Scale: 0.10, Stretch: 0.04, Shift: 0.8, Drift: 0.04, Turn: 3 * deg, Size: 0.05, Spacing: 0.08,
		Along: 0.5, Length: 0.05, Tilt: 1.5 * deg, Box: 0.5, Landmark: 0.205, Point: 0.0925}
}

// Discrepancy is the prior of how far each node lies from where a perfect
// drawing would put it, in metres in the axes of the sheet, as three covariances
// of 2 × len(nodes) numbers that are added: of the house and what stands about
// it, of the field as one block, and of everything within the field. It is
// least-squares collocation with a sum of named modes. Source of the method:
// Moritz, Advanced Physical Geodesy, part B; the modes are this project's own.
type Discrepancy struct {
	N      int       // 2 × nodes
	House  []float64 // of landmarks against one another
	Block  []float64 // of the field, and of the tank, as one against the house
	Within []float64 // of everything within field and tank
}

// NewDiscrepancy builds the discrepancy of a drawing at a scale in metres per
// drawing unit.
func NewDiscrepancy(d *Drawing, scale float64) *Discrepancy {
	f := DraftingOf(d.Sketch)
	c := &Discrepancy{N: 2 * len(d.Nodes)}
	c.House = make([]float64, c.N*c.N)
	c.Block = make([]float64, c.N*c.N)
	c.Within = make([]float64, c.N*c.N)

	q := make([]geo.Vec, len(d.Nodes))
	for i, k := range d.Nodes {
		q[i] = k.At.Metres(scale)
	}
	// mode adds sigma² v vᵀ, v being given by its value at each node.
	mode := func(to []float64, sigma float64, value func(i int) geo.Vec) {
		v := make([]float64, c.N)
		for i := range d.Nodes {
			w := value(i)
			v[2*i], v[2*i+1] = sigma*w.X, sigma*w.Y
		}
		for i, a := range v {
			if a == 0 {
				continue
			}
			for j, b := range v {
				to[i*c.N+j] += a * b
			}
		}
	}
	only := func(g Group, w geo.Vec) func(int) geo.Vec {
		return func(i int) geo.Vec {
			if d.Nodes[i].Group == g {
				return w
			}
			return geo.Vec{}
		}
	}
	east, north := geo.Vec{X: 1}, geo.Vec{Y: 1}

	home, _ := d.Centroid(House)
	if fc, ok := d.Centroid(Field); ok {
		shift := math.Hypot(f.Shift, f.Drift*d.Away(House, Field, scale))
		mode(c.Block, shift, only(Field, east))
		mode(c.Block, shift, only(Field, north))
		from := d.trunk(fc)
		about := func(turn bool) func(int) geo.Vec {
			return func(i int) geo.Vec {
				if d.Nodes[i].Group != Field {
					return geo.Vec{}
				}
				v := q[i].Sub(from.Metres(scale))
				if turn {
					v = geo.Vec{X: -v.Y, Y: v.X}
				}
				return v
			}
		}
		mode(c.Block, f.Turn, about(true))
		mode(c.Block, f.Size, about(false))
	}
	if _, ok := d.Centroid(Tank); ok {
		shift := math.Hypot(0.65*f.Shift, f.Drift*d.Away(House, Tank, scale))
		mode(c.Block, shift, only(Tank, east))
		mode(c.Block, shift, only(Tank, north))
	}
	c.addLaterals(d, f, scale, mode)

	for i, k := range d.Nodes {
		one := func(w geo.Vec) func(int) geo.Vec {
			return func(j int) geo.Vec {
				if i == j {
					return w
				}
				return geo.Vec{}
			}
		}
		sigma := f.Point
		switch {
		case k.Kind == asbuilt.Landmark:
			sigma = f.Landmark
			if k.OffHouse {
				sigma = f.Surrounding(q[i].Dist(home.Metres(scale)))
			}
		case k.Kind == asbuilt.Box, k.Kind == asbuilt.Header:
			sigma = math.Hypot(f.Box, f.Point)
		}
		to := c.Within
		if k.Group == House {
			to = c.House
		}
		mode(to, sigma, one(east))
		mode(to, sigma, one(north))
	}
	return c
}

// trunk returns the place that the field is drawn outwards from: the middle of
// its boxes and of the starts of its laterals, where it joins the house; the
// middle of the field where it has neither.
func (d *Drawing) trunk(middle Drawn) Drawn {
	var from []geo.Vec
	for _, k := range d.Nodes {
		if k.Group == Field && (k.Kind == asbuilt.Box || k.Lateral >= 0 && k.Along == 0) {
			from = append(from, k.At.v)
		}
	}
	if len(from) == 0 {
		return middle
	}
	return Drawn{geo.Mean(from)}
}

// Surrounding returns the standard deviation per axis, in metres, of something
// drawn off the house, away metres from its centre.
func (f Drafting) Surrounding(away float64) float64 {
	return math.Sqrt(f.Landmark*f.Landmark + f.Shift*f.Shift/4 + f.Drift*f.Drift*away*away/4)
}

// addLaterals adds what goes wrong lateral by lateral: where each lies across
// and along, how long it is, how it is turned.
func (c *Discrepancy) addLaterals(d *Drawing, f Drafting, scale float64, mode func([]float64, float64, func(int) geo.Vec)) {
	e, spacing := d.direction()
	across := make([]float64, len(d.Laterals))
	dir := make([]geo.Vec, len(d.Laterals))
	long := make([]float64, len(d.Laterals))
	for li := range d.Laterals {
		a, b := d.ends(li)
		across[li] = a.Lerp(b, 0.5).v.Dot(e.Right()) * scale
		long[li] = b.Dist(a) * scale
		if dir[li] = b.Sub(a).v.Unit(); dir[li] == (geo.Vec{}) {
			dir[li] = e
		}
	}
	on := func(li int, w func(u float64) geo.Vec) func(int) geo.Vec {
		return func(i int) geo.Vec {
			if d.Nodes[i].Lateral != li {
				return geo.Vec{}
			}
			return w(d.Nodes[i].Along)
		}
	}
	// Spacings are drawn one after another, so their errors add up: an
	// exponential covariance whose neighbour increment has spacing·f.Spacing.
	reach := 4 * spacing
	sc := f.Spacing * spacing * math.Sqrt(2)
	for i, ni := range d.Nodes {
		for j, nj := range d.Nodes {
			if ni.Lateral < 0 || nj.Lateral < 0 {
				continue
			}
			a, b := dir[ni.Lateral].Right(), dir[nj.Lateral].Right()
			if a.Dot(e.Right()) < 0 {
				a = a.Scale(-1)
			}
			if b.Dot(e.Right()) < 0 {
				b = b.Scale(-1)
			}
			k := sc * sc * math.Exp(-math.Abs(across[ni.Lateral]-across[nj.Lateral])/reach)
			c.Within[2*i*c.N+2*j] += k * a.X * b.X
			c.Within[2*i*c.N+2*j+1] += k * a.X * b.Y
			c.Within[(2*i+1)*c.N+2*j] += k * a.Y * b.X
			c.Within[(2*i+1)*c.N+2*j+1] += k * a.Y * b.Y
		}
	}
	lateralMode := func(sigma float64, w func(li int, u float64) geo.Vec) {
		mode(c.Within, sigma, func(i int) geo.Vec {
			if li := d.Nodes[i].Lateral; li >= 0 {
				return w(li, d.Nodes[i].Along)
			}
			return geo.Vec{}
		})
	}
	// Start line and Length: partly common to all, partly each lateral's own.
	lateralMode(0.6*f.Along, func(li int, _ float64) geo.Vec { return dir[li] })
	lateralMode(0.7*f.Length, func(li int, u float64) geo.Vec { return dir[li].Scale((u - 0.5) * long[li]) })
	for li := range d.Laterals {
		mode(c.Within, 0.6*f.Along, on(li, func(float64) geo.Vec { return dir[li] }))
		mode(c.Within, 0.7*f.Length, on(li, func(u float64) geo.Vec { return dir[li].Scale((u - 0.5) * long[li]) }))
		mode(c.Within, 0.6*f.Tilt, on(li, func(u float64) geo.Vec { return dir[li].Right().Scale((u - 0.5) * long[li]) }))
	}
}

// Covariance returns the covariance of the discrepancies under a supposition,
// m²; widen is a factor of all standard deviations.
func (c *Discrepancy) Covariance(s Supposition, widen float64) *mat.SymDense {
	m := mat.NewSymDense(c.N, nil)
	house, block, within := widen*widen*s.Sheet*s.Sheet, widen*widen*s.Block*s.Block, widen*widen*s.Sheet
	for i := range c.N {
		for j := i; j < c.N; j++ {
			k := i*c.N + j
			m.SetSym(i, j, house*c.House[k]+block*c.Block[k]+within*c.Within[k])
		}
	}
	return m
}

// Inverse returns the inverse of a covariance, and the logarithm of its
// determinant; ok is false where it has none.
func Inverse(m *mat.SymDense) (info []float64, logDet float64, ok bool) {
	var f mat.Cholesky
	if !f.Factorize(m) {
		return nil, 0, false
	}
	var inv mat.SymDense
	if f.InverseTo(&inv) != nil {
		return nil, 0, false
	}
	n := m.SymmetricDim()
	info = make([]float64, n*n)
	for i := range n {
		for j := range n {
			info[i*n+j] = inv.At(i, j)
		}
	}
	return info, f.LogDet(), true
}
