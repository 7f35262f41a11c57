package survey

import (
	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/geodesy"
)

// Job is everything known of a site: the sketch, the log and the settings.
type Job struct {
	Settings Settings
	Sketch   *asbuilt.Sketch
	Readings []Reading // all rows, voided ones too
}

// Settings is the content of job.json with its defaults filled in.
type Settings struct {
	Title, Permit string
	Unit          geo.Unit // ft or m: the unit that people read and that bare numbers of the log are in
	Site          *Place   // where the lot is, nil: not said
	EPSG          int      // coordinate system for office exports, 0: none
	Hole          Hole
	Tools         []Tool     // what the crew has, empty: a shovel; see Crew
	Follow        *Following // nil: as usual, see Following
	Pushing       []Pushing  // what the crew has to push through a pipe
	Rod           *Rodding   // nil: as usual, see Rodding
	EntryDepth    float64    // metres: from here on the excavation cautions are printed
	Seek          string     // part id or kind that is sought
	Declination   geo.Angle  // magnetic declination, east positive
	Drafting      *Drafting  // how far sheets err, from finished jobs; nil: as usual
	DraftingFile  string     // file of the job that Drafting is read from; empty: none
}

// Seeks reports whether the job seeks a part, by its id or its kind.
func (s *Settings) Seeks(id string, kind asbuilt.Kind) bool {
	return s.Seek == id || s.Seek == string(kind)
}

// Draft tells the sketch what finished jobs say of sheets like it, by the job's
// settings.
func (j *Job) Draft() {
	if j.Sketch != nil {
		j.Sketch.Learned = j.Settings.Drafting.Of(j.Sketch)
	}
}

// Place is an approximate position: Accuracy is the radius in metres that
// holds the truth with 95 %.
type Place struct {
	Position geodesy.LonLat
	Accuracy float64
}

// Hole is the crew's usual hole.
type Hole struct {
	Radius     float64 // metres
	DepthLimit float64 // metres: no deeper than this, 0: no limit
}

// DefaultSettings returns the settings of a job without a job.json: feet, a
// shovel hole of 0.15 m radius, cautions from 4 ft (1.2192 m, the depth from
// which 29 CFR 1926.651(c)(2) asks for a way out of a trench), the box sought.
func DefaultSettings() Settings {
	return Settings{Unit: geo.Foot, Hole: Hole{Radius: 0.15}, EntryDepth: practice.WayOutDepth, Seek: string(asbuilt.Box)}
}

// HoleRadius returns the radius in metres of the hole of a reading: its own, else
// that of the crew's usual hole.
func (j *Job) HoleRadius(r *Reading) float64 {
	if r.Radius != nil {
		return r.Radius.Metres
	}
	return j.Settings.Hole.Radius
}

// Live returns the readings that are not withdrawn by a void row, without the
// void rows themselves, in the order of the log.
func (j *Job) Live() []Reading {
	gone := map[string]bool{}
	for _, r := range j.Readings {
		if r.Kind == Void {
			gone[r.Target] = true
		}
	}
	live := make([]Reading, 0, len(j.Readings))
	for _, r := range j.Readings {
		if r.Kind != Void && !gone[r.ID] {
			live = append(live, r)
		}
	}
	return live
}
