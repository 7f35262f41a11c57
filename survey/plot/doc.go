// Package plot makes the sheets of a job for people: the site map to scale,
// the dig plan and the record. What is drawn has been worked out in locate and
// probe; this package only puts it on paper, in the job's own unit, with the
// cautions that belong to it.
package plot
