package record

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
)

// How accurate what is written on a sketch is taken to be, metres. What is
// known less well must not be written down as if it were measured: the next fit
// would trust it. Half a foot is the accuracy that WAC 246-272A-0265 asks of
// record drawings; the rest is judgement.
const (
	writtenTie   = 0.15 // and 1 % of the distance: standard deviation
	writtenCover = 0.15 // standard deviation
	toScale      = 0.30 // standard deviation of every part of a drawing to scale
	roughly      = 0.80 // and of one that is roughly so
)

// Sketch returns the corrected as-built as the next crew's sketch: every part
// where it is now believed to lie, with new ties, lengths and covers where they
// are known as well as a written one is taken to be, and what the old sketch
// had written where they are not and nothing contradicts it.
//
// Its plane is WGS 84 where the job is tied to the earth, else metres of the
// field frame. Its trust is no better than its worst part. Where ctx is done it stops with its
// error.
func (r *Record) Sketch(ctx context.Context, l *locate.Location) (_ *asbuilt.Sketch, err error) {
	old := l.Job.Sketch
	read := len(l.Job.Live()) > 0
	s := &asbuilt.Sketch{
		Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: r.trust(old.Trust, read),
		MirrorUnknown: old.MirrorUnknown && (!read || r.Doubtful != nil),
		Drawn:         r.Rests.Last, By: strings.Join(r.Rests.By, ", "), Permit: r.Permit, Note: r.note(),
	}
	switch {
	case l.Frame.Site != nil:
		o := l.Frame.Site.Origin
		s.Plane, s.Origin = asbuilt.WGS84, &o
	case r.North:
		s.Up = &asbuilt.Up{Sigma: geo.Degrees(min(180, max(1, l.Fit.RotationSigma.Degrees())))}
	}
	for i := range l.Outlines {
		o := &l.Outlines[i]
		p := asbuilt.Part{ID: o.Part, Kind: o.Kind, Name: o.Name}
		if was := old.Part(o.Part); was != nil {
			p = *was
		}
		p.Shapes, p.Feature = nil, i+1
		for _, now := range o.Now {
			p.Shapes = append(p.Shapes, asbuilt.Shape{Form: asbuilt.FormOf(now), Vertices: asbuilt.Positions(now.Vertices...)})
		}
		if q := r.Part(o.Part); q != nil && read { // else only what was already written is known
			r.write(&p, q, l.Fit.Suspects)
		}
		s.Parts = append(s.Parts, p)
	}
	if r.Doubtful == nil && l.Posterior != nil { // a doubtful answer knows nothing
		if s.Known, err = r.known(ctx, l); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// known returns what the job knows of the places and depths of the sketch, for the next
// job to begin with; nil where they are too many.
func (r *Record) known(ctx context.Context, l *locate.Location) (*asbuilt.Known, error) {
	places, covariance, err := l.Posterior.Known(ctx, knownDraws)
	if err != nil || places == nil {
		return nil, err
	}
	k := &asbuilt.Known{Places: places}
	for _, v := range covariance {
		k.Covariance = append(k.Covariance, math.Round(v*1e7)/1e7)
	}
	r.covers(l, k)
	return k, nil
}

// covers adds what the job knows of depths: at both ends of each line, and in the middle
// of anything else.
func (r *Record) covers(l *locate.Location, k *asbuilt.Known) {
	var names []string
	var at []geo.Vec
	var sigma []float64
	for i := range r.Parts {
		p := &r.Parts[i]
		for _, s := range p.Spots {
			if s.Cover == nil || !(s.Cover.Sigma > 0) {
				continue
			}
			c := asbuilt.Cover{Vertex: asbuilt.Vertex{Part: p.Part}, Mean: math.Round(s.Cover.Mean*1e3) / 1e3}
			if s.Spot == asbuilt.End {
				c.Index = len(l.Job.Sketch.Part(p.Part).Shapes[0].Vertices) - 1
			}
			k.Covers = append(k.Covers, c)
			names, at, sigma = append(names, p.Part), append(at, s.At), append(sigma, s.Cover.Sigma)
		}
	}
	for i, row := range l.DepthCorrelation(names, at) {
		for j := range i + 1 {
			c := row[j]
			if i != j {
				c *= 0.999 // slightly off 1, so that there is an inverse
			}
			k.CoverCovariance = append(k.CoverCovariance, math.Round(c*sigma[i]*sigma[j]*1e7)/1e7)
		}
	}
}

// knownDraws is how many draws a covariance is of: its standard deviations are then
// right to one or two in a hundred.
const knownDraws = 4000

// trust says how well the drawing may be believed: by its worst part, or as
// before where no reading was taken.
func (r *Record) trust(was asbuilt.Trust, read bool) asbuilt.Trust {
	worst := 0.0
	for _, p := range r.Parts {
		for _, s := range p.Spots {
			worst = max(worst, s.Radius95/geo.Within95)
		}
	}
	switch {
	case !read:
		return was
	case r.Doubtful != nil || !(worst <= roughly):
		return asbuilt.NotToScale
	case worst <= toScale:
		return asbuilt.ToScale
	}
	return asbuilt.Roughly
}

// note says what the sketch is, for anyone who opens it.
func (r *Record) note() string {
	says := append([]string{"Corrected as-built.", r.Method}, finding.Sentences(r.Accuracy, finding.English(r.Unit))...)
	return strings.Join(append(says, finding.Sentences(r.Limits, finding.English(r.Unit))...), " ")
}

// write puts beside a part what is known of it now.
func (r *Record) write(p *asbuilt.Part, q *Part, suspects []fit.Suspect) {
	suspect := func(what string) bool {
		return slices.ContainsFunc(suspects, func(s fit.Suspect) bool { return s.Reading == "sketch:"+p.ID+"."+what })
	}
	var ties []asbuilt.Tie
	for _, s := range q.Spots {
		var good []asbuilt.Tie
		for _, t := range s.Ties {
			if t.Sigma <= math.Hypot(writtenTie, 0.01*t.Distance) && r.Doubtful == nil && s.State != locate.Recorded {
				good = append(good, asbuilt.Tie{At: s.Spot, From: t.From, Distance: metres(t.Distance)})
			}
		}
		if len(good) > 1 { // one alone fixes no place
			ties = append(ties, good...)
		}
	}
	for _, t := range p.Ties { // still evidence, where there is nothing better
		renewed := slices.ContainsFunc(ties, func(n asbuilt.Tie) bool { return n.At == t.At })
		if !renewed && !suspect(string(t.At)+"."+t.From) {
			ties = append(ties, t)
		}
	}
	p.Ties = ties
	start, end := q.Spot(asbuilt.Start), q.Spot(asbuilt.End)
	switch {
	case start != nil && end != nil && start.State == locate.Seen && end.State == locate.Seen:
		l := metres(q.Long)
		p.Length = &l
	case suspect("length"):
		p.Length = nil
	}
	if d := q.cover(); d != nil && d.Sigma <= writtenCover && d.Mean >= 0 {
		l := metres(d.Mean)
		p.Cover = &l
	}
}

// cover returns the cover of a part: at its only spot, or half way between
// that of its two ends.
func (p *Part) cover() *locate.Depth {
	var d locate.Depth
	n := 0.0
	for _, s := range p.Spots {
		if s.Cover == nil {
			return nil
		}
		d.Mean, d.Sigma, d.Feature = d.Mean+s.Cover.Mean, max(d.Sigma, s.Cover.Sigma), s.Cover.Feature
		n++
	}
	if n == 0 {
		return nil
	}
	d.Mean /= n
	return &d
}

// metres returns a length written in metres to the centimetre.
func metres(m float64) geo.Length {
	text := strconv.FormatFloat(m, 'f', 2, 64)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		v = m
	}
	return geo.Length{Metres: v, Written: fmt.Sprintf("%s m", text), Unit: geo.Metre}
}
