// Package finding holds what the engine has to say to people: cautions,
// doubts, faults, refusals. A Finding is data: a code, the parts and readings
// concerned, and the numbers. Its sentence stands once, in the table of
// english.go, and is written only where a person reads it, in the unit of the
// job. Whoever wants to know what a finding is of asks its code and never
// looks into a sentence.
//
// A sentence is a whole one with named arguments, so that another language is
// another table. It knows no drawing, no reading and no source of its numbers.
package finding
