package geojson_test

import (
	"fmt"
	"strings"

	"asfound/asbuilt/geojson"
)

func ExampleDecode() {
	s, problems := geojson.Decode(strings.NewReader(`{
		"type": "FeatureCollection",
		"sketch": {"unit": "ft", "trust": "roughly"},
		"features": [
			{"type": "Feature", "id": "A", "geometry": {"type": "Point", "coordinates": [0, 0]},
			 "properties": {"part": "landmark", "name": "NE corner of the house"}},
			{"type": "Feature", "id": "D", "geometry": {"type": "Point", "coordinates": [30, 10]},
			 "properties": {"part": "box", "ties": [{"from": "A", "distance": "31'7\""}]}},
			{"type": "Feature", "id": "L1", "geometry": {"type": "LineString", "coordinates": [[30, 10], [90, 10]]},
			 "properties": {"part": "lateral", "bed": "gravel", "length": 60}}]}`), "sketch.geojson")
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	l := s.Part("L1")
	fmt.Printf("%s is fed by %s and %.2f m long\n", l.ID, s.BoxOf(l).ID, l.Length.Metres)
	tie := s.Part("D").Ties[0]
	fmt.Printf("the %s of D is %s from %s\n", tie.At, tie.Distance.Written, tie.From)
	// Output:
	// L1 is fed by D and 18.29 m long
	// the center of D is 31'7" from A
}

func ExampleDecode_problems() {
	_, problems := geojson.Decode(strings.NewReader(`{
		"type": "FeatureCollection",
		"sketch": {"unit": "feets"},
		"features": [
			{"type": "Feature", "id": "L1", "geometry": {"type": "LineString", "coordinates": [[30, 10], [90, null]]},
			 "properties": {"part": "latteral", "lenght": 60, "ties": [{"at": "end", "from": "A", "distance": "60 paces"}]}}]}`), "sketch.geojson")
	fmt.Println(problems.Err())
	// Output:
	// sketch.geojson, sketch.unit: found "feets"; want ft, m, us-ft, in, cm, mm, yd or px; did you mean ft?
	// sketch.geojson, feature 1 "L1", properties.lenght: found a member "lenght"; want length, if that is what is meant; else another name
	// sketch.geojson, feature 1 "L1", properties.part: found "latteral"; want building, landmark, tank, box, header, lateral, port, well, boundary, water, driveway, utility, no-dig (did you mean lateral?)
	// sketch.geojson, feature 1 "L1", geometry.coordinates[1][1]: found null; want a number
	// sketch.geojson, feature 1 "L1", properties.ties[0].distance: found "60 paces"; want ft, m, us-ft, in, cm, mm, yd or px (no unit "paces")
	// sketch.geojson, feature 1 "L1", properties.ties[0].from: found "A"; want the id of a landmark: the sketch has no landmark
}
