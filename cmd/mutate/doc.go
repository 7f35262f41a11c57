// Command mutate asks whether the tests would notice a wrong formula. It
// changes one sign, constant or condition of a package at a time and runs that
// package's own tests: a change for which no test fails has survived.
//
//	go run ./cmd/mutate -n 20 ./survey/adjust ./survey/depth
//	go run ./cmd/mutate -n 30 ./survey/observe/tape.go
//
// An argument is a folder of one package, or one file of it. Of every package
// n changes are tried, spread at random over its lines, one a line; the same
// seed tries the same ones. The tree is never touched: each change is compiled
// by an overlay, and the test program is run in the package's folder. A change
// that does not compile is not counted. Tests that take more than a multiple of their
// usual processor time count as failing. It needs a POSIX shell.
//
// What is changed: + and −, × and ÷, the sense of a comparison, "and" and
// "or", a minus sign or a "not" before a term, and numbers (doubled; 0 to 1).
// Numbers below a thousandth are left alone, since most are guards against
// rounding, and so are numbers in make, in slice bounds, and in text that is
// printed. A survivor is a line to look at. It may be a missing test, or a
// change that changes nothing, such as a start value of an iteration.
//
// For developers; nothing depends on it.
package main
