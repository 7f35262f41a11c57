// Package fit is the one adjustment of drawing and field together: where it
// starts, how it is solved, which explanations of what the readings leave open
// are worth carrying along (which part was met, which reading holds a blunder,
// what is wrong with the whole sheet), and the report of it.
//
// All results are metres in the field frame of the job (see survey.Frame): X
// east, Y north. The package reads no clock and draws no random number, and the
// order of the readings does not matter.
package fit
