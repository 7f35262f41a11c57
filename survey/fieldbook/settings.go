package fieldbook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/geo/spelling"
	"asfound/survey"
)

// DecodeSettings reads job.json. Members that are absent keep their default.
func DecodeSettings(r io.Reader, file string) (survey.Settings, asbuilt.Problems) {
	s := survey.DefaultSettings()
	var problems asbuilt.Problems
	text, ok := readText(r, file, &problems)
	if !ok {
		return s, problems
	}
	var members map[string]json.RawMessage
	err := json.Unmarshal(text, &members)
	if err == nil && members == nil {
		err = errors.New("null")
	}
	if err != nil {
		place := ""
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			before := text[:min(int(syntax.Offset), len(text))]
			place = fmt.Sprintf("line %d", 1+bytes.Count(before, []byte("\n")))
		}
		problems.Addf(file, place, "", strings.TrimPrefix(err.Error(), "json: "), `one JSON object such as {"title": "Lot 7", "unit": "ft"}`)
		return s, problems
	}
	d := &settings{file: file, problems: &problems}
	d.into(&s, members)
	return s, problems
}

// settings is one reading of one job.json.
type settings struct {
	file     string
	problems *asbuilt.Problems
	unit     geo.Unit // of bare numbers
}

func (d *settings) addf(member string, raw json.RawMessage, want string, args ...any) {
	d.problems.Addf(d.file, "", member, shorten(raw), want, args...)
}

// shorten returns JSON as a message has it.
func shorten(raw json.RawMessage) string {
	s := strings.Join(strings.Fields(string(raw)), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// misspelt reports members that look like misspellings of absent ones.
func (d *settings) misspelt(prefix string, members map[string]json.RawMessage, names ...string) {
	for _, k := range slices.Sorted(maps.Keys(members)) {
		if slices.Contains(names, k) {
			continue
		}
		if n := spelling.Nearest(k, names); n != "" && members[n] == nil {
			d.addf(prefix+k, members[k], "%s, if that was meant", n)
		}
	}
}

func (d *settings) into(s *survey.Settings, m map[string]json.RawMessage) {
	d.misspelt("", m, "title", "permit", "unit", "site", "crs", "hole", "tools", "follow", "rod", "entry_depth", "seek", "declination", "drafting")
	d.text("title", m["title"], &s.Title)
	d.text("permit", m["permit"], &s.Permit)
	d.text("seek", m["seek"], &s.Seek)
	unit := string(s.Unit)
	d.text("unit", m["unit"], &unit)
	if u, err := geo.ParseUnit(unit); err == nil && (u == geo.Foot || u == geo.Metre) {
		s.Unit = u
	} else {
		d.addf("unit", m["unit"], `"ft" or "m"`)
	}
	if raw := m["site"]; raw != nil {
		s.Site = d.site(raw)
	}
	crs := ""
	d.text("crs", m["crs"], &crs)
	if crs != "" {
		if c, err := geodesy.ParseCRS(crs); err != nil {
			d.addf("crs", m["crs"], "an EPSG code of UTM or a state plane, such as EPSG:32617")
		} else {
			s.EPSG = c.Code
		}
	}
	if raw := m["hole"]; raw != nil {
		var hole map[string]json.RawMessage
		if json.Unmarshal(raw, &hole) != nil || hole == nil {
			d.addf("hole", raw, `an object such as {"radius": "6 in", "depth_limit": "8 ft"}`)
		}
		d.misspelt("hole.", hole, "radius", "depth_limit")
		d.length("hole.radius", hole["radius"], s.Unit, 0.005, 5, &s.Hole.Radius)
		d.length("hole.depth_limit", hole["depth_limit"], s.Unit, 0.1, 30, &s.Hole.DepthLimit)
	}
	d.unit = s.Unit
	tools := named(m["tools"])
	s.Tools = d.tools(tools)
	s.Pushing = d.pushings(tools)
	s.Follow = d.follow(m["follow"], s.Following())
	s.Rod = d.rod(m["rod"], s.Rodding())
	d.drafting(m["drafting"], s)
	d.length("entry_depth", m["entry_depth"], s.Unit, 0.1, 30, &s.EntryDepth)
	if raw := m["declination"]; raw != nil {
		var v float64
		if json.Unmarshal(raw, &v) != nil || v < -180 || v > 180 {
			d.addf("declination", raw, "degrees, east positive")
		}
		s.Declination = geo.Degrees(v)
	}
}

func (d *settings) text(member string, raw json.RawMessage, to *string) {
	if raw == nil || string(raw) == "null" {
		return
	}
	if json.Unmarshal(raw, to) != nil {
		d.addf(member, raw, "text in double quotes")
	}
}

// length reads a number in unit or text with a unit, between limits in metres.
func (d *settings) length(member string, raw json.RawMessage, unit geo.Unit, least, most float64, to *float64) {
	if raw == nil || string(raw) == "null" {
		return
	}
	var l geo.Length
	var err error
	var text string
	if json.Unmarshal(raw, &text) == nil {
		l, err = geo.ParseLength(text, unit)
	} else {
		var v float64
		if json.Unmarshal(raw, &v) != nil {
			d.addf(member, raw, "a number in %s or text with a unit such as \"6 in\"", unit)
			return
		}
		l, err = geo.Bare(v, unit)
	}
	var m *geo.Misread
	switch {
	case errors.As(err, &m):
		d.addf(member, raw, "%s", m.Want)
	case err != nil:
		d.addf(member, raw, "a length")
	case l.Metres < least || l.Metres > most:
		d.addf(member, raw, "a length between %g m and %g m", least, most)
	default:
		*to = l.Metres
	}
}

func (d *settings) site(raw json.RawMessage) *survey.Place {
	var v struct{ Lon, Lat, Accuracy *float64 }
	if json.Unmarshal(raw, &v) != nil || v.Lon == nil || v.Lat == nil {
		d.addf("site", raw, `an object such as {"lon": -79.94, "lat": 37.27, "accuracy": 50}`)
		return nil
	}
	p, err := geodesy.New(*v.Lon, *v.Lat)
	if err != nil {
		d.addf("site", raw, "%s", err)
		return nil
	}
	place := &survey.Place{Position: p, Accuracy: 50}
	if v.Accuracy != nil {
		if *v.Accuracy <= 0 || *v.Accuracy > 1e6 {
			d.addf("site.accuracy", raw, "metres above 0: the radius that holds the lot 95 %% of the time")
		}
		place.Accuracy = *v.Accuracy
	}
	return place
}
