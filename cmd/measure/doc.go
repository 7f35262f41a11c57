// Command measure is for developers: it runs the commands that measure the
// program and writes what they found into testdata/measured, the one table of
// measured figures that the documents point to.
//
//	go run ./cmd/measure                run the quick ones, some minutes
//	go run ./cmd/measure -long          run all, some hours of one core
//	go run ./cmd/measure -run belief    run those whose text contains the word
//	go run ./cmd/measure -list          list them and their commands
//
// A figure that was not measured in a run stays as it was, with the day on
// which it was measured. Nothing is typed into the table by hand.
package main
