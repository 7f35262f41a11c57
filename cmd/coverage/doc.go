// Command coverage is for developers: it tries the fit on invented lots whose
// truth is known and prints how often it was right. Run it after any change of
// the model or of a default:
//
//	go run ./cmd/coverage -sites 40                   # all parts, coarse: half an hour of one core
//	go run ./cmd/coverage -sites 400 -part clean      # fine enough to see one percent
//	go run ./cmd/coverage -sites 40 -json > cells.json
//
// The parts are
//
//	clean    share of truths within regions of 50, 80 and 95 %, for places
//	         relative to the landmarks, for the box alone, and for depths, by
//	         drawing quality, mix of readings and number of holes
//	mess     the same with unknown trenches, empty holes, a blunder, and all;
//	         and how often the trench named as likeliest was right, by the odds
//	blunder  how often a blunder is found and named, by kind, and clean jobs accused
//	sheet    how often a wrong sheet is recognised, by kind
//
// Each share is followed by its standard error; spots of one lot are wrong
// together, so the lots are the sample. A star marks a 95 % share that is outside
// 93 to 97 % (clean) or under 90 % (mess) by more than two standard errors, a
// question mark one that is outside by less.
//
// The inventions follow from the lots' numbers alone, so a run gives the same
// result every time, whatever -workers. Progress goes to standard error.
//
// The ranks of simulation-based calibration are a test of package survey:
//
//	go test ./survey/posterior -run Calibration -v -sbc 4000
package main
