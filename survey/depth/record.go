package depth

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// number returns the metres of a length that was written and is a number.
func number(l *geo.Length) (metres float64, ok bool) {
	if l == nil || math.IsNaN(l.Metres) || math.IsInf(l.Metres, 0) {
		return 0, false
	}
	return l.Metres, true
}

// recorded takes the cover of a part from the sketch, or the usual cover where
// the sketch gives none.
func (m *Model) recorded(b *buried) {
	p := b.part
	if !b.placed {
		return
	}
	if k := m.job.Sketch.Known; k != nil {
		m.foreknown(b, k)
		return
	}
	cover, ok := number(p.Cover)
	m.covered = m.covered || ok
	id, what := "", "usual cover of "+p.ID
	if ok {
		id, what = "sketch:"+p.ID+".cover", "recorded cover of "+p.ID
	}
	// The cover is of the ground before the fill.
	add := func(v geo.Vec, f survey.Feature, value, sigma float64, also ...int) {
		q := m.depth(b, v, f).plus(-1, one(m.fill))
		for _, u := range also {
			q = q.plus(-1, one(u))
		}
		q.spread = 0
		m.obs = append(m.obs, observation{q, id, what, value, sigma, nil, nil})
	}
	switch p.Kind {
	case asbuilt.Lateral: // at both ends: a trench is dug to keep its cover
		own, value := []int{m.unknown(0, trenchSigma), m.record}, cover
		if !ok {
			own, value = []int{m.unknown(0, alikeSigma), m.usual()}, 0
		}
		for i, v := range []geo.Vec{b.line[0], b.line[len(b.line)-1]} {
			ends := m.share([2]string{"cover of starts", "cover of ends"}[i], 0, endsSigma)
			add(v, survey.Crown, value, placeSigma, append(own[:2:2], ends)...)
		}
	case asbuilt.Header:
		if ok {
			add(b.centre, survey.Crown, cover, math.Hypot(trenchSigma, placeSigma), m.record)
		} else {
			add(b.centre, survey.Crown, 0, unlikeSigma, m.usual())
		}
	case asbuilt.Box, asbuilt.Tank:
		usual := practice.BoxCover
		if p.Kind == asbuilt.Tank {
			usual = practice.TankCover
		}
		if ok {
			add(b.centre, survey.Top, cover, placeSigma, m.record)
		} else {
			add(b.centre, survey.Top, usual.Mean, usual.Sigma)
		}
	}
}

// foreknown takes the covers of a part from what a finished job knew: of the ground as
// it is, fill and all.
func (m *Model) foreknown(b *buried, k *asbuilt.Known) {
	errors, err := k.CoverMatrix()
	if err != nil {
		return // asbuilt.Sketch.Check reports it
	}
	for i, c := range k.Covers {
		if c.Part != b.part.ID || b.line != nil && c.Index >= len(b.line) {
			continue
		}
		v, f := b.centre, survey.Top
		if b.line != nil {
			v, f = b.line[c.Index], survey.Crown
		}
		row := make([]float64, len(k.Covers))
		for j := range row {
			row[j] = errors.At(i, j)
		}
		m.obs = append(m.obs, observation{m.depth(b, v, f), "sketch:" + c.Part + ".cover", "known cover of " + c.Part, c.Mean, math.Sqrt(row[i]), nil, &known{i, row}})
	}
}

// usual returns the usual cover of the laterals: the mean of those that are
// recorded, else that of practice.
func (m *Model) usual() int {
	sum, n := 0.0, 0.0
	for _, b := range m.parts {
		if c, ok := number(b.part.Cover); ok && b.part.Kind == asbuilt.Lateral {
			sum, n = sum+c, n+1
		}
	}
	if n > 0 {
		return m.share("usual cover", sum/n, usualSigma)
	}
	return m.share("usual cover", practice.Cover.Mean, practice.Cover.Sigma)
}

// written takes an invert that the sketch gives. Its datum is the record's own,
// so only differences count. That of a lateral is taken at its start.
func (m *Model) written(b *buried) {
	value, ok := number(b.part.Invert)
	if !ok || !b.placed {
		return
	}
	q := b.at(b.head()).plus(1, one(m.base))
	m.obs = append(m.obs, observation{q, "sketch:" + b.part.ID + ".invert", "recorded invert of " + b.part.ID, value, invertSigma, nil, nil})
}

// reading takes a level or the depth of a hole that met a part.
func (m *Model) reading(r *survey.Reading) {
	v, ok := m.places.Point(r.Point)
	if !ok || !v.Finite() {
		return
	}
	switch r.Kind {
	case survey.Level:
		if value, ok := number(r.Value); ok {
			sigma := shotSigma
			if s, ok := number(r.Sigma); ok && s > 0 {
				sigma = max(s, leastSigma)
			}
			m.obs = append(m.obs, observation{m.ground(v).plus(1, one(m.datum)), r.ID, "level of " + r.Point, value, sigma, nil, nil})
		}
	case survey.Found:
		value, ok := number(r.Depth)
		b := m.named[r.Target]
		if b == nil {
			b = m.named[m.places.Met(r.ID)]
		}
		if !ok || b == nil {
			return
		}
		f := b.feature(r.Feature)
		sigma := crownSigma
		if f == survey.Bottom || f == survey.Top && b.part.Kind == asbuilt.Lateral && b.part.Bed != asbuilt.Chamber {
			sigma = softSigma
		}
		if b.line != nil {
			sigma = math.Hypot(sigma, unevenSigma)
		}
		m.obs = append(m.obs, observation{m.depth(b, v, f), r.ID, "depth of " + b.part.ID + " at " + r.Point, value, sigma, r.Depth, nil})
	case survey.Sonde:
		m.sonde(r, v)
	}
}

// sonde takes the depth of a transmitter, which lies on the invert of its pipe. It is
// read through the ground, so it is worth less than one that was measured in a hole.
func (m *Model) sonde(r *survey.Reading, v geo.Vec) {
	id := r.Target
	if spot, ok := m.job.Sketch.SpotNamed(id); ok {
		id = spot.Part
	}
	value, ok := number(r.Depth)
	b := m.named[id]
	if !ok || b == nil {
		return
	}
	sigma := practice.SondeSigma(value)
	if s, ok := number(r.Sigma); ok && s > 0 {
		sigma = s
	}
	m.obs = append(m.obs, observation{m.depth(b, v, survey.Invert), r.ID, "depth of the sonde in " + b.part.ID + " at " + r.Point, value,
		math.Hypot(sigma, crownSigma), r.Depth, nil})
}

// meanLevel returns the mean of the levels in metres, so that the unknown datum
// is a small number: heights above sea level would cost digits.
func (m *Model) meanLevel() float64 {
	sum, n := 0.0, 0.0
	for _, r := range m.live() {
		if v, ok := number(r.Value); ok && r.Kind == survey.Level {
			sum, n = sum+v, n+1
		}
	}
	return sum / max(n, 1)
}

// meanInvert returns the mean of the recorded inverts in metres above the
// ground, for the same reason.
func (m *Model) meanInvert() float64 {
	sum, n := 0.0, 0.0
	for _, b := range m.parts {
		if v, ok := number(b.part.Invert); ok {
			sum, n = sum+v-systemMean, n+1
		}
	}
	return sum / max(n, 1)
}
