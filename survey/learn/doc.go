// Package learn says, from a firm's or a county's finished jobs, how far their
// sheets err against what is usual for their trust.
//
// Each job is fitted under every factor of a grid, and the probability of its
// readings is kept (the evidence; MacKay, Information Theory, ch. 28). What was not
// dug says nothing, so that a job may be finished to any degree. The factors of a
// group of sheets follow by Bayes' rule from those of all its jobs and a prior whose
// mean square is 1: without jobs the usual holds. A drafter's and a decade's sheets
// begin from what all sheets of their trust say. Each factor is the root of its mean
// square, so that what few jobs leave open makes it wider and not narrower. A group is
// used only where, job by job, what the others say makes the readings likelier than
// without it, by more than a standard error (leave-one-out cross-validation; Stone, J. R. Statist. Soc. B 36, 1974).
package learn
