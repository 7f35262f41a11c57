// Command asfound takes the as-built sketch of a buried septic field and the
// crew's readings, works out where everything lies and how sure that is, says
// where to dig next, and writes a corrected as-built.
//
//	asfound demo                  the whole job on an invented lot
//	asfound check JOB             everything wrong with a job's files, in one pass
//	asfound fit JOB               how drawing and field agree, reading by reading
//	asfound locate JOB            where every part lies, how deep, how sure
//	asfound digplan JOB           the next hole and those after it
//	asfound rehearse JOB          how many holes to expect, and what a reading would buy
//	asfound record JOB            the corrected as-built
//
// It exits with 0 where the answer stands, 1 where the input was refused or
// nothing could be computed, 2 after wrong usage, and 3 where an answer is
// given but must not be trusted as it stands.
package main
