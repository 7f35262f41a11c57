package encounter

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
)

// Body is what a hole may meet of a part, wherever the part lies.
type Body struct {
	Line    bool    // a strip along the part's line; else a disc about its centre
	Reach   float64 // metres from centre or line to the edge
	Notices float64 // chance that a hole over it, and deep enough, notices it
	Out     float64 // metres by which its edge may be out, either way
}

// BodyOf returns the body of a part; ok is false for a part that no hole meets.
func BodyOf(p *asbuilt.Part) (b Body, ok bool) {
	switch p.Kind {
	case asbuilt.Lateral:
		return Body{true, practice.Width(p) / 2, practice.NoticesTrench, practice.EdgeOut}, true
	case asbuilt.Header:
		return pipe, true
	case asbuilt.Box: // the disc of its area: it may be turned any way
		return Body{false, practice.BoxSide(p) / math.Sqrt(math.Pi), practice.NoticesBox, practice.EdgeOut}, true
	case asbuilt.Tank:
		return Body{false, math.Sqrt(practice.TankLength * practice.TankWidth / math.Pi), practice.NoticesBox, practice.EdgeOut}, true
	case asbuilt.Port:
		return Body{false, practice.PortReach, practice.NoticesTrench, practice.EdgeOut}, true
	}
	return b, false
}

// pipe is the body of a header, drawn or not.
var pipe = Body{true, practice.PipeOutside / 2, practice.NoticesPipe, practice.HeaderOut}

// Pipe returns the body of a header that a sketch does not show: there must be
// one between a box and the near end of a lateral.
func Pipe() Body { return pipe }

// lineEnd is the body of an end of a line that is sought.
var lineEnd = Body{false, practice.EndReach, practice.NoticesTrench, practice.EdgeOut}
