package answer

import "strings"

// Problem is one thing wrong with an input.
type Problem struct {
	File string `json:"file"`
	// Feature, row or reading.
	Place string `json:"place,omitempty"`
	// Member or column.
	Field string `json:"field,omitempty"`
	Found string `json:"found,omitempty"`
	Want  string `json:"want,omitempty"`
	// All of it in one line, for people.
	Says string `json:"says"`
	// Id of the reading that it is in, in the answer of a stage.
	Reading string `json:"reading,omitempty"`
}

// Check is the answer of the command check and of the stage check: what is
// wrong with a job, and what is allowed but unusual.
type Check struct {
	// There are no problems.
	OK       bool      `json:"ok"`
	Problems []Problem `json:"problems"`
	// What is allowed but unusual, for people.
	Cautions []string `json:"cautions"`
	// The same as data.
	Findings []Finding `json:"findings"`
	// How many the sketch has.
	Parts int `json:"parts"`
	// That are not withdrawn.
	Readings int `json:"readings"`
}

// Refusal says why a request was not answered.
type Refusal struct {
	// For people.
	Says string `json:"error"`
	// Why, as data. Left out: the text is all there is.
	Finding  *Finding  `json:"finding,omitempty"`
	Problems []Problem `json:"problems,omitempty"`
}

// Error returns what is said to people, with the problems a line each.
func (r *Refusal) Error() string {
	var s strings.Builder
	s.WriteString(r.Says)
	for _, p := range r.Problems {
		s.WriteString("\n" + p.Says)
	}
	return s.String()
}

// Questions is the answer of the stage question: what is odd about rows that are
// about to be logged. Neither forbids to log them.
type Questions struct {
	// Why a row cannot be read.
	Problems []Problem `json:"problems"`
	// What looks like a mistake, a sentence each.
	Findings []Finding `json:"findings"`
}
