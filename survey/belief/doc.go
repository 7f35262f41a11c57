// Package belief updates a belief with what holes did not meet. A hole that met
// nothing, to its depth, says that no box, tank or lateral lies there above
// that depth; one that met a lateral says that the box and the tank do not lie
// there either. Where a part lies and how deep it is are weighed together: a
// hole that was too shallow says little, and one that went deep where the box
// probably lies either moves the box or lowers it.
//
// What comes out is seldom an ellipse, so the package also finds the regions
// of highest density of a sample, and the lobes they fall into.
package belief
