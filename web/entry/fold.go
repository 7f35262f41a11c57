package entry

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"time"
)

// Job is what the entries of a job make up.
type Job struct {
	ID       string
	Sketch   json.RawMessage     // the content of sketch.geojson; nil: none yet
	Settings json.RawMessage     // the content of job.json; nil: none
	Rows     []map[string]string // the rows of readings.csv by column, in order of time, each with an id of its own
	Files    []File              // in order of name, each with a name of its own
	Changed  time.Time           // time of the latest entry
	Aside    bool                // the lead has set the whole job aside
}

// File is a file of a job, whose bytes are stored beside the entries.
type File struct {
	SHA256 string `json:"sha256"` // of the bytes, 64 lower-case hexadecimal digits
	Name   string `json:"name"`   // path in the job's folder
	Type   string `json:"type"`   // media type, such as image/png
	Size   int64  `json:"size"`   // bytes
	For    string `json:"for"`    // "scan", the id of the reading that it shows something of, or ""
}

// Fold combines entries into jobs, by their ids. The order of the entries does
// not matter, nor do duplicates. Bodies that cannot be read and unknown kinds
// are passed over: Check is for those. What the lead has set aside is left out.
func Fold(entries []Entry) map[string]*Job {
	sorted := slices.Clone(entries)
	slices.SortFunc(sorted, func(a, b Entry) int { return cmp.Or(cmp.Compare(a.ID, b.ID), prefer(a, b)) })
	sorted = slices.CompactFunc(sorted, func(a, b Entry) bool { return a.ID == b.ID })
	asides := SetAside(sorted)
	slices.SortFunc(sorted, Compare)
	jobs := map[string]*Job{}
	logs := map[string][]Entry{}
	files := map[string][]named{}
	latest := map[[2]string]Entry{} // by job and kind, of those of which one applies
	for _, e := range sorted {
		j := jobs[e.Job]
		if j == nil {
			j = &Job{ID: e.Job, Aside: asides[e.Job].Whole()}
			jobs[e.Job] = j
		}
		j.Changed = e.At
		if asides[e.Job].Of(e.Device) {
			continue
		}
		switch e.Kind {
		case KindSketch, KindSettings:
			if was, ok := latest[[2]string{e.Job, e.Kind}]; !ok || compareArrival(was, e) < 0 {
				latest[[2]string{e.Job, e.Kind}] = e
			}
		case KindReading:
			logs[e.Job] = append(logs[e.Job], e)
		case KindFile:
			var f File
			if json.Unmarshal(e.Body, &f) == nil && ValidSHA256(f.SHA256) && badName(f.Name) == "" {
				files[e.Job] = append(files[e.Job], named{f, e.ID})
			}
		}
	}
	for id, j := range jobs {
		j.Sketch = latest[[2]string{id, KindSketch}].Body
		j.Settings = latest[[2]string{id, KindSettings}].Body
		j.Rows = rowsNamed(logs[id])
		j.Files = filesNamed(files[id])
	}
	return jobs
}

// rowsNamed returns the rows of readings, each with an id that no other has.
// An id given in the row is its own where no earlier row has it; other rows
// are called by the id of their entry.
func rowsNamed(entries []Entry) (rows []map[string]string) {
	taken := map[string]bool{}
	var nameless []int
	var ids []string
	for _, e := range entries {
		row, err := rowOf(e)
		if err != nil || len(row) == 0 {
			continue
		}
		if id := strings.TrimSpace(row["id"]); id == "" || taken[id] {
			nameless = append(nameless, len(rows))
		} else {
			taken[id] = true
		}
		rows, ids = append(rows, row), append(ids, e.ID)
	}
	for _, i := range nameless {
		id := free(ids[i], "", func(s string) bool { return taken[s] })
		taken[id], rows[i]["id"] = true, id
	}
	return rows
}

// free returns stem+tail with enough underscores between to make a name that is
// not taken.
func free(stem, tail string, taken func(string) bool) string {
	for taken(stem + tail) {
		stem += "_"
	}
	return stem + tail
}

// named is a file and the id of its entry.
type named struct {
	File
	entry string
}

// filesNamed returns files in order of name. Of several files with one name
// the latest keeps it; the names of the others get the id of their entry.
// Names that differ only in case are one name, since some file systems treat
// them so.
func filesNamed(all []named) []File {
	names := map[string]bool{}
	taken := func(name string) bool { return names[strings.ToLower(name)] }
	held := map[File]bool{}
	var files []File
	for _, n := range slices.Backward(all) {
		f := n.File
		if held[f] {
			continue
		}
		held[f] = true
		if taken(f.Name) {
			dot := len(f.Name)
			if i := strings.LastIndexByte(f.Name, '.'); i > strings.LastIndexByte(f.Name, '/') {
				dot = i
			}
			f.Name = free(f.Name[:dot]+" "+n.entry, f.Name[dot:], taken)
		}
		names[strings.ToLower(f.Name)] = true
		files = append(files, f)
	}
	slices.SortFunc(files, func(a, b File) int { return cmp.Compare(a.Name, b.Name) })
	return files
}
