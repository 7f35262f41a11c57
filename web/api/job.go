package api

import (
	"asfound/geo/language"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/web/entry"
)

// Job is a job as a request has it: the content of sketch.geojson and of
// job.json, and the rows of readings.csv by column, in the order of the log.
type Job struct {
	// The content of sketch.geojson.
	Sketch json.RawMessage `json:"sketch" jsonschema:"type=object,nullable"`
	// The content of job.json.
	Settings json.RawMessage `json:"settings,omitempty" jsonschema:"type=object,nullable"`
	// The rows of readings.csv by column, in the order of the log.
	Rows []map[string]string `json:"rows,omitempty"`
	// The names of the files that are kept with the job, or are about to be.
	Files []string `json:"files,omitempty"`
}

// JobOf returns a job of the store as a request has it.
func JobOf(j *entry.Job) Job {
	out := Job{Sketch: j.Sketch, Settings: j.Settings, Rows: j.Rows}
	for _, f := range j.Files {
		out.Files = append(out.Files, f.Name)
	}
	return out
}

// read reads a job without the rows that have problems, and says what they are:
// another phone's mistake must not take the plan from a crew in the field. The
// job is nil where the sketch or the settings are at fault.
func (j *Job) read() (*survey.Job, asbuilt.Problems) {
	stored := entry.Job{Sketch: given(j.Sketch), Settings: given(j.Settings), Rows: j.named()}
	for _, name := range j.Files {
		stored.Files = append(stored.Files, entry.File{Name: path.Clean(name)})
	}
	return stored.Read()
}

// given returns a value of a request, nil for null.
func given(text json.RawMessage) json.RawMessage {
	if string(text) == "null" {
		return nil
	}
	return text
}

// named returns the rows, each with an id: its own, else r and its row number
// in a file, as readings.csv has it.
func (j *Job) named() []map[string]string {
	rows := make([]map[string]string, len(j.Rows))
	for i, row := range j.Rows {
		if strings.TrimSpace(row["id"]) == "" {
			row = maps.Clone(row)
			if row == nil {
				row = map[string]string{}
			}
			row["id"] = fmt.Sprintf("r%d", i+2)
		}
		rows[i] = row
	}
	return rows
}

// ProblemsOf returns what an error says as problems; nil where it is no
// asbuilt.Problems.
func ProblemsOf(err error) []answer.Problem {
	problems, ok := err.(asbuilt.Problems)
	if !ok {
		return nil
	}
	return export.NewProblems(problems, language.English)
}
