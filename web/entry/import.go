package entry

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"time"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/folder"
)

// Root returns the folder within fsys that holds the job: its root, or the only
// folder in it, where somebody packed the folder and not its content.
func Root(fsys fs.FS) fs.FS {
	if _, err := fs.Stat(fsys, folder.Sketch); err == nil {
		return fsys
	}
	entries, _ := fs.ReadDir(fsys, ".") // unreadable content is found when the job is read
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return hidden(e.Name()) })
	if len(entries) != 1 || !entries[0].IsDir() {
		return fsys
	}
	if sub, err := fs.Sub(fsys, entries[0].Name()); err == nil {
		return sub
	}
	return fsys
}

// FromFolder returns the job folder in the root of fsys as entries of the job
// named, and the files whose bytes are to be kept beside them, which are those
// of the same name in fsys. newID makes ids. The entries are made at the time
// at, a millisecond apart, so that the rows keep their order; by is the name of
// the phone. The error is asbuilt.Problems: everything that is wrong within one
// file. What is wrong between files is left to Job.Read, so that every job that
// was exported can be imported.
func FromFolder(fsys fs.FS, job string, newID func() string, at time.Time, by string) ([]Entry, []File, error) {
	m := importer{fsys: fsys, at: at.UTC().Truncate(time.Millisecond)}
	m.next = func(kind string, body []byte) Entry {
		e := Entry{ID: newID(), Job: job, Kind: kind, At: m.at, By: by, Body: body}
		m.at = m.at.Add(time.Millisecond)
		return e
	}
	m.text(folder.Sketch, KindSketch)
	m.settings()
	if data, ok := m.read(folder.Log); ok {
		rows := rowsOf(data, folder.Log, &m.problems)
		rows = slices.DeleteFunc(rows, func(l line) bool { // those that the file itself will supply
			if !readFrom(l.cells) {
				return false
			}
			_, err := fs.Stat(fsys, l.cells[fileColumn])
			return err == nil
		})
		m.rows(rows, folder.Log)
	}
	files := m.files()
	if len(m.entries) == 0 && len(m.problems) == 0 {
		m.problems.Addf(folder.Sketch, "", "", "no such file", "a job folder: %s, and what else there is of %s, %s and others", folder.Sketch, folder.Settings, folder.Log)
	}
	if err := m.problems.Err(); err != nil {
		return nil, nil, err
	}
	return m.entries, files, nil
}

// importer is one import of one folder.
type importer struct {
	fsys     fs.FS
	at       time.Time
	next     func(kind string, body []byte) Entry
	entries  []Entry
	problems asbuilt.Problems
	photos   map[string]string // ids of readings by the names of what shows them
}

// add adds an entry that is valid by itself. row is that of the file, 0: none.
func (m *importer) add(e Entry, file string, row int) {
	c := checker{file: file, row: row}
	c.envelope(e)
	c.body(e)
	if m.problems = append(m.problems, c.problems...); len(c.problems) == 0 {
		m.entries = append(m.entries, e)
	}
}

// read returns the bytes of one of the job's own files, ok where it is there.
func (m *importer) read(name string) (data []byte, ok bool) {
	f, err := folder.Open(m.fsys, name)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			m.problems.Addf(name, "", "", err.Error(), "a readable file")
		}
		return nil, false
	}
	defer f.Close()
	data, err = io.ReadAll(io.LimitReader(f, MaxBody+1))
	switch {
	case err != nil:
		m.problems.Addf(name, "", "", err.Error(), "a readable file")
	case len(data) > MaxBody:
		m.problems.Addf(name, "", "", fmt.Sprintf("more than %d MB", MaxBody>>20), "a file of one job")
	default:
		return data, true
	}
	return nil, false
}

// json returns a file of JSON as it stands, without a byte order mark, ok where it is
// there.
func (m *importer) json(name string) (data []byte, ok bool) {
	data, ok = m.read(name)
	return bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")), ok
}

// text takes a file of JSON.
func (m *importer) text(name, kind string) {
	if data, ok := m.json(name); ok {
		m.add(m.next(kind, data), name, 0)
	}
}

// settings takes job.json, with the content of the drafting file that it names: a
// phone has no such file.
func (m *importer) settings() {
	data, ok := m.json(folder.Settings)
	if !ok {
		return
	}
	if s, problems := fieldbook.DecodeSettings(bytes.NewReader(data), folder.Settings); len(problems) == 0 && s.DraftingFile != "" {
		drafting, ok := m.json(s.DraftingFile)
		if !ok {
			m.problems = append(m.problems, folder.NoDrafting(s.DraftingFile))
			return
		}
		_, problems = fieldbook.DecodeDrafting(bytes.NewReader(drafting), s.DraftingFile)
		if m.problems = append(m.problems, problems...); len(problems) > 0 {
			return
		}
		inlined, err := fieldbook.InlineDrafting(data, drafting)
		if err != nil {
			m.problems.Addf(s.DraftingFile, "", "", err.Error(), "what asfound learn wrote")
			return
		}
		data = inlined
	}
	m.add(m.next(KindSettings, data), folder.Settings, 0)
}

// rows takes the rows of a log.
func (m *importer) rows(rows []line, file string) {
	if m.photos == nil {
		m.photos = map[string]string{}
	}
	ids := map[string]int{}
	for _, row := range rows {
		id := strings.TrimSpace(row.cells["id"])
		if first, twice := ids[id]; twice {
			addRow(&m.problems, file, row.number, "id", show(id), "an id of its own; row %d has this one (a row without an id is called r and its number)", first)
		}
		ids[id] = row.number
		for name := range strings.SplitSeq(row.cells[photoColumn], between) {
			m.photos[name] = id
		}
		body, err := json.Marshal(row.cells)
		if err != nil {
			addRow(&m.problems, file, row.number, "", err.Error(), "text")
			continue
		}
		m.add(m.next(KindReading, body), file, row.number)
	}
}

// files takes all other files that the crew left, and the fixes in them.
func (m *importer) files() (files []File) {
	scan := m.scan()
	err := fs.WalkDir(m.fsys, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			m.problems.Addf(name, "", "", err.Error(), "a readable file")
			return nil
		case name != "." && hidden(name):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir() || name == folder.Sketch || name == folder.Settings || name == folder.Log:
			return nil
		case len(files) >= MaxFiles:
			m.problems.Addf("", "", "", fmt.Sprintf("more than %d files", MaxFiles), "the folder of one job")
			return fs.SkipAll
		}
		if want := badName(name); want != "" {
			m.problems.Addf(name, "", "", "a file of this name", "%s", want)
			return nil
		}
		if f, ok := m.file(name); ok {
			f.For = m.photos[name]
			if name == scan {
				f.For = "scan"
			}
			body, _ := json.Marshal(f) // texts and a number
			m.add(m.next(KindFile, body), name, 0)
			files = append(files, f)
		}
		return nil
	})
	if err != nil {
		m.problems.Addf("", "", "", err.Error(), "a readable folder")
	}
	for _, ext := range []string{".gpx", ".nmea"} { // in the order of folder.Read
		for _, f := range files {
			if fixes(f.Name) && strings.EqualFold(path.Ext(f.Name), ext) {
				m.fixes(f.Name)
			}
		}
	}
	return files
}

// scan returns the name of the scan that the sketch names.
func (m *importer) scan() string {
	for _, e := range m.entries {
		var s struct {
			Sketch struct{ Scan string }
		}
		if e.Kind == KindSketch && json.Unmarshal(e.Body, &s) == nil && s.Sketch.Scan != "" {
			return path.Clean(s.Sketch.Scan)
		}
	}
	return ""
}

// file reads a file for its size and SHA-256.
func (m *importer) file(name string) (file File, ok bool) {
	f, err := folder.Open(m.fsys, name)
	if err != nil {
		m.problems.Addf(name, "", "", err.Error(), "a readable file")
		return File{}, false
	}
	defer f.Close()
	sum := sha256.New()
	in := bufio.NewReader(io.LimitReader(f, MaxFile+1))
	head, _ := in.Peek(Head) // an error stays for Copy
	kind := TypeOf(head)
	size, err := io.Copy(sum, in)
	if err != nil {
		m.problems.Addf(name, "", "", err.Error(), "a readable file")
		return File{}, false
	}
	if size > MaxFile {
		m.problems.Addf(name, "", "", fmt.Sprintf("more than %d MB", MaxFile>>20), "a scan, a photo or another file of the job")
		return File{}, false
	}
	return File{SHA256: hex.EncodeToString(sum.Sum(nil)), Name: name, Type: kind, Size: size}, true
}

// fixes takes the fixes of a GPX or NMEA file as readings, called and measured
// as folder.Read does.
func (m *importer) fixes(name string) {
	data, ok := m.read(name)
	if !ok {
		return
	}
	var readings []survey.Reading
	var problems asbuilt.Problems
	if ext := path.Ext(name); strings.EqualFold(ext, ".gpx") {
		readings, problems = fieldbook.DecodeGPX(bytes.NewReader(data), name)
	} else {
		readings, problems = fieldbook.DecodeNMEA(bytes.NewReader(data), name, strings.TrimSuffix(name, ext))
	}
	rows := make([]line, len(readings))
	for i := range readings {
		cells := fieldbook.EncodeRow(&readings[i])
		maps.DeleteFunc(cells, func(_, cell string) bool { return strings.TrimSpace(cell) == "" })
		for column, cell := range cells {
			cells[column] = lineEnds.Replace(cell)
		}
		cells[fileColumn] = name
		rows[i] = line{i + 2, cells}
	}
	m.problems = append(m.problems, problems...)
	m.rows(rows, name)
}
