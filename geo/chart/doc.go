// Package chart draws to scale on paper: pages in millimetres with lines,
// shapes, text, tables and the furniture of a map, written as SVG and as PDF
// from one model, so that both show the same. It knows nothing of what is
// drawn.
//
// A place on a page is a Point, in millimetres from the top left corner, X to
// the right and Y down. A place on the ground is a geo.Vec in metres, X east
// and Y north; a Frame takes one to the other. Text sizes are in points of
// 1/72 inch.
//
// Everything that is drawn depends on the arguments alone: the same input
// makes the same bytes.
package chart
