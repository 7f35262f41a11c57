// Package survey is what a crew brings: the readings of the log, the job with
// its settings and its tools, and the frame that results are stated in. It
// knows no drawing model and fits nothing.
package survey
