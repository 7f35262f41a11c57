package observe

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
)

// Kind is all that the engine knows of one kind of reading. Members that do not
// apply are nil.
type Kind struct {
	Name      survey.Kind
	One, Many string           // its name for people, for one and for several; empty: they are not counted
	Must, May []string         // columns of the log beside those of every row
	Value     Value            // what its column value holds
	Hole      bool             // its point is a hole
	Sigmas    []survey.Default // default standard deviations

	// Locates names the points that a reading helps to place.
	Locates func(r *survey.Reading) []string
	// Prepare notes what a reading says about the log as a whole.
	Prepare func(l *Log, r *survey.Reading)
	// Check adds what is wrong with a reading, by its index, beside sketch and log.
	Check func(c *checker, reading int)
	// CheckAll adds what is wrong with all readings of the kind together.
	CheckAll func(c *checker)
	// Observe returns what a reading observes, nil: nothing of where things lie.
	Observe func(c *Case) Observation
	// Hint adds what a reading says about where a point lies, to start from.
	Hint func(a *Asked, r *survey.Reading, h *Hint)
}

// Value is what the column value of a kind holds.
type Value int

// The values of a reading.
const (
	NoLength Value = iota // none, or no length
	Distance              // a length above zero
	Signed                // a length to either side
	Count                 // a whole number, of stabs
)

// Kinds is the registry of the kinds of reading. A new kind is a file and a
// line here.
var Kinds = []*Kind{&gnss, &tape, &baseline, &bearing, &cable, &found, &empty, &followed, &rod, &sonde, &sign, &level, &condition, &void}

// KindNamed returns a kind of the registry, nil where there is none.
func KindNamed(name survey.Kind) *Kind {
	for _, k := range Kinds {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// Explanation is one way to read what the log leaves open: which part a hole
// met where the crew could not tell, which readings hold a blunder, which are
// left to the belief.
type Explanation struct {
	Met      map[string]string   // reading id → part id
	Blunders map[string]*Blunder // reading id → what is wrong with it
	Without  map[string]bool     // reading id → it is left to the belief
}

// Case is one reading to be observed on one drawing under one explanation.
type Case struct {
	Log         *Log
	Drawing     *drawing.Drawing
	Explanation Explanation
	index       int
}

// reading returns the reading of the case.
func (c *Case) reading() *survey.Reading { return &c.Log.Readings[c.index] }

// source returns whose the observation of the case is.
func (c *Case) source() source { return source{c.index, c.reading().ID} }

// place returns the place that a name stands for.
func (c *Case) place(name string) (Place, bool) { return c.Log.Lookup(c.Drawing, name) }

// ends returns the two places that a reading runs between; ok is false where
// one is no single point, or both are the same.
func (c *Case) ends() (e pair, ok bool) {
	p, ok := c.place(c.reading().From)
	q, ok2 := c.place(c.reading().To)
	return pair{p, q}, ok && ok2 && p != q
}

// sigma returns the standard deviation in metres that a row gives, else the
// default.
func (c *Case) sigma(byDefault float64) float64 {
	if r := c.reading(); r.Sigma != nil && r.Sigma.Metres > 0 {
		return r.Sigma.Metres
	}
	return byDefault
}

// unit returns the unit of the job's people.
func (c *Case) unit() geo.Unit { return c.Log.Job.Settings.Unit }

// Asked is a point of the log whose place is wanted, and the places that are
// already known.
type Asked struct {
	Log         *Log
	Explanation Explanation
	Name        string
	At          *Placed
	Where       func(name string) (v geo.Vec, ok bool)
}

// Hint is what the readings say about where a point lies.
type Hint struct {
	Fix, Target, Direction          geo.Vec
	HasFix, HasTarget, HasDirection bool
	Rings                           []Ring
}

// Ring is a distance in metres from a known place.
type Ring struct {
	At     geo.Vec
	Radius float64
}

// Hints gathers what the readings say about a point from places already known.
func (a *Asked) Hints() (h Hint) {
	for i := range a.Log.Readings {
		r := &a.Log.Readings[i]
		if k := KindNamed(r.Kind); k != nil && k.Hint != nil && a.Explanation.Blunders[r.ID] == nil {
			k.Hint(a, r, &h)
		}
	}
	return h
}

// other returns the known place at the other end of a reading between two
// points, one of which is wanted.
func (a *Asked) other(r *survey.Reading) (v geo.Vec, ok bool) {
	name := ""
	switch a.Name {
	case r.From:
		name = r.To
	case r.To:
		name = r.From
	}
	if name == "" || name == a.Name {
		return geo.Vec{}, false
	}
	return a.Where(name)
}

// findable are the kinds of part that a hole can meet.
var findable = []asbuilt.Kind{asbuilt.Box, asbuilt.Tank, asbuilt.Header, asbuilt.Lateral, asbuilt.Port}
