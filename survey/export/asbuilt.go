package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"maps"

	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/record"
)

// AsBuiltGeoJSON writes the corrected as-built as a sketch.geojson: the next
// crew can put it into a job folder as it stands. Beside what a sketch says,
// every Feature has the state and the accuracy of its part and how far the old
// sketch was off, and the collection has the foreign members frame, accuracy,
// limits and readings: the log that it rests on, row by row.
//
// A job tied to the earth is written in longitude and latitude, any other in
// metres of the field frame (plane paper). The error is the writer's, or names
// what cannot be written.
func AsBuiltGeoJSON(w io.Writer, l *locate.Location) error {
	r := record.New(l)
	var b bytes.Buffer
	if err := geojson.Encode(&b, r.Sketch(l)); err != nil {
		return err
	}
	var sheet struct {
		Sketch   json.RawMessage
		Features []struct {
			ID         string
			Geometry   *codec.Geometry
			Properties map[string]any
		}
	}
	if err := json.Unmarshal(b.Bytes(), &sheet); err != nil {
		return err
	}
	readings, err := logRows(l.Job.Readings)
	if err != nil {
		return err
	}
	out := asBuilt{Type: "FeatureCollection", Sketch: sheet.Sketch, Frame: newFrame(l.Frame),
		Accuracy: finding.Sentences(r.Accuracy, r.Unit), Limits: finding.Sentences(r.Limits, r.Unit), Doubts: finding.Sentences(r.Doubts, r.Unit), Readings: readings}
	p := painter{l.Frame}
	for i := range sheet.Features {
		f := &sheet.Features[i]
		maps.Copy(f.Properties, added(l, r, f.ID))
		t, err := f.Geometry.Decode()
		if err != nil {
			return fmt.Errorf("%s: %w", f.ID, err)
		}
		made, err := p.feature(f.ID, t, f.Properties)
		if err != nil {
			return err
		}
		out.Features = append(out.Features, made)
	}
	return write(w, out)
}

// asBuilt is the corrected as-built as a FeatureCollection with its foreign
// members.
type asBuilt struct {
	Type     string              `json:"type"`
	Sketch   json.RawMessage     `json:"sketch"`
	Frame    Frame               `json:"frame"`
	Accuracy []string            `json:"accuracy"`
	Limits   []string            `json:"limits"`
	Doubts   []string            `json:"doubts"`
	Features []Feature           `json:"features"`
	Readings []map[string]string `json:"readings"`
}

// added returns the properties that a part has beside those of a sketch:
// state, and of each spot its accuracy (the radius that holds it with 95 %
// relative to the landmarks), today's cover, and how far it lies from the old
// sketch. Those of a line have start or end before their names.
func added(l *locate.Location, r *record.Record, id string) map[string]any {
	more := map[string]any{}
	for i := range l.Outlines {
		if o := &l.Outlines[i]; o.Part == id {
			more["state"] = string(o.State)
		}
	}
	p := r.Part(id)
	if p == nil {
		if s := l.Spot(id, asbuilt.Center); s != nil {
			more["accuracy"] = Metres(s.Landmarks95)
		}
		return more
	}
	for i := range p.Spots {
		s := &p.Spots[i]
		name := ""
		if s.Spot != asbuilt.Center {
			name = string(s.Spot) + "_"
			more[name+"state"] = string(s.State)
		}
		more[name+"accuracy"] = Metres(s.Radius95)
		more[name+"moved"] = Metres(s.Moved)
		if s.Toward != "" {
			more[name+"moved_toward"] = s.Toward
		}
		if s.Cover != nil {
			more[name+"cover_today"], more[name+"cover_sigma"] = Metres(s.Cover.Mean), Metres(s.Cover.Sigma)
		}
	}
	return more
}

// logRows returns the readings as readings.csv has them, a map from column to
// text for each row, without the empty cells.
func logRows(readings []survey.Reading) ([]map[string]string, error) {
	var b bytes.Buffer
	if err := fieldbook.EncodeReadings(&b, readings); err != nil {
		return nil, err
	}
	table, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		return nil, err
	}
	rows := []map[string]string{}
	for _, line := range table[min(1, len(table)):] {
		row := map[string]string{}
		for i, cell := range line {
			if cell != "" {
				row[table[0][i]] = cell
			}
		}
		rows = append(rows, row)
	}
	return rows, nil
}
