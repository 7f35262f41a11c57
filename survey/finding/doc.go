// Package finding holds what the engine has to say to people: cautions,
// doubts, faults, refusals. A Finding is data: a code, the parts and readings
// concerned, and the numbers. Its sentence is defined once in each language, in
// english.txt and spanish.txt, and is written only where a person reads it, in
// the unit of the job. Code that must know what a finding is about looks at its
// code, never into a sentence.
//
// Every sentence is whole and has named arguments, so that another language is
// another file. The package knows nothing of drawings, readings or where the
// numbers come from.
package finding
