package answer

// Finding is something that people should know, as data. Its sentence is given
// as well, and no program has to parse it.
type Finding struct {
	// What it is about: cave-in, foot-long, side-open. Codes do not change.
	Code string `json:"code"`
	// Ids of the parts and landmarks concerned, or kinds of parts.
	Parts []string `json:"parts,omitempty"`
	// Ids of the readings concerned.
	Readings []string `json:"readings,omitempty"`
	// By name: metres, degrees, shares of one, counts.
	Numbers map[string]Number `json:"numbers,omitempty"`
	// By name: holes, files, what is written on sheet or tape.
	Words map[string]string `json:"words,omitempty"`
	// For people, lengths in the job's unit.
	Says string `json:"says"`
}
