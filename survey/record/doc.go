// Package record is the corrected as-built as data: where every part of a
// system lies today, what that rests on, how sure it is, how to find it again
// by tape from landmarks, how deep it lies, and how far the old sketch was off.
// survey/plot prints it, survey/export writes it, Sketch makes the next crew's
// sketch of it.
//
// A record is not a boundary survey: it says so, and leaves the signature to a
// licensed person.
package record
