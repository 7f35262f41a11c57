package encounter

// Within returns the chance that something lies within an edge that is expected
// to be inside by so many metres and may be out by so many either way, each as
// likely as the others: a straight ramp.
func Within(inside, out float64) float64 { return max(0, min(1, 0.5+inside/(2*out))) }

// rampOut is the half-width of a ramp over the standard deviation that it stands
// for: √3, that of a uniform deviation, within a fiftieth.
const rampOut = 1.7

// OutFor returns by how many metres the edge of the body may lie off the rim of a
// hole that is set out to a standard deviation of sigma metres, either way: what
// is larger, its own or that of the hole.
func (b Body) OutFor(sigma float64) float64 { return max(b.Out, rampOut*sigma) }
