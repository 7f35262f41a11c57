// Package playout works out how many holes a search takes: by formula, for a
// search in a fixed order that learns nothing on the way, and by playing the
// dig out on what is believed, where each hole adds information.
//
// A playout takes one of the ways in which everything may lie for the truth.
// Holes are dug as a plan says and, beyond it, where the next hole leaves the
// least to search, until what is sought is met. How many holes that takes, over
// many truths, is what to expect: the one number of holes to expect that a plan
// states and a rehearsal spreads out.
//
// What a hole meets and where one may dig is in survey/encounter. All lengths
// are metres in the field frame relative to the landmarks, times are minutes.
// The result assumes that the belief is right: a wrong landmark or a drawing of
// something else is not taken into account.
package playout
