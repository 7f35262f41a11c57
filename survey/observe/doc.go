// Package observe is what a reading says about the unknowns: the network of
// unknowns, and one file for each kind of reading with its columns, its check,
// its observation equation and its source, its default standard deviation, the
// blunders that it may hold and its wording for people. The registry Kinds
// lists them. It adjusts nothing.
package observe
