// Package folder reads a job from a folder of plain files: sketch.geojson,
// job.json, readings.csv, and any GPX and NMEA files. It reads through fs.FS,
// so that a folder on disk, an archive or the memory of a browser will do.
package folder

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/observe"
)

// The files of a job.
const (
	Sketch   = "sketch.geojson"
	Settings = "job.json"
	Log      = "readings.csv"
)

// Read reads the job in the root of fsys, and checks it. Everything wrong with
// any file is found in one pass; the job is nil where there is any problem. GPX
// waypoints are fixes of the points that they are named after, the sentences of
// an NMEA file a fix of the point that the file is named after.
func Read(fsys fs.FS) (*survey.Job, asbuilt.Problems) {
	var problems asbuilt.Problems
	j := &survey.Job{Settings: survey.DefaultSettings()}
	found, ok := open(fsys, Sketch, &problems, func(f fs.File) asbuilt.Problems {
		s, p := geojson.Decode(f, Sketch)
		j.Sketch = s
		return p
	})
	if ok && !found {
		problems = append(problems, NoSketch())
	}
	open(fsys, Settings, &problems, func(f fs.File) asbuilt.Problems {
		s, p := fieldbook.DecodeSettings(f, Settings)
		j.Settings = s
		return p
	})
	if name := j.Settings.DraftingFile; name != "" {
		found, ok := open(fsys, name, &problems, func(f fs.File) asbuilt.Problems {
			d, p := fieldbook.DecodeDrafting(f, name)
			j.Settings.Drafting = d
			return p
		})
		if ok && !found {
			problems = append(problems, NoDrafting(name))
		}
	}
	j.Draft()
	open(fsys, Log, &problems, func(f fs.File) asbuilt.Problems {
		r, p := fieldbook.DecodeReadings(f, Log, j.Settings.Unit)
		j.Readings = append(j.Readings, r...)
		return p
	})
	for _, name := range others(fsys, &problems) {
		open(fsys, name, &problems, func(f fs.File) asbuilt.Problems {
			var r []survey.Reading
			var p asbuilt.Problems
			if strings.EqualFold(path.Ext(name), ".gpx") {
				r, p = fieldbook.DecodeGPX(f, name)
			} else {
				r, p = fieldbook.DecodeNMEA(f, name, strings.TrimSuffix(name, path.Ext(name)))
			}
			j.Readings = append(j.Readings, r...)
			return p
		})
	}
	if j.Sketch != nil {
		if scan := j.Sketch.Scan; scan != "" {
			info, err := fs.FileInfo(nil), fs.ErrInvalid
			if name := path.Clean(scan); fs.ValidPath(name) {
				info, err = fs.Stat(fsys, name)
			}
			if err != nil || !info.Mode().IsRegular() {
				problems = append(problems, NoScan(scan))
			}
		}
		problems = append(problems, observe.Check(j)...)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return j, nil
}

// NoSketch says that a job has no sketch.
func NoSketch() asbuilt.Problem {
	return asbuilt.Problem{File: Sketch, Found: "no such file",
		Want: `the as-built sketch, a GeoJSON FeatureCollection: {"type": "FeatureCollection", "sketch": {"unit": "ft"}, "features": [...]}`}
}

// NoDrafting says that a job has no file of the name that its settings give as
// drafting.
func NoDrafting(name string) asbuilt.Problem {
	return asbuilt.Problem{File: Settings, Field: "drafting", Found: strconv.Quote(name),
		Want: "the name of a file in the job's folder: what asfound learn wrote"}
}

// NoScan says that a job has no file of the name that its sketch gives the scan.
func NoScan(name string) asbuilt.Problem {
	return asbuilt.Problem{File: Sketch, Field: "sketch.scan", Found: strconv.Quote(name), Want: "the name of a file in the job's folder"}
}

// open hands a file to read; found is false where there is none, ok where it
// could not be opened.
func open(fsys fs.FS, name string, problems *asbuilt.Problems, read func(fs.File) asbuilt.Problems) (found, ok bool) {
	f, err := Open(fsys, name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, true
	}
	if err != nil {
		problems.Addf(name, "", "", err.Error(), "a readable file")
		return false, false
	}
	defer f.Close()
	*problems = append(*problems, read(f)...)
	return true, true
}

// Open opens a file that can be read to its end. Anything else is refused before
// it is opened: opening a named pipe waits for somebody who writes to it.
func Open(fsys fs.FS, name string) (fs.File, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	what := "no ordinary file"
	switch mode := info.Mode(); {
	case mode.IsRegular():
		return fsys.Open(name)
	case mode.IsDir():
		what = "a folder"
	case mode&fs.ModeNamedPipe != 0:
		what = "a named pipe"
	case mode&fs.ModeDevice != 0:
		what = "a device"
	case mode&fs.ModeSocket != 0:
		what = "a socket"
	}
	return nil, errors.New(what)
}

// others returns the names of the GPX and NMEA files, in order.
func others(fsys fs.FS, problems *asbuilt.Problems) []string {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		problems.Addf("", "", "", err.Error(), "a readable folder")
	}
	absent := map[string]string{stem(Sketch): Sketch, stem(Settings): Settings, stem(Log): Log}
	for _, e := range entries {
		if s := stem(e.Name()); absent[s] == e.Name() {
			delete(absent, s)
		}
	}
	var gpx, nmea []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") { // left by other programs, not by the crew
			continue
		}
		if meant := absent[stem(e.Name())]; meant != "" {
			problems.Addf(e.Name(), "", "", "a file of this name", "%s, if that was meant: under this name it is not read", meant)
		}
		switch strings.ToLower(path.Ext(e.Name())) {
		case ".gpx":
			gpx = append(gpx, e.Name())
		case ".nmea":
			nmea = append(nmea, e.Name())
		}
	}
	slices.Sort(gpx)
	slices.Sort(nmea)
	return append(gpx, nmea...)
}

// stem returns what remains of the name of a text file once its extension, the
// case of its letters and a plural s are left out, so that Reading.csv and
// sketch.json are recognised; "" of any other file.
func stem(name string) string {
	name = strings.ToLower(name)
	ext := path.Ext(name)
	switch ext {
	case ".csv", ".json", ".geojson", ".txt":
		return strings.TrimSuffix(strings.TrimSuffix(name, ext), "s")
	}
	return ""
}
