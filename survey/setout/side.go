package setout

import (
	"asfound/geo"
	"asfound/survey/finding"
)

// Side is the side of the line between two landmarks on which a place lies,
// since two tapes cross on both. The zero value is of a place that has none.
type Side struct {
	From, To string // landmarks
	Right    bool   // as one goes from the first to the second
}

// SideOf returns the side of two landmarks, named and at places of one frame
// in metres, on which a place lies.
func SideOf(from string, a geo.Vec, to string, b, at geo.Vec) Side {
	_, offset := geo.AlongAcross(a, b, at)
	return Side{from, to, offset > 0}
}

// Known reports whether there is a side.
func (s Side) Known() bool { return s != Side{} }

// Finding returns the side as a finding.
func (s Side) Finding() finding.Finding {
	if s.Right {
		return finding.RightOf.New(finding.Parts(s.From, s.To))
	}
	return finding.LeftOf.New(finding.Parts(s.From, s.To))
}

// Says returns the side for people: right of the line from A to B. It is
// empty where there is none.
func (s Side) Says(to finding.Reader) string {
	if !s.Known() {
		return ""
	}
	return s.Finding().Says(to)
}

// Brief returns the side in a word for a table whose row names the landmarks:
// right.
func (s Side) Brief(to finding.Reader) string {
	if s.Right {
		return finding.Right.New().Says(to)
	}
	return finding.Left.New().Says(to)
}

// Short returns the side for a narrow column: right of A to B. It is empty where
// there is none.
func (s Side) Short(to finding.Reader) string {
	switch {
	case !s.Known():
		return ""
	case s.Right:
		return finding.RightOfBrief.New(finding.Parts(s.From, s.To)).Says(to)
	}
	return finding.LeftOfBrief.New(finding.Parts(s.From, s.To)).Says(to)
}
