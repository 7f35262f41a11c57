// Package plot makes the sheets of a job for people: the site map to scale,
// the dig plan and the record. What is drawn is worked out before, in locate
// and probe; here it is only put on paper, in the job's own unit, with the
// cautions that belong to it.
package plot
