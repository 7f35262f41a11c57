package geojson

import (
	"bytes"
	"encoding/json"

	"asfound/asbuilt"
)

// knownJSON is sketch.known. A machine writes it.
type knownJSON struct {
	Places     []vertexJSON `json:"places"`
	Covariance []float64    `json:"covariance"`
	Covers     []coverJSON  `json:"covers,omitempty"`

	CoverCovariance []float64 `json:"cover_covariance,omitempty"`
}

type vertexJSON struct {
	Part   string `json:"part"`
	Vertex int    `json:"vertex,omitempty"`
}

type coverJSON struct {
	vertexJSON
	Cover float64 `json:"cover"`
}

func newKnown(k *asbuilt.Known) *knownJSON {
	out := &knownJSON{Places: []vertexJSON{}, Covariance: append([]float64{}, k.Covariance...), CoverCovariance: k.CoverCovariance}
	for _, v := range k.Places {
		out.Places = append(out.Places, vertexJSON{v.Part, v.Index})
	}
	for _, c := range k.Covers {
		out.Covers = append(out.Covers, coverJSON{vertexJSON{c.Part, c.Index}, c.Mean})
	}
	return out
}

// known reads sketch.known, nil where there is none that can be read. Check looks at
// its content.
func (d *decoder) known(v value) *asbuilt.Known {
	if !given(v) {
		return nil
	}
	var in knownJSON
	read := json.NewDecoder(bytes.NewReader(v))
	read.DisallowUnknownFields()
	if err := read.Decode(&in); err != nil {
		d.addf("sketch.known", v.show(), "what record wrote: places, covariance and covers (%v)", err)
		return nil
	}
	k := &asbuilt.Known{Covariance: in.Covariance, CoverCovariance: in.CoverCovariance}
	for _, v := range in.Places {
		k.Places = append(k.Places, asbuilt.Vertex{Part: v.Part, Index: v.Vertex})
	}
	for _, c := range in.Covers {
		k.Covers = append(k.Covers, asbuilt.Cover{Vertex: asbuilt.Vertex{Part: c.Part, Index: c.Vertex}, Mean: c.Cover})
	}
	return k
}
