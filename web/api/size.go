package api

import (
	"encoding/json"
	"time"

	"asfound/geo/language"
	"asfound/survey/finding"
)

// Size is how large a request is, as far as the work that it makes depends on it.
type Size struct {
	Rows     int // of the log
	Points   int // of the sketch
	history  bool
	plan     bool
	language language.Tag
}

// SizeOf returns how large a request is, without working anything out. What cannot be
// read is small: the stage says what is wrong with it.
func SizeOf(request []byte) Size {
	var q struct {
		Job struct {
			Sketch struct {
				Features []struct {
					Geometry struct {
						Coordinates json.RawMessage `json:"coordinates"`
					} `json:"geometry"`
				} `json:"features"`
			} `json:"sketch"`
			Rows []json.RawMessage `json:"rows"`
		} `json:"job"`
		With     []string     `json:"with"`
		Language language.Tag `json:"language"`
	}
	if json.Unmarshal(request, &q) != nil {
		return Size{}
	}
	s := Size{Rows: len(q.Job.Rows), language: q.Language}
	for _, f := range q.Job.Sketch.Features {
		s.Points += points(f.Geometry.Coordinates)
	}
	for _, w := range q.With {
		s.history, s.plan = s.history || w == "history", s.plan || w == "plan"
	}
	return s
}

// points counts the positions of the coordinates of a geometry: the innermost arrays.
func points(coordinates []byte) (n int) {
	inner := false
	for _, c := range coordinates {
		switch c {
		case '[':
			inner = true
		case ']':
			if inner {
				n++
			}
			inner = false
		}
	}
	return n
}

// Work returns how long a stage takes about, on one processor of a server that has
// nothing else to do. It was fitted to jobs of 9 to 84 parts and 50 to 280 readings and
// is right to a factor of three or so: readings that fit badly take longer.
func (s Size) Work(stage string) time.Duration {
	places := float64(s.Points) + float64(s.Rows)/3 // three readings to a hole
	first, located := 0.1+1e-6*places*places*places, 0.3+2e-6*places*places*places
	planned := 0.3 + 0.06*float64(s.Points)
	switch stage {
	case "check", "length", "lonlat":
		return 10 * time.Millisecond
	case "preview":
		return seconds(first)
	case "plan", "paper":
		return seconds(located + planned)
	}
	work := located
	if s.history { // a hole in three rows, each worked out with those before it
		work += located / 4 * min(maxSteps, float64(s.Rows)/3)
	}
	if s.plan {
		work += planned
	}
	return seconds(work)
}

func seconds(s float64) time.Duration {
	return time.Duration(min(s, 1e6) * float64(time.Second)) // a duration holds no more than some centuries
}

// Most is the most work that a server takes on for one request: three times as much
// still ends within Longest.
const Most = 20 * time.Second

// Longest is how long a server works at one request.
const Longest = time.Minute

// fewest is how many readings a job has that is worth anything.
const fewest = 30

// TooLarge refuses a request that a server cannot work out, nil where it can. It says
// how much was asked for and how much works.
func (s Size) TooLarge(stage string) error {
	if s.Work(stage) <= Most {
		return nil
	}
	if s.drawn(stage, Most) {
		return s.tooManyPoints(stage, Most)
	}
	return refused(finding.Refuse(finding.TooManyRows.New(finding.Number("found", float64(s.Rows)), finding.Number("works", float64(s.rows(stage, Most)))), nil), s.language)
}

// drawn reports whether the sketch alone makes more than so much work.
func (s Size) drawn(stage string, most time.Duration) bool {
	s.Rows = min(s.Rows, fewest)
	return s.Work(stage) > most
}

// tooManyPoints refuses a request because of its sketch.
func (s Size) tooManyPoints(stage string, most time.Duration) error {
	bare := Size{Rows: min(s.Rows, fewest), history: s.history, plan: s.plan}
	works := largest(s.Points, func(n int) bool { bare.Points = n; return bare.Work(stage) <= most })
	return refused(finding.Refuse(finding.TooManyPoints.New(finding.Number("found", float64(s.Points)), finding.Number("works", float64(works))), nil), s.language)
}

// TooLong refuses a request whose work did not end within a time. What surely does is
// what is estimated to take a ninth of it: a third by the error of the estimate, and a
// third of that on a server with other work.
func (s Size) TooLong(stage string, limit time.Duration) error {
	if s.drawn(stage, limit/9) {
		return s.tooManyPoints(stage, limit/9)
	}
	works := min(s.rows(stage, limit/9), s.Rows*3/4)
	return refused(finding.Refuse(finding.TookTooLong.New(finding.Number("limit", limit.Seconds()), finding.Number("found", float64(s.Rows)), finding.Number("works", float64(works))), nil), s.language)
}

// rows returns how many readings with the same sketch make no more than so much work.
func (s Size) rows(stage string, most time.Duration) int {
	return largest(s.Rows, func(n int) bool { s.Rows = n; return s.Work(stage) <= most })
}

// largest returns the largest number up to most that works, 0 where none does.
func largest(most int, works func(n int) bool) int {
	low, high := 0, most+1
	for high-low > 1 {
		if n := (low + high) / 2; works(n) {
			low = n
		} else {
			high = n
		}
	}
	return low
}
