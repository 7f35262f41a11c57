package learn

import "errors"

// ErrKnown says that a job's sketch is the corrected as-built of a finished job: it
// says nothing of sheets.
var ErrKnown = errors.New("its sketch is a corrected as-built, not a sheet")
