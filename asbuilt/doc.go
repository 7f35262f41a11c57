// Package asbuilt is the drawing: the parts of an on-site wastewater system
// and what surrounds them, where the sketch draws them, what is written beside
// them, and how well each may be believed.
//
// Coordinates are in the drawing's own plane (X right, Y up, drawing units),
// or, for a sketch in WGS 84, metres east and north of Sketch.Origin. Written
// lengths are metres. The package reads nothing itself: see asbuilt/geojson.
package asbuilt
