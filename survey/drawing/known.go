package drawing

import (
	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
)

// unknownSigma is the standard deviation in metres, each way, of a place that was
// added to a corrected as-built afterwards; judgement.
const unknownSigma = 10

// known returns the covariance of how far the nodes lie off the drawing, as a finished
// job knew it; nil where the sketch carries none.
func (d *Drawing) known() *mat.SymDense {
	k := d.Sketch.Known
	if k == nil {
		return nil
	}
	c, err := k.Matrix()
	if err != nil || c == nil {
		return nil // Check reports it
	}
	row := make([]int, len(d.Nodes)) // of each node: its place in k, and one; 0: none
	for i, v := range k.Places {
		if n, ok := d.node(v); ok && row[n] == 0 {
			row[n] = i + 1
		}
	}
	all := mat.NewSymDense(2*len(d.Nodes), nil)
	for a, i := range row {
		for b, j := range row[:a+1] {
			switch {
			case i > 0 && j > 0:
				for x := range 2 {
					for y := range 2 {
						all.SetSym(2*a+x, 2*b+y, c.At(2*(i-1)+x, 2*(j-1)+y))
					}
				}
			case a == b:
				all.SetSym(2*a, 2*a, unknownSigma*unknownSigma)
				all.SetSym(2*a+1, 2*a+1, unknownSigma*unknownSigma)
			}
		}
	}
	return all
}

// node returns the node of a vertex of the sketch; ok is false where it has none.
func (d *Drawing) node(v asbuilt.Vertex) (n int, ok bool) {
	if line, is := d.Lines[v.Part]; is && v.Index >= 0 && v.Index < len(line) {
		return line[v.Index], true
	}
	n, ok = d.Spots[asbuilt.SpotName{Part: v.Part, Spot: asbuilt.Center}]
	return n, ok && v.Index == 0
}

// Vertices returns a vertex of the sketch for each node, the first that it is of.
func (d *Drawing) Vertices() []asbuilt.Vertex {
	all := make([]asbuilt.Vertex, len(d.Nodes))
	note := func(v asbuilt.Vertex) {
		if n, ok := d.node(v); ok && all[n].Part == "" {
			all[n] = v
		}
	}
	for i := range d.Sketch.Parts {
		id := d.Sketch.Parts[i].ID
		if line, is := d.Lines[id]; is {
			for k := range line {
				note(asbuilt.Vertex{Part: id, Index: k})
			}
			continue
		}
		note(asbuilt.Vertex{Part: id})
	}
	return all
}
