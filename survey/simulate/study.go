package simulate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/fit"
)

// Cell is one row of a study: an order without its seed, tried on many lots.
type Cell struct {
	Order Order
	Mess  string // what is wrong with it, for people; empty: nothing
}

// Trusts lists the qualities of drawings.
var Trusts = []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}

// HoleCounts lists how many holes met something in the cells of a study.
var HoleCounts = []int{0, 1, 2, 3, 5, 10}

// mixed stands for a blunder of another kind on every lot.
const mixed Blunder = "mixed"

// Clean lists the cells without mess: quality × mix × holes.
func Clean() (cells []Cell) {
	for _, trust := range Trusts {
		for _, mix := range Mixes {
			for _, holes := range HoleCounts {
				cells = append(cells, Cell{Order{Trust: trust, Mix: mix, Holes: holes, Depths: true}, ""})
			}
		}
	}
	return cells
}

// Messy lists the cells with mess: quality × mix × holes × what is wrong.
func Messy() (cells []Cell) {
	for _, trust := range Trusts {
		for _, mix := range Mixes {
			add := func(mess string, o Order) {
				o.Trust, o.Mix, o.Depths = trust, mix, true
				cells = append(cells, Cell{o, mess})
			}
			for _, holes := range []int{1, 2, 3, 5, 10} {
				add("unknown", Order{Holes: holes, Unknown: (holes + 1) / 2})
			}
			for _, holes := range []int{0, 2, 5} {
				add("empty", Order{Holes: holes, Empty: 5})
			}
			for _, holes := range []int{2, 5, 10} {
				add("blunder", Order{Holes: holes, Blunder: mixed})
			}
			for _, holes := range []int{2, 5} {
				add("all", Order{Holes: holes, Unknown: (holes + 1) / 2, Empty: 5, Blunder: mixed})
			}
		}
	}
	return cells
}

// On returns the cell's order for one lot.
func (c Cell) On(seed uint64) Order {
	o := c.Order
	o.Seed = seed
	if o.Blunder == mixed {
		kinds := []Blunder{Foot, TenFeet, Tenths, Transposed, Corner, Slope, Neighbour}
		switch o.Mix {
		case Fixes:
			kinds = []Blunder{Neighbour}
		case Offsets:
			kinds = []Blunder{Foot, TenFeet, Transposed, Swapped, Neighbour}
		}
		o.Blunder = kinds[seed%uint64(len(kinds))]
	}
	return o
}

// Cover tries a cell on n lots.
func (c Cell) Cover(n int) (t Tally, err error) {
	for seed := range uint64(n) {
		score, err := Invent(c.On(seed + 1)).Assess()
		if err != nil {
			return t, err
		}
		t.Add(score)
	}
	return t, nil
}

// Exposure is how well blunders of one kind are found and named. The jobs
// whose geometry reveals them are those whose clean fit can detect a blunder
// of the size it had in the reading that it befell.
type Exposure struct {
	Kind     Blunder
	Trust    asbuilt.Trust
	Lots     int
	Revealed int     // jobs that reveal it
	Found    int     // of those: the reading is a suspect
	First    int     // of those: it is the first suspect
	Named    int     // of those: its explanation names the kind
	Accused  int     // jobs whose clean twin has a suspect
	Anyway   int     // found, in all jobs
	Smallest float64 // blunder that any of the jobs could detect in its reading, metres or degrees; 0: none could detect any
}

// Expose tries a kind of blunder on n lots, each beside its clean twin: five
// holes that met something, and the mix that could show it.
func Expose(kind Blunder, mix Mix, trust asbuilt.Trust, n int) (x Exposure, err error) {
	x = Exposure{Kind: kind, Trust: trust, Smallest: math.Inf(1)}
	for seed := range uint64(n) {
		s := Invent(Order{Seed: seed + 1, Trust: trust, Mix: mix, Holes: 5, Blunder: kind})
		if s.Blundered.Reading == "" {
			continue
		}
		clean, err := fit.Solve(context.Background(), s.Blundered.Clean)
		if err != nil {
			return x, err
		}
		solved, err := fit.Solve(context.Background(), s.Job)
		if err != nil {
			return x, err
		}
		x.Lots++
		if len(clean.Suspects) > 0 {
			x.Accused++
		}
		detectable := detectable(clean, s.Blundered.Reading)
		x.Smallest = min(x.Smallest, detectable)
		place := -1
		for i, k := range solved.Suspects {
			if k.Reading == s.Blundered.Reading {
				place = i
				break
			}
		}
		if place >= 0 {
			x.Anyway++
		}
		if detectable > s.Blundered.By {
			continue
		}
		x.Revealed++
		if place < 0 {
			continue
		}
		x.Found++
		if place == 0 {
			x.First++
		}
		if slices.Contains(named[kind], blunder(&solved.Suspects[place])) {
			x.Named++
		}
	}
	if math.IsInf(x.Smallest, 1) {
		x.Smallest = 0
	}
	return x, nil
}

// detectable returns the smallest blunder that a fit would notice in a reading,
// in the unit of the reading: the least over its numbers.
func detectable(f *fit.Fit, reading string) float64 {
	least := math.Inf(1)
	for _, r := range f.Residuals {
		if r.Reading == reading {
			least = min(least, r.Detectable)
		}
	}
	return least
}

// named are the codes of the explanations that count as naming each kind.
var named = map[Blunder][]finding.Code{
	Foot:       {finding.FootLong, finding.FootShort},
	TenFeet:    {finding.TenLong, finding.TenShort},
	Tenths:     {finding.InchesTenths},
	Transposed: {finding.DigitsChanged},
	Corner:     {finding.OtherCorner},
	Slope:      {finding.SlopeDistance, finding.SlopeUnnoted},
	Swapped:    {finding.LeftForRight},
	Neighbour:  {finding.OtherTrench},
	Magnetic:   {finding.MagneticNorth, finding.MaybeMagnetic},
}

// blunder returns the code of what a suspect is held to be, that of the number
// it is in where a reading has two.
func blunder(s *fit.Suspect) finding.Code {
	if s.Blunder.Of != nil {
		return s.Blunder.Of.Code
	}
	return s.Blunder.Code
}

// Recognition is how often a wrong sheet is recognised.
type Recognition struct {
	Wrong      Wrong
	Trust      asbuilt.Trust
	Lots       int
	Recognised int   // the fit says what is wrong
	Noticed    int   // the fit says so, or that it must not be trusted
	False      int   // the sound twin of the sheet was called wrong in this way
	Doubted    int   // the sound twin was called doubtful
	Unmarked   Share // spots within their 95 % region where nothing was noticed
	Held       Share // spots within their 95 % region where it was recognised
}

// Recognise tries a wrong sheet on n lots, each beside its sound twin.
func Recognise(w Wrong, mix Mix, trust asbuilt.Trust, n int) (x Recognition, err error) {
	x = Recognition{Wrong: w, Trust: trust}
	up := w == Quarter || w == Half
	for seed := range uint64(n) {
		o := Order{Seed: seed + 1, Trust: trust, Mix: mix, Holes: 5, Up: up}
		sound, err := Invent(o).Assess()
		if err != nil {
			return x, err
		}
		o.Wrong = w
		score, err := Invent(o).Assess()
		if err != nil {
			return x, fmt.Errorf("%s: %w", w, err)
		}
		x.Lots++
		says := score.says(w)
		if says {
			x.Recognised++
		}
		if says || score.Doubtful {
			x.Noticed++
		}
		if sound.says(w) {
			x.False++
		}
		if sound.Doubtful {
			x.Doubted++
		}
		if w == Other {
			continue // its places mean nothing
		}
		for _, p := range score.Spots {
			switch {
			case says:
				x.Held.Add(o.Seed, p.FromLandmarks <= 0.95)
			case !score.Doubtful:
				x.Unmarked.Add(o.Seed, p.FromLandmarks <= 0.95)
			}
		}
	}
	return x, nil
}

// says reports whether a fit holds a wrong of the sheet for more likely than
// not.
func (s *Score) says(w Wrong) bool {
	for _, f := range s.Sheet {
		if f.Fault == faults[w] && f.Odds > 0.5 {
			return true
		}
	}
	return false
}

// faults are the faults that a fit would find in a wrong sheet.
var faults = map[Wrong]drawing.Fault{
	Mirrored: drawing.Mirrored, Quarter: drawing.Turned, Half: drawing.Turned, WrongScale: drawing.Scaled, WrongUnit: drawing.Scaled,
	WrongWall: drawing.Walled, WrongCorners: drawing.Named, Other: drawing.Other,
}
