// Package practice holds what is usual in the trade: dimensions of pipe,
// trench, box and chamber, depths and grades as priors, and the distances that
// codes ask for. Each number names its source; a number that no code prints is
// marked "common practice, no published source".
//
// The numbers are starting values and grounds for caution. They never refuse a
// drawing and never outrank what is written on it or measured on the ground.
// Local code and the permit govern.
//
// All lengths are metres, all grades fall over length.
package practice
