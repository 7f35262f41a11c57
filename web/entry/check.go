package entry

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/survey/fieldbook"
	"asfound/survey/folder"
)

// Check returns everything wrong with the entry by itself, as
// asbuilt.Problems; nil where there is nothing. What is wrong between entries
// (a hole in a lateral that no sketch has) is found by Job.Read.
func (e Entry) Check() error {
	c := checker{place: "entry " + show(e.ID)}
	c.envelope(e)
	c.body(e)
	return c.problems.Err()
}

// checker checks one entry.
type checker struct {
	file, place string
	row         int // of file; 0: in none
	problems    asbuilt.Problems
}

// envelope checks all but the body.
func (c *checker) envelope(e Entry) {
	if !ValidID(e.ID) {
		c.addf("id", show(e.ID), "26 digits of Crockford's base 32, such as 01JX4W8Z0K3V5T7Q9R2B4D6F8H")
	}
	if !ValidID(e.Job) {
		c.addf("job", show(e.Job), "the id of a job, such as 01JX4W7M5N6P8S0V2X4Z6B8D0F")
	}
	if y := e.At.UTC().Year(); e.At.IsZero() || y < 1970 || y > 9999 {
		c.addf("at", show(e.At.UTC().Format(stamp)), "an RFC 3339 time such as 2026-05-04T09:30:00.000Z")
	}
	switch n := utf8.RuneCountInString(e.By); {
	case !plain(e.By, false):
		c.addf("by", show(e.By), "the name of the phone, in plain text")
	case n > MaxBy:
		c.addf("by", show(e.By), "at most %d letters", MaxBy)
	}
	if e.Kind == "" || len(e.Kind) > maxKind || strings.Trim(e.Kind, "abcdefghijklmnopqrstuvwxyz-") != "" {
		c.addf("kind", show(e.Kind), "%s, %s, %s, %s or %s", KindSketch, KindSettings, KindReading, KindFile, KindAside)
	}
	if e.Over != "" && !ValidID(e.Over) {
		c.addf("over", show(e.Over), "the id of the entry in whose place this one was made")
	}
}

func (c *checker) addf(field, found, want string, args ...any) {
	c.problems = append(c.problems, asbuilt.Problem{File: c.file, Place: c.place, Row: c.row, Field: field, Found: found, Want: fmt.Sprintf(want, args...)})
}

func (c *checker) body(e Entry) {
	if len(e.Body) > MaxBody {
		c.addf("body", fmt.Sprintf("%d bytes", len(e.Body)), "at most %d MB", MaxBody>>20)
		return
	}
	var problems asbuilt.Problems
	switch e.Kind { // these errors say best where the text is wrong
	case KindSketch:
		_, problems = geojson.Decode(bytes.NewReader(e.Body), folder.Sketch)
	case KindSettings:
		_, problems = fieldbook.DecodeSettings(bytes.NewReader(e.Body), folder.Settings)
	}
	if c.problems = append(c.problems, problems...); len(problems) > 0 {
		return
	}
	body := bytes.TrimSpace(e.Body)
	if len(body) == 0 || body[0] != '{' || !utf8.Valid(body) || !json.Valid(body) {
		c.addf("body", show(string(body)), "a JSON object")
		return
	}
	switch e.Kind {
	case KindReading:
		c.reading(e)
	case KindFile:
		c.attached(e)
	case KindAside:
		var a Aside
		if err := json.Unmarshal(e.Body, &a); err != nil || a.Device != "" && !ValidID(a.Device) {
			c.addf("body", show(string(e.Body)), `an object such as {"device": "01JX4W7M5N6P8S0V2X4Z6B8D0F", "aside": true}; without a device the whole job is meant`)
		}
	}
}

// reading checks the row of a reading: its form here, its words and numbers
// where the log is read. Bare numbers are read as feet, since the unit of the
// job is not known here: a number that some unit allows is not refused.
func (c *checker) reading(e Entry) {
	row, err := rowOf(e)
	if err != nil {
		c.addf("body", show(string(e.Body)), `an object of texts such as {"kind": "tape", "from": "A", "to": "H1", "value": "43'6\""}`)
		return
	}
	if len(row) > MaxColumns {
		c.addf("body", fmt.Sprintf("%d columns", len(row)), "at most %d", MaxColumns)
		return
	}
	before := len(c.problems)
	names := map[string]string{}
	for _, name := range slices.Sorted(maps.Keys(row)) {
		low := strings.ToLower(name)
		switch other := names[low]; {
		case name == "" || len(name) > MaxColumn || strings.TrimSpace(name) != name || !plain(name, false):
			c.addf("body", "a column "+show(name), "a name of at most %d bytes, without spaces around it", MaxColumn)
		case other != "":
			c.addf("body", fmt.Sprintf("columns %q and %q", other, name), "each column once")
		case slices.Contains(columns, low) && low != name:
			c.addf("body", "a column "+show(name), "%s", low)
		case len(row[name]) > MaxCell:
			c.addf(name, show(row[name]), "at most %d bytes", MaxCell)
		case !plain(row[name], true):
			c.addf(name, show(row[name]), "text without control characters")
		}
		names[low] = name
	}
	if len(c.problems) > before {
		return
	}
	beside := slices.Collect(maps.Keys(names))
	for _, low := range slices.Sorted(maps.Keys(names)) {
		if n := fieldbook.Misspelt(low, beside); n != "" {
			c.addf("body", "a column "+show(names[low]), "%s, if that was meant", n)
		}
	}
	_, problems := fieldbook.DecodeRow(row, geo.Foot)
	for _, p := range problems {
		p.File, p.Place, p.Row = c.file, c.place, c.row
		c.problems = append(c.problems, p)
	}
}

// attached checks what an entry says about a file. Its bytes are checked where
// they are stored.
func (c *checker) attached(e Entry) {
	var f File
	if err := json.Unmarshal(e.Body, &f); err != nil {
		c.addf("body", show(string(e.Body)), `an object such as {"sha256": "…", "name": "scan.png", "type": "image/png", "size": 41200}`)
		return
	}
	if !ValidSHA256(f.SHA256) {
		c.addf("sha256", show(f.SHA256), "the SHA-256 of the bytes as 64 lower-case hexadecimal digits")
	}
	if want := badName(f.Name); want != "" {
		c.addf("name", show(f.Name), "%s", want)
	}
	if f.Size < 0 || f.Size > MaxFile {
		c.addf("size", strconv.FormatInt(f.Size, 10), "bytes, at most %d MB", MaxFile>>20)
	}
	if len(f.Type) > MaxName || !plain(f.Type, false) {
		c.addf("type", show(f.Type), "a media type such as image/png")
	}
	if len(f.For) > MaxCell || !plain(f.For, false) {
		c.addf("for", show(f.For), "scan, or the id of a reading")
	}
}

// ValidSHA256 reports whether s is a SHA-256 as the name of a file has it: 64
// lower-case hexadecimal digits.
func ValidSHA256(s string) bool {
	return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == ""
}

// badName says what the name of a file has to be, "" where it is that: a path
// that stays within the folder on any system, and none of the job's own files.
func badName(name string) string {
	switch {
	case name == "." || !fs.ValidPath(name) || strings.ContainsRune(name, '\\') || len(name) > 1 && name[1] == ':' || !plain(name, false):
		return "the name of a file in the job's folder, such as scan.png"
	case len(name) > MaxName:
		return fmt.Sprintf("at most %d bytes", MaxName)
	case own(name):
		return "another name: " + name + " is the job's own"
	case hidden(name):
		return "a name that does not begin with a point"
	}
	return ""
}

// own reports whether a name is that of a file that the entries themselves
// make, in upper or lower case, since some file systems do not distinguish
// them.
func own(name string) bool {
	return slices.Contains([]string{folder.Sketch, folder.Settings, folder.Log}, strings.ToLower(name))
}

// hidden reports whether a file was left by another program, not by the crew.
func hidden(name string) bool {
	return slices.ContainsFunc(strings.Split(name, "/"), func(s string) bool {
		return strings.HasPrefix(s, ".") || s == "__MACOSX"
	})
}

// plain reports whether s is text without control characters; lines may be
// more than one.
func plain(s string, lines bool) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool {
		return unicode.IsControl(r) && !(lines && (r == '\n' || r == '\t'))
	})
}

// show returns a value as a message has it: quoted, and not too long.
func show(s string) string {
	if r := []rune(s); len(r) > maxShown {
		s = string(r[:maxShown]) + "…"
	}
	return strconv.Quote(s)
}
