// Package encounter is the one model of what a hole meets: its geometry, the
// chance that it reveals what it is over, how deep it must go, and where one
// may dig at all.
//
// The belief uses it to weigh empty holes and holes on a line, the plan to
// judge the holes to come, and a simulated dig to decide what each hole meets
// and which clearances it keeps. A hole is a disc of its radius, a slot a strip
// with round ends. A box or tank is the disc of its area, for it may be turned
// any way; a trench is a strip that ends square, a header a pipe whose course
// between its ends is a guess. Edges are soft, because nobody knows to within
// 0.1 m where the rim of a hole or a part is.
//
// All lengths are metres, all depths metres below today's ground, all places
// plane coordinates of the field frame, relative to the landmarks. Chances run
// from 0 to 1. The numbers of the trade are in asbuilt/practice.
//
// Grids of stabs of a probe rod are Stabs: they feel stones too, and do not tell what
// they feel. Left out are roots that a hole takes for gravel, old trenches that
// the sketch does not have, and cameras.
package encounter
