package fieldbook

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"asfound/asbuilt"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// openSky is the radius in metres that is taken to hold a fix with 95 % where
// the file does not say. GPS.gov has phones "typically" within it under open
// sky and, as far as remembered, states no probability: under trees and beside
// walls it is too small, and a log that states its accuracy is better.
const openSky = 4.9

// DecodeGPX reads the waypoints of a GPX 1.0 or 1.1 file as satellite fixes of
// the points that they are named after. Tracks and routes are not read.
func DecodeGPX(r io.Reader, file string) ([]survey.Reading, asbuilt.Problems) {
	var problems asbuilt.Problems
	text, ok := readText(r, file, &problems)
	if !ok {
		return nil, problems
	}
	var readings []survey.Reading
	if found, want := overgrown(text); found != "" {
		problems.Addf(file, "", "", found, "%s", want)
		return nil, problems
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	// The bytes were found to be UTF-8, whatever the declaration says.
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	root := false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			line, column := d.InputPos()
			problems.Addf(file, fmt.Sprintf("line %d, character %d", line, column), "", strings.TrimPrefix(err.Error(), "XML syntax error on "), "well-formed GPX 1.1")
			return readings, problems
		}
		start, ok := token.(xml.StartElement)
		switch {
		case !ok:
			continue
		case !root && start.Name.Local != "gpx":
			problems.Addf(file, "", "", "<"+start.Name.Local+">", "a GPX file, whose first element is <gpx>")
			return nil, problems
		case start.Name.Local != "wpt":
			root = true
			continue
		}
		line, _ := d.InputPos()
		var w waypoint
		if err := d.DecodeElement(&w, &start); err != nil {
			problems.Addf(file, fmt.Sprintf("line %d", line), "wpt", err.Error(), "a waypoint with lat, lon and name")
			return readings, problems
		}
		if len(readings) >= MaxRows || len(problems) > maxProblems {
			problems.Addf(file, "", "", "more waypoints or problems than are listed", "the fixes of one job")
			return readings, problems
		}
		if r, ok := w.reading(file, line, len(readings)+1, &problems); ok {
			readings = append(readings, r)
		}
	}
	if !root {
		problems.Addf(file, "", "", "no GPX element", "a GPX file, whose first element is <gpx>")
	}
	return readings, problems
}

// overgrown says what of an XML text is more than a file of waypoints has, before
// the text is decoded: a decoder holds each open element, and each attribute of
// one, in many times its own size. In a text that is not well-formed the counts may
// be off; there the decoder stops by itself.
func overgrown(text []byte) (found, want string) {
	depth := 0
	for len(text) > 0 {
		i := bytes.IndexByte(text, '<')
		if i < 0 {
			return "", ""
		}
		text = text[i:]
		end := 0
		switch {
		case bytes.HasPrefix(text, []byte("<!--")):
			end = past(text, "-->")
		case bytes.HasPrefix(text, []byte("<![CDATA[")):
			end = past(text, "]]>")
		default:
			var quote byte
			attributes := 0
			for end = 1; end < len(text) && (quote != 0 || text[end] != '>'); end++ {
				switch b := text[end]; {
				case quote != 0 && b == quote:
					quote = 0
				case quote == 0 && (b == '"' || b == '\''):
					quote = b
				case quote == 0 && b == '=':
					attributes++
				}
			}
			switch {
			case attributes > maxAttributes:
				return fmt.Sprintf("an element with %d attributes", attributes), fmt.Sprintf("at most %d", maxAttributes)
			case len(text) > 1 && (text[1] == '?' || text[1] == '!'):
			case len(text) > 1 && text[1] == '/':
				depth--
			case text[min(end, len(text))-1] != '/':
				depth++
			}
			if depth > maxDepth {
				return fmt.Sprintf("elements more than %d deep within one another", maxDepth), "the waypoints of GPX 1.1"
			}
		}
		text = text[min(end, len(text)):]
	}
	return "", ""
}

// past returns where text goes on after the first end mark.
func past(text []byte, mark string) int {
	if i := bytes.Index(text, []byte(mark)); i >= 0 {
		return i + len(mark)
	}
	return len(text)
}

// waypoint is a wpt element of GPX 1.1.
type waypoint struct {
	Lat  string `xml:"lat,attr"`
	Lon  string `xml:"lon,attr"`
	Name string `xml:"name"`
	Time string `xml:"time"`
	Desc string `xml:"desc"`
	HDOP string `xml:"hdop"`
}

func (w waypoint) reading(file string, line, n int, problems *asbuilt.Problems) (survey.Reading, bool) {
	place := fmt.Sprintf("line %d, waypoint %s", line, show(w.Name))
	before := len(*problems)
	r := survey.Reading{ID: fmt.Sprintf("%s:%d", file, n), File: file, Row: line, Kind: survey.GNSS, Point: strings.TrimSpace(w.Name), Note: strings.TrimSpace(w.Desc), Accuracy: openSky}
	if r.Point == "" {
		problems.Addf(file, place, "name", "nothing", "the name of the landmark, hole or stake that was fixed")
	}
	lat, okLat := number(w.Lat)
	lon, okLon := number(w.Lon)
	if !okLat || !okLon {
		problems.Addf(file, place, "lat, lon", show(w.Lat+", "+w.Lon), "decimal degrees")
	} else {
		p, err := geodesy.New(lon, lat)
		if err != nil {
			problems.Addf(file, place, "lat, lon", show(w.Lat+", "+w.Lon), "%s", err)
		}
		r.Position = p
	}
	if s := strings.TrimSpace(w.Time); s != "" {
		t, err := time.Parse(time.RFC3339, s)
		if err != nil {
			problems.Addf(file, place, "time", show(s), "a time such as 2026-05-04T09:30:00Z")
		}
		r.Time = t
	}
	if s := strings.TrimSpace(w.HDOP); s != "" {
		h, ok := number(s)
		if !ok || h < 0 || h > 1000 {
			problems.Addf(file, place, "hdop", show(s), "a number such as 1.2")
		}
		r.Accuracy = openSky * math.Max(1, h)
	}
	return r, len(*problems) == before
}
