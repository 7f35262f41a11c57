package adjust

// Rows is the linearised observations of one iteration, kept sparse: row i is
// a whitened misclosure and the gradient of the whitened model with respect to
// the unknowns that it touches. It is filled again at each iteration; the
// storage is kept.
type Rows struct {
	start []int
	index []int
	coef  []float64
	r     []float64

	touched []bool // scratch of one row
	dense   []float64
	list    []int
}

// reset empties the rows for n unknowns.
func (s *Rows) reset(n int) {
	s.start = append(s.start[:0], 0)
	s.index, s.coef, s.r, s.list = s.index[:0], s.coef[:0], s.r[:0], s.list[:0]
	if len(s.dense) != n {
		s.dense, s.touched = make([]float64, n), make([]bool, n)
	}
}

// alike returns empty rows with the capacity of s.
func (s *Rows) alike() *Rows {
	return &Rows{start: make([]int, 0, cap(s.start)), index: make([]int, 0, cap(s.index)),
		coef: make([]float64, 0, cap(s.coef)), r: make([]float64, 0, cap(s.r))}
}

// Add adds c to the gradient of the row being built with respect to unknown i.
func (s *Rows) Add(i int, c float64) {
	if !s.touched[i] {
		s.touched[i] = true
		s.list = append(s.list, i)
	}
	s.dense[i] += c
}

// End closes the row being built: its whitened misclosure is
// (observed − model)/sigma, and what was added is divided by sigma.
func (s *Rows) End(misclosure, sigma float64) {
	w := 1 / sigma
	for _, i := range s.list {
		s.index = append(s.index, i)
		s.coef = append(s.coef, s.dense[i]*w)
		s.dense[i], s.touched[i] = 0, false
	}
	s.list = s.list[:0]
	s.start = append(s.start, len(s.index))
	s.r = append(s.r, misclosure*w)
}

// Len returns the number of rows.
func (s *Rows) Len() int { return len(s.r) }

// Misclosure returns the whitened misclosure of row i.
func (s *Rows) Misclosure(i int) float64 { return s.r[i] }

// Row returns the unknowns that row i touches and the whitened gradient with
// respect to each. The slices are the storage itself: read, do not keep.
func (s *Rows) Row(i int) (index []int, coef []float64) {
	a, b := s.start[i], s.start[i+1]
	return s.index[a:b], s.coef[a:b]
}

// halfSquares returns ½ Σ r².
func (s *Rows) halfSquares() float64 {
	var q float64
	for _, r := range s.r {
		q += r * r
	}
	return q / 2
}

// Linearize fills s with the observations of m at y, as one iteration of Solve
// does.
func Linearize(m Model, y []float64, s *Rows) {
	s.reset(len(y))
	m.Observe(y, s)
}
