// Package encounter is the one model of what a hole meets: its geometry, how
// surely it notices what it is over, how deep it must go, and where one may
// dig at all.
//
// The belief weighs with it what empty holes and holes on a line say, the plan
// judges with it the holes to come, and a dig that is played out meets things
// and is kept from clearances by it. A hole is a disc of its radius, a slot a
// strip with round ends. A box or tank is the disc of its area, for it may be
// turned any way; a trench is a strip that ends square, a header a pipe whose
// course between its ends is a guess. Edges are soft, because nobody knows to a
// hand's breadth where the rim of a hole or a part is.
//
// All lengths are metres, all depths metres below today's ground, all places
// plane coordinates of the field frame, relative to the landmarks. Chances run
// from 0 to 1. The numbers of the trade are in asbuilt/practice.
//
// Left out are stones and roots that a rod takes for gravel, old trenches that
// the sketch does not have, and cameras.
package encounter
