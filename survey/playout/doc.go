// Package playout says how many holes a search takes: by formula, where what is
// sought is searched for blindly, one place after another, and by playing the
// dig out on what is believed, where each hole tells something.
//
// A playout takes one of the ways in which everything may lie for the truth.
// Holes are dug as a plan says and, beyond it, where the next hole leaves the
// least to search, until what is sought is met. How many holes that takes, over
// many truths, is what to expect: the one number of holes to expect that a plan
// states and a rehearsal spreads out.
//
// What a hole meets and where one may dig is survey/encounter's. All lengths are
// metres in the field frame relative to the landmarks, times are minutes. What
// comes out rests on the belief being right: a wrong landmark or a drawing of
// something else is no part of it.
package playout
