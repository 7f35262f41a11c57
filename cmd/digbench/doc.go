// Command digbench plays digs on invented lots whose truth is known to a
// referee alone, and counts the holes that each player needs to expose the
// box. It is for developers: it says how good the planner is, compared with
// common practice, a plain fit with a spiral search, a search by chance alone,
// and a bound that no planner can beat.
//
//	go run ./cmd/digbench                         every cell, 40 lots each
//	go run ./cmd/digbench -lots 400               the table of DEVELOPERS.md
//	go run ./cmd/digbench -trust nts -mix tapes   one cell
//	go run ./cmd/digbench -players spiral,planner some players
//	go run ./cmd/digbench -for 10m                as many lots of each cell as ten minutes allow
//	go run ./cmd/digbench -prior -lots 150        no digs: how well the box is known before the first hole
//	go run ./cmd/digbench -worst 5                print the planner's worst digs, hole by hole
//
// A player proposes a hole by two tapes from landmarks and a depth. The
// referee sets it out from where the landmarks truly are, with the errors of
// tapes and shovel, and says what was met: the box, a lateral (without saying
// which), the end of one, a header, or nothing. The player logs that, with
// tapes to three landmarks, and goes on until the box is met or 150 holes are
// dug. The minutes, mean and 90th percentile, are those of the tables: survey.Tools
// for holes and stabs, asbuilt/practice for a line that is followed.
//
// The player rod has a probe rod as well, which misses 15 % of what it is over and
// feels stones in 2 % of the other stabs, and logs which way a line runs.
//
// The lots and their sketches come from this command's own generator, which is
// independent of the fit's model: trenches are bowed along a contour and start
// on a slant, errors are heavy-tailed, and whoever drew the sheet laid the
// field square to the house, evened out spacings and lengths, and kept to the
// squares of his paper. Only the general size of the errors is that of the
// three drawing qualities. Everything follows from the seeds. The lengths and
// odds of the generator are judgement, no published source.
package main
