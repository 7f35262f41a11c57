// Package drawing is the sheet as a model: which points of a sketch have a
// place of their own on the ground, how wrong a drawing may be about each, and
// what may be wrong with the whole sheet. It knows no reading.
package drawing
