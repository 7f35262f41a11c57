// Package locate works out where every part lies and how deep, with its
// uncertainty: the location that follows from a fit. Everything that is
// printed, drawn or written to a file starts from a Location.
package locate
