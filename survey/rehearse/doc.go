// Package rehearse says what to expect of a dig before anyone digs. The plan is
// played out on what is believed (survey/playout), as it is for the holes that
// the plan itself leads to expect, only more often; how many holes and minutes
// that takes is spread out. It also says what a further reading would be worth,
// by inventing what it might say.
//
// What comes out rests on the belief being right: a wrong landmark or a
// drawing of something else is no part of it.
package rehearse
