package belief

import (
	"math"
	"slices"

	"asfound/geo"
)

// Regions are the regions of highest density of a sample: no region that holds
// as much is smaller. Source: Hyndman, Computing and graphing highest density
// regions, The American Statistician 50 (1996).
type Regions struct {
	Half, Most geo.Region // that hold 50 % and 95 %
	Lobes      []Lobe     // of Most, the heaviest first; one that holds less than leastLobe is left out
}

// Lobe is a connected piece of a region of highest density.
type Lobe struct {
	Share    float64    // of the belief that lies in it
	At       geo.Vec    // mean of that, metres
	Radius95 float64    // metres about At that hold 95 % of it
	Region   geo.Region // its outline, with any hole in it
}

const (
	leastDraws = 100  // fewer do not make a region
	leastLobe  = 0.05 // share below which a piece is put down to sampling error
	smooth     = 0.8  // of Silverman's bandwidth, which is for one lobe
	perWidth   = 3    // cells in a bandwidth
	mostCells  = 200  // of a side
)

// HighestDensity returns the regions of highest density of a sample of places,
// metres; ok is false where it is too small or has no spread. The density is
// that of Gaussian kernels of the shape of the sample's covariance (Silverman,
// Density Estimation for Statistics and Data Analysis, 1986, ch. 4); the levels
// are those that the sample itself lies above with 50 % and 95 %.
func HighestDensity(sample []geo.Vec) (r Regions, ok bool) {
	g, ok := newGrid(sample)
	if !ok {
		return Regions{}, false
	}
	g.fill()
	at := make([]float64, len(g.white))
	for i, v := range g.white {
		at[i] = g.density(v)
	}
	levels := slices.Sorted(slices.Values(at))
	r.Half, r.Most = g.above(levels[len(levels)/2]), g.above(levels[len(levels)/20])
	for _, patch := range r.Most {
		l := Lobe{Region: geo.Region{patch}}
		var in []geo.Vec
		for _, v := range sample {
			if l.Region.Contains(v) {
				in = append(in, v)
				l.At = l.At.Add(v)
			}
		}
		if l.Share = float64(len(in)) / float64(len(sample)); l.Share < leastLobe {
			continue
		}
		l.At = l.At.Scale(1 / float64(len(in)))
		far := make([]float64, len(in))
		for i, v := range in {
			far[i] = v.Dist(l.At)
		}
		slices.Sort(far)
		l.Radius95 = far[len(far)*19/20]
		r.Lobes = append(r.Lobes, l)
	}
	slices.SortStableFunc(r.Lobes, func(a, b Lobe) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	return r, true
}

// grid is a density on a grid of cells, in axes in which the sample's
// covariance is a unit circle.
type grid struct {
	mean         geo.Vec
	major, minor geo.Vec // one standard deviation of the sample along its axes, metres
	white        []geo.Vec
	corner       geo.Vec // of the first cell's middle
	step         float64
	nx, ny       int
	cell         []float64
}

// newGrid lays a grid about a sample.
func newGrid(sample []geo.Vec) (*grid, bool) {
	if len(sample) < leastDraws {
		return nil, false
	}
	g := &grid{}
	for _, v := range sample {
		if !v.Finite() {
			return nil, false
		}
		g.mean = g.mean.Add(v.Scale(1 / float64(len(sample))))
	}
	var c geo.Cov
	for _, v := range sample {
		c = c.Add(geo.Outer(v.Sub(g.mean)).Scale(1 / float64(len(sample))))
	}
	a, b, bearing := c.Eigen()
	if !(b > 1e-8) { // a tenth of a millimetre
		return nil, false
	}
	sin, cos := math.Sincos(bearing.Radians())
	e := geo.Vec{X: sin, Y: cos}
	g.major, g.minor = e.Scale(math.Sqrt(a)), e.Right().Scale(-math.Sqrt(b)) // right-handed, so that rings keep their sense
	width := smooth * math.Pow(float64(len(sample)), -1.0/6)
	lo, hi := geo.Vec{X: math.Inf(1), Y: math.Inf(1)}, geo.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, v := range sample {
		v = v.Sub(g.mean)
		w := geo.Vec{X: v.Dot(g.major) / a, Y: v.Dot(g.minor) / b}
		g.white = append(g.white, w)
		lo, hi = geo.Vec{X: min(lo.X, w.X), Y: min(lo.Y, w.Y)}, geo.Vec{X: max(hi.X, w.X), Y: max(hi.Y, w.Y)}
	}
	rim := geo.Vec{X: 4 * width, Y: 4 * width}
	lo, hi = lo.Sub(rim), hi.Add(rim)
	g.corner = lo
	g.step = max(width/perWidth, (hi.X-lo.X)/mostCells, (hi.Y-lo.Y)/mostCells)
	g.nx, g.ny = int((hi.X-lo.X)/g.step)+2, int((hi.Y-lo.Y)/g.step)+2
	g.cell = make([]float64, g.nx*g.ny)
	return g, true
}

// fill counts the sample into the cells and smooths them.
func (g *grid) fill() {
	for _, v := range g.white {
		x, y := (v.X-g.corner.X)/g.step, (v.Y-g.corner.Y)/g.step
		i, j := int(x), int(y)
		u, w := x-float64(i), y-float64(j)
		g.cell[j*g.nx+i] += (1 - u) * (1 - w)
		g.cell[j*g.nx+i+1] += u * (1 - w)
		g.cell[(j+1)*g.nx+i] += (1 - u) * w
		g.cell[(j+1)*g.nx+i+1] += u * w
	}
	width := smooth * math.Pow(float64(len(g.white)), -1.0/6) / g.step
	var kernel []float64
	for k := range int(math.Ceil(3.5*width)) + 1 {
		kernel = append(kernel, math.Exp(-float64(k*k)/(2*width*width)))
	}
	g.blur(kernel, 1, g.nx, g.ny)
	g.blur(kernel, g.nx, g.ny, g.nx)
}

// blur smooths rows of n cells that are step apart; there are lines of them.
func (g *grid) blur(kernel []float64, step, n, lines int) {
	next := g.nx
	if step != 1 {
		next = 1
	}
	row := make([]float64, n)
	for l := range lines {
		at := l * next
		clear(row)
		for i := range n {
			v := g.cell[at+i*step]
			if v == 0 {
				continue
			}
			row[i] += v * kernel[0]
			for k := 1; k < len(kernel); k++ {
				if i-k >= 0 {
					row[i-k] += v * kernel[k]
				}
				if i+k < n {
					row[i+k] += v * kernel[k]
				}
			}
		}
		for i, v := range row {
			g.cell[at+i*step] = v
		}
	}
}

// density returns the density at a place of the grid's axes, up to a factor.
func (g *grid) density(v geo.Vec) float64 {
	x, y := (v.X-g.corner.X)/g.step, (v.Y-g.corner.Y)/g.step
	i, j := int(x), int(y)
	u, w := x-float64(i), y-float64(j)
	a := g.cell[j*g.nx+i]*(1-u) + g.cell[j*g.nx+i+1]*u
	b := g.cell[(j+1)*g.nx+i]*(1-u) + g.cell[(j+1)*g.nx+i+1]*u
	return a*(1-w) + b*w
}

// ground returns a place, given in cells, on the ground.
func (g *grid) ground(x, y float64) geo.Vec {
	return g.mean.Add(g.major.Scale(g.corner.X + x*g.step)).Add(g.minor.Scale(g.corner.Y + y*g.step))
}
