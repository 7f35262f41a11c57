package export

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"

	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
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
func AsBuiltGeoJSON(ctx context.Context, w io.Writer, l *locate.Location) error {
	r := record.New(l)
	var b bytes.Buffer
	sketch, err := r.Sketch(ctx, l)
	if err != nil {
		return err
	}
	if err := geojson.Encode(&b, sketch); err != nil {
		return err
	}
	var sheet struct {
		Sketch   json.RawMessage
		Features []struct {
			ID         string
			Geometry   *codec.Geometry
			Properties map[string]json.RawMessage
		}
	}
	if err := json.Unmarshal(b.Bytes(), &sheet); err != nil {
		return err
	}
	readings, err := logRows(l.Job.Readings)
	if err != nil {
		return err
	}
	out := answer.AsBuilt{Type: "FeatureCollection", Sketch: sheet.Sketch, Frame: newFrame(l.Frame, language.English),
		Accuracy: finding.Sentences(r.Accuracy, finding.English(r.Unit)), Limits: finding.Sentences(r.Limits, finding.English(r.Unit)), Doubts: finding.Sentences(r.Doubts, finding.English(r.Unit)), Readings: readings}
	p := painter{l.Frame}
	for i := range sheet.Features {
		f := &sheet.Features[i]
		t, err := f.Geometry.Decode()
		if err != nil {
			return fmt.Errorf("%s: %w", f.ID, err)
		}
		g, err := p.encode(t)
		if err != nil {
			return fmt.Errorf("%s: %w", f.ID, err)
		}
		if err := addSpots(f.Properties, l, r, f.ID); err != nil {
			return fmt.Errorf("%s: %w", f.ID, err)
		}
		out.Features = append(out.Features, answer.AsBuiltFeature{Type: "Feature", ID: f.ID, Geometry: g, Properties: f.Properties})
	}
	return write(w, out)
}

// addSpots adds to the properties of a part what is known of it and its spots.
// Those of the two ends of a line have start_ or end_ before their names.
func addSpots(properties map[string]json.RawMessage, l *locate.Location, r *record.Record, id string) error {
	add := func(before string, s answer.AsBuiltSpot) error {
		text, err := marshal(s)
		if err != nil {
			return err
		}
		var members map[string]json.RawMessage
		if err := json.Unmarshal(text, &members); err != nil {
			return err
		}
		for name, value := range members {
			properties[before+name] = value
		}
		return nil
	}
	whole := answer.AsBuiltSpot{}
	for i := range l.Outlines {
		if o := &l.Outlines[i]; o.Part == id {
			whole.State = answer.State(o.State)
		}
	}
	p := r.Part(id)
	if s := l.Spot(id, asbuilt.Center); p == nil && s != nil {
		whole.Accuracy = answer.Optional(answer.Metres(s.Landmarks95))
	}
	if err := add("", whole); err != nil || p == nil {
		return err
	}
	for i := range p.Spots {
		s := &p.Spots[i]
		one := answer.AsBuiltSpot{Accuracy: answer.Optional(answer.Metres(s.Radius95)), Moved: answer.Optional(answer.Metres(s.Moved)), MovedToward: s.Toward}
		if s.Cover != nil {
			one.CoverToday, one.CoverSigma = answer.Optional(answer.Metres(s.Cover.Mean)), answer.Optional(answer.Metres(s.Cover.Sigma))
		}
		before := ""
		if s.Spot != asbuilt.Center {
			before, one.State = string(s.Spot)+"_", answer.State(s.State)
		}
		if err := add(before, one); err != nil {
			return err
		}
	}
	return nil
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
