package answer

// Finding is something that people should know, as data. Its sentence stands
// beside it: nobody has to read that back.
type Finding struct {
	// What it is of: cave-in, foot-long, side-open. Codes stay as they are.
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
