package survey

// Default is one of the standard deviations that readings get where their row
// gives none.
type Default struct {
	Reading string // what it is of
	Sigma   string // one standard deviation
	Source  string
}

// Judged marks a number that is engineering judgement checked by simulation.
const Judged = "judgement, checked by simulation; no published source"
