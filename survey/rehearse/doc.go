// Package rehearse says what to expect of a dig before anyone digs. The plan is
// played out on what is believed (survey/playout), as it is for the plan's own
// expected number of holes, only more often; the result is the spread of the
// holes and minutes that it takes. It also says what a further reading would be
// worth, by inventing what it might say.
//
// The result assumes that the belief is right: a wrong landmark or a drawing of
// something else is not taken into account.
package rehearse
