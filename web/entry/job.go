package entry

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing/fstest" // a map is a folder

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/folder"
)

// Two columns that the entries of a job add to its log: the GPX or NMEA file
// that a row was read from, and the files that show something of a reading.
const (
	fileColumn  = "file"
	photoColumn = "photo"
)

// between stands between the names in the column photo.
const between = "; "

// Folder returns the job as folder.Read reads it: its sketch, settings and
// log. Its other files are there by name, empty, but for those whose fixes the
// log has.
func (j *Job) Folder() fs.FS { return j.with(j.Rows) }

func (j *Job) with(rows []map[string]string) fstest.MapFS {
	m := fstest.MapFS{}
	for _, f := range j.Files {
		if !fixes(f.Name) {
			m[f.Name] = &fstest.MapFile{}
		}
	}
	if j.Sketch != nil {
		m[folder.Sketch] = &fstest.MapFile{Data: j.Sketch}
	}
	if j.Settings != nil {
		m[folder.Settings] = &fstest.MapFile{Data: j.Settings}
	}
	if len(rows) > 0 {
		// All columns are named, so that a foreign one beside them is not
		// taken for a misspelling of one that is missing.
		m[folder.Log] = &fstest.MapFile{Data: table(rows, columns)}
	}
	return m
}

// fixes reports whether folder.Read reads a file as fixes.
func fixes(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return (ext == ".gpx" || ext == ".nmea") && !strings.Contains(name, "/")
}

// readFrom reports whether a row was read from the file of fixes in its column
// file: folder.Read calls such readings by the file, with a number if several.
func readFrom(row map[string]string) bool {
	name := row[fileColumn]
	return fixes(name) && (row["id"] == name || strings.HasPrefix(row["id"], name+":"))
}

// maxPasses is how often Read tries again without the rows found wrong. One
// pass shows those wrong by themselves, a second the voids of those; more are
// needed where there are more than a pass lists.
const maxPasses = 50

// Read reads the job. Where phones worked apart, a reading may not fit what
// another of them did to the sketch; such readings are set aside, and the
// problems say which and why, while the job is that of all others. The job is
// nil where the sketch or the settings are at fault.
func (j *Job) Read() (*survey.Job, asbuilt.Problems) {
	var aside asbuilt.Problems
	rows := slices.Clone(j.Rows)
	absent := "" // a scan that is named and not there
	for range maxPasses {
		m := j.with(rows)
		if absent != "" {
			m[absent] = &fstest.MapFile{}
		}
		job, problems := folder.Read(m)
		if len(problems) == 0 {
			return job, aside
		}
		starts := lines(rows)
		wrong := map[int]bool{}
		for i, p := range problems {
			if at, ok := starts[p.Place]; ok && p.File == folder.Log {
				wrong[at] = true
				problems[i].Place = "reading " + strconv.Quote(rows[at]["id"])
			}
		}
		scan := slices.IndexFunc(problems, func(p asbuilt.Problem) bool { return p.File == folder.Sketch && p.Field == "sketch.scan" })
		if scan >= 0 && absent == "" {
			if name, err := strconv.Unquote(problems[scan].Found); err == nil && fs.ValidPath(path.Clean(name)) {
				absent = path.Clean(name)
			}
		}
		aside = append(aside, problems...)
		if len(wrong) == 0 && (scan < 0 || absent == "") {
			return nil, aside
		}
		rest := rows[:0:0]
		for i, row := range rows {
			if !wrong[i] {
				rest = append(rest, row)
			}
		}
		rows = rest
	}
	return nil, aside
}

// lines returns the indices of rows by their places in the log that table
// writes of them: a cell may have several lines.
func lines(rows []map[string]string) map[string]int {
	starts := make(map[string]int, len(rows))
	at := 2
	for i, row := range rows {
		starts[fmt.Sprintf("row %d", at)] = i
		at++
		for _, cell := range row {
			at += strings.Count(cell, "\n")
		}
	}
	return starts
}

// Export writes the job as a ZIP archive of its folder. open returns the bytes
// of a file by its SHA-256, an error that is fs.ErrNotExist where they are not
// there (yet): such files are left out of the archive and returned.
func (j *Job) Export(w io.Writer, open func(sha256 string) (io.ReadCloser, error)) (missing []File, err error) {
	z := zip.NewWriter(w)
	create := func(name string, method uint16) (io.Writer, error) {
		return z.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: j.Changed.UTC()})
	}
	there := map[string]bool{}
	for _, f := range j.Files {
		r, err := open(f.SHA256)
		if errors.Is(err, fs.ErrNotExist) {
			missing = append(missing, f)
			continue
		}
		if err != nil {
			return missing, err
		}
		part, err := create(f.Name, zip.Store) // pictures and PDF are packed already
		if err == nil {
			_, err = io.Copy(part, r)
		}
		if err = errors.Join(err, r.Close()); err != nil {
			return missing, err
		}
		there[f.Name] = true
	}
	m := j.with(j.exported(there))
	for _, name := range []string{folder.Sketch, folder.Settings, folder.Log} {
		if m[name] == nil {
			continue
		}
		part, err := create(name, zip.Deflate)
		if err == nil {
			_, err = part.Write(m[name].Data)
		}
		if err != nil {
			return missing, err
		}
	}
	return missing, z.Close()
}

// exported returns the rows of the log beside the files that are there: without
// those that are read from a file, and with the names of the pictures.
func (j *Job) exported(there map[string]bool) (rows []map[string]string) {
	shows := map[string][]string{}
	for _, f := range j.Files {
		if f.For != "" && there[f.Name] {
			shows[f.For] = append(shows[f.For], f.Name)
		}
	}
	for _, row := range j.Rows {
		if there[row[fileColumn]] && readFrom(row) {
			continue
		}
		if names := shows[row["id"]]; names != nil {
			for old := range strings.SplitSeq(row[photoColumn], between) {
				if old != "" && !slices.Contains(names, old) {
					names = append(names, old)
				}
			}
			slices.Sort(names)
			row = maps.Clone(row)
			row[photoColumn] = strings.Join(names, between)
		}
		rows = append(rows, row)
	}
	return rows
}
