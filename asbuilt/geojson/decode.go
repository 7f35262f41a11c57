package geojson

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/spelling"
)

// Decode reads a sketch.geojson. file names it in the problems. Everything
// wrong with it is found in one pass, in the order of the file, including what
// asbuilt.Sketch.Check finds; the sketch is nil where there is any problem.
//
// A sketch in wgs84 comes back in metres east and north of Sketch.Origin, the
// mean of all positions, in the ground frame of geodesy.NewSite at height 0.
// Exterior rings are turned counter-clockwise.
func Decode(r io.Reader, file string) (*asbuilt.Sketch, asbuilt.Problems) {
	data, bad := readText(r)
	if bad != nil {
		return nil, asbuilt.Problems{{File: file, Place: bad.place, Found: bad.found, Want: bad.want}}
	}
	d := decoder{file: file, sketch: &asbuilt.Sketch{}}
	d.collection(value(space(data)))
	if problems := d.problems(); len(problems) > 0 {
		return nil, problems
	}
	return d.sketch, nil
}

// decoder is one reading of one file.
type decoder struct {
	file   string
	sketch *asbuilt.Sketch
	bare   geo.Unit // of bare numbers; Pixel where they say nothing of the ground
	place  string   // of the feature being read
	found  asbuilt.Problems
	more   int  // problems beyond MaxProblems
	broken bool // the collection itself could not be read: there is nothing to check
}

// addf adds a problem of the feature being read, or of the file.
func (d *decoder) addf(field, found, want string, args ...any) {
	if len(d.found) >= MaxProblems {
		d.more++
		return
	}
	d.found.Addf(d.file, d.place, field, found, want, args...)
}

// problems returns what was found while reading and what Check finds, in the
// order of the file. Check's problems are left out for what could not be read,
// and where reading alone found more than can be listed.
func (d *decoder) problems() asbuilt.Problems {
	all := d.found
	order := map[string]int{}
	for i := range d.sketch.Parts {
		p := &d.sketch.Parts[i]
		order[p.Place()], order[fmt.Sprintf("feature %d", p.Feature)] = p.Feature, p.Feature
	}
	if !d.broken && d.more == 0 {
		for _, p := range d.sketch.Check(d.file) {
			if !slices.ContainsFunc(d.found, func(q asbuilt.Problem) bool {
				return q.Place == p.Place && (strings.HasPrefix(q.Field, p.Field) || q.Field == "" && q.Place != "")
			}) {
				all = append(all, p)
			}
		}
		slices.SortStableFunc(all, func(a, b asbuilt.Problem) int { return order[a.Place] - order[b.Place] })
	}
	if n := len(all) - MaxProblems + d.more; n > 0 {
		all = append(all[:min(len(all), MaxProblems)], asbuilt.Problem{
			File: d.file, Found: fmt.Sprintf("%d more problems", n), Want: "the ones above fixed first"})
	}
	return all
}

// collection reads the whole: a FeatureCollection (RFC 7946, 3.3) with the
// foreign member sketch (6.1).
func (d *decoder) collection(v value) {
	if v.kind() != '{' {
		d.broken = true
		d.addf("", v.show(), `a FeatureCollection: {"type": "FeatureCollection", "sketch": {…}, "features": […]}`)
		return
	}
	m := d.object("", v, "type", "sketch", "features", "bbox", "crs")
	if t := m["type"]; t.text() != "FeatureCollection" {
		d.addf("type", t.show(), `"FeatureCollection" (RFC 7946, 3)`)
	}
	// RFC 7946, 7.1: what defines another type of object may not stand here.
	for _, name := range []string{"coordinates", "geometries", "geometry", "properties"} {
		if _, ok := m[name]; ok {
			d.addf(name, "a member "+quote(name), "no such member in a FeatureCollection (RFC 7946, 7.1)")
		}
	}
	d.header(m["sketch"])
	d.crs(m["crs"])
	list := m["features"]
	if list.kind() != '[' {
		d.broken = true
		d.addf("features", list.show(), "an array of Features (RFC 7946, 3.3)")
		return
	}
	n := 0
	for range list.items() {
		if n++; n > MaxFeatures {
			d.broken = true
			d.addf("features", fmt.Sprintf("more than %d features", MaxFeatures), "at most %d: the sketch of one lot", MaxFeatures)
			return
		}
	}
	d.sketch.Parts = make([]asbuilt.Part, 0, n)
	for i, f := range list.items() {
		d.place = fmt.Sprintf("feature %d", i+1)
		d.sketch.Parts = append(d.sketch.Parts, d.feature(i+1, f))
		d.place = ""
	}
	if d.sketch.Plane == asbuilt.WGS84 {
		d.ground()
	} else {
		d.degrees()
	}
}

// crs refuses a reference system other than that of RFC 7946, section 4. GeoJSON
// of 2008 had a member of this name, and some programs still write it.
func (d *decoder) crs(v value) {
	if v.kind() == 0 || v.kind() == 'n' || d.sketch.Plane != asbuilt.WGS84 {
		return
	}
	if s := string(v); !strings.Contains(s, "CRS84") && !strings.Contains(s, "EPSG::4326") && !strings.Contains(s, "EPSG:4326") {
		d.addf("crs", v.show(), "no crs: positions in wgs84 are longitude, latitude in degrees (RFC 7946, 4)")
	}
}

// object returns the members of an object by name. It finds doubled names, and
// members that look like a known one misspelt: with letters changed only while
// that one is missing, with letters swapped (lenght) always.
func (d *decoder) object(path string, v value, known ...string) map[string]value {
	m := map[string]value{}
	var unknown []string
	n := 0
	for e := range v.members() {
		if n++; n > MaxMembers {
			d.addf(path, fmt.Sprintf("more than %d members", MaxMembers), "at most %d", MaxMembers)
			break
		}
		if _, ok := m[e.name]; ok {
			d.addf(join(path, shorten(e.name)), "two members of this name", "one (RFC 8259, 4)")
			continue
		}
		m[e.name] = e.value
		if !slices.Contains(known, e.name) {
			unknown = append(unknown, e.name)
		}
	}
	for _, name := range unknown {
		n := spelling.Nearest(name, known)
		if n != "" && (m[n] == nil || spelling.Anagram(strings.ToLower(name), n)) {
			d.addf(join(path, shorten(name)), "a member "+quote(name), "%s, if that is what is meant; else another name", n)
		}
	}
	return m
}

// given reports whether a member is there and not null: programs that write
// tables as GeoJSON write null for an empty cell.
func given(v value) bool { return v.kind() != 0 && v.kind() != 'n' }

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
