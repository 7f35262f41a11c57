// Package rehearse plays a dig on what is believed of a site, again and again,
// before anyone digs: each time one of the ways in which everything may lie is
// taken for the truth, and holes are dug by the plan until what is sought is
// met. How many holes that takes, and how long, is what to expect. It also
// says what a further reading would be worth, by inventing what it might say.
//
// What comes out rests on the belief being right: a wrong landmark or a
// drawing of something else is no part of it.
package rehearse
