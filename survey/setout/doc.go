// Package setout works out how a place is set out from landmarks: which tapes
// fix it, how well, on which side of them it lies, and which tape checks the
// rest.
package setout
