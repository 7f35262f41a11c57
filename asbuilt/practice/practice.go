package practice

import "asfound/asbuilt"

// PipeOutside is the outside diameter of a 4-inch lateral in metres: 4.215 in
// for thin-walled PVC sewer pipe (ASTM D2729 and D3034; the figure is from
// memory and agrees with the socket diameters of D2729, 4.210 to 4.235 in).
// Schedule 40 pipe is 4.500 in, corrugated pipe 4.6 to 4.8 in (from memory).
const PipeOutside = 0.10706

// BoxSize is the usual side of a distribution box in metres, 24 in. Common
// practice, no published source: boxes run from 12 to 24 in square.
const BoxSize = 0.6

// BoxHeight is the usual outside height of a distribution box in metres, 16
// in. Common practice, no published source: 12 to 20 in.
const BoxHeight = 0.4

// TankLength and TankWidth are the usual outside measures of a tank of 1000 to
// 1500 gallons in metres, 8 to 10 ft by 4.5 to 6 ft. Common practice, no
// published source.
const (
	TankLength = 2.7
	TankWidth  = 1.6
)

// TrenchWidth returns the usual width in metres of the trench of a lateral: 36
// in in gravel (the most that Rapid City SD 13.20.500 and Hamden CT 50.16 call
// a trench; Lake County IL 171.103 allows 12 to 36), 34 in for chambers and 12
// in for pipe alone (common practice, no published source). An empty bed is
// taken for gravel.
func TrenchWidth(bed asbuilt.Bed) float64 {
	switch bed {
	case asbuilt.Chamber:
		return 0.8636
	case asbuilt.Pipe:
		return 0.3048
	}
	return 0.9144
}

// Width returns the width in metres across a lateral's trench: what is written
// beside it, else TrenchWidth of its bed.
func Width(p *asbuilt.Part) float64 {
	if p.Width != nil && p.Width.Metres > 0 {
		return p.Width.Metres
	}
	return TrenchWidth(p.Bed)
}

// BoxSide returns the side in metres of a box: what is written beside it, else
// BoxSize.
func BoxSide(p *asbuilt.Part) float64 {
	if p.Size != nil && p.Size.Metres > 0 {
		return p.Size.Metres
	}
	return BoxSize
}

// TopAboveInvert returns how far in metres the top of a lateral (of the
// gravel, the chamber or the pipe) stands above its invert, the inside bottom
// of the pipe that feeds it.
//
//   - gravel: the pipe and 2 in of stone over it (Rapid City SD 13.20.500; UPC
//     summary; Switzerland County IN asks for 4)
//   - chamber: 0.20 m of a chamber of 12 in (height: ToolBase inventory); how
//     high the pipe enters differs by make, hence TopSigma
//   - pipe: the pipe alone
//
// Walls of 2 to 3 mm are left out.
func TopAboveInvert(bed asbuilt.Bed) float64 {
	switch bed {
	case asbuilt.Chamber:
		return 0.20
	case asbuilt.Pipe:
		return PipeOutside
	}
	return PipeOutside + 0.0508
}

// TopSigma returns the standard deviation in metres of TopAboveInvert. Common
// practice, no published source.
func TopSigma(bed asbuilt.Bed) float64 {
	switch bed {
	case asbuilt.Chamber:
		return 0.08
	case asbuilt.Pipe:
		return 0.005
	}
	return 0.03
}

// BottomBelowInvert returns how far in metres the bottom of the trench lies
// below the invert: 6 in of stone in gravel (Rapid City SD 13.20.500 and Lake
// County IL 171.103 ask for at least 6, Southborough MA and Hamden CT for 12),
// the rest of a 12-inch chamber, next to nothing below pipe alone.
func BottomBelowInvert(bed asbuilt.Bed) float64 {
	switch bed {
	case asbuilt.Chamber:
		return 0.305 - TopAboveInvert(bed)
	case asbuilt.Pipe:
		return 0
	}
	return 0.1524
}

// BottomSigma returns the standard deviation in metres of BottomBelowInvert.
// In gravel it reaches to the 12 in of other codes. Common practice, no
// published source.
func BottomSigma(bed asbuilt.Bed) float64 {
	switch bed {
	case asbuilt.Chamber:
		return 0.08
	case asbuilt.Pipe:
		return 0.02
	}
	return 0.08
}
