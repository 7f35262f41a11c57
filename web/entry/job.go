package entry

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/folder"
	"asfound/survey/observe"
)

// Two columns that the entries of a job add to its log: the GPX or NMEA file
// that a row was read from, and the files that show something of a reading.
const (
	fileColumn  = "file"
	photoColumn = "photo"
)

// between separates the names in the column photo.
const between = "; "

// fixes reports whether folder.Read reads a file as fixes.
func fixes(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return (ext == ".gpx" || ext == ".nmea") && !strings.Contains(name, "/")
}

// readFrom reports whether a row was read from the file of fixes in its column
// file: folder.Read names such readings after the file, with a number if
// several.
func readFrom(row map[string]string) bool {
	name := row[fileColumn]
	return fixes(name) && (row["id"] == name || strings.HasPrefix(row["id"], name+":"))
}

// Read reads the job. Where phones worked separately, a reading may not fit
// what another of them did to the sketch; such readings are left out, and the
// problems say which and why; the job has all the others. The job is nil where
// the sketch or the settings are at fault.
func (j *Job) Read() (*survey.Job, asbuilt.Problems) {
	job := &survey.Job{Settings: survey.DefaultSettings()}
	var problems asbuilt.Problems
	if j.Sketch == nil {
		problems = append(problems, folder.NoSketch())
	} else {
		job.Sketch, problems = geojson.Decode(bytes.NewReader(j.Sketch), folder.Sketch)
	}
	if j.Settings != nil {
		settings, wrong := fieldbook.DecodeSettings(bytes.NewReader(j.Settings), folder.Settings)
		job.Settings, problems = settings, append(problems, wrong...)
	}
	if name := job.Settings.DraftingFile; name != "" { // import puts the content in its place
		problems = append(problems, folder.NoDrafting(name))
	}
	job.Draft()
	if len(j.Rows) > MaxRows {
		problems.Addf(folder.Log, "", "", fmt.Sprintf("more than %d rows", MaxRows), "the log of one job")
	}
	usable := len(problems) == 0
	readings, wrong := j.readings(job.Settings.Unit)
	job.Readings, problems = readings, append(problems, wrong...)
	if job.Sketch == nil {
		return nil, problems
	}
	if scan := job.Sketch.Scan; scan != "" && !j.has(scan) {
		problems = append(problems, folder.NoScan(scan))
		usable = usable && fs.ValidPath(path.Clean(scan)) // it may still arrive
	}
	job, wrong = observe.Usable(job)
	for i := range wrong {
		if wrong[i].Reading != "" {
			wrong[i].Row = 0 // an entry has none
		}
	}
	problems = append(problems, wrong...)
	if !usable {
		return nil, problems
	}
	return job, problems
}

// readings reads the rows, and says what is wrong with those that cannot be
// read. unit is that of bare numbers. A reading is numbered as its row is in the
// log that Export writes, if no text has several lines.
func (j *Job) readings(unit geo.Unit) (readings []survey.Reading, problems asbuilt.Problems) {
	for i, row := range j.Rows[:min(len(j.Rows), MaxRows)] {
		r, wrong := fieldbook.DecodeRow(row, unit)
		r.File, r.Row = folder.Log, i+2
		if r.ID == "" {
			r.ID = fmt.Sprintf("r%d", r.Row)
		}
		for _, p := range wrong {
			p.File, p.Reading = folder.Log, r.ID
			problems = append(problems, p)
		}
		if len(wrong) == 0 {
			readings = append(readings, r)
		}
	}
	return readings, problems
}

// has reports whether the job has a file of that name.
func (j *Job) has(name string) bool {
	return slices.ContainsFunc(j.Files, func(f File) bool { return f.Name == path.Clean(name) })
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
	own := []struct {
		name string
		data []byte
	}{{folder.Sketch, j.Sketch}, {folder.Settings, j.Settings}, {folder.Log, nil}}
	if rows := j.exported(there); len(rows) > 0 {
		own[2].data = table(rows)
	}
	for _, f := range own {
		if f.data == nil {
			continue
		}
		part, err := create(f.name, zip.Deflate)
		if err == nil {
			_, err = part.Write(f.data)
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
