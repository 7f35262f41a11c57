package geojson_test

var problemsOfFeatures = []problemCase{
	{"feature no object", withBox("7"), []string{
		"feature 2: found 7; want a Feature (RFC 7946, 3.2)",
	}},
	{"no id", withBox(`{"type":"Feature","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`), []string{
		"feature 2, id: found none; want an id, unique in the sketch, such as L1",
	}},
	{"id in properties", withBox(`{"type":"Feature","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well","id":3}}`), []string{
		`feature 2, id: found none; want the id beside "type", not within "properties"`,
	}},
	{"id with spaces", withBox(`{"type":"Feature","id":" W ","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`), []string{
		`feature 2, id: found " W "; want an id without spaces before or after, such as L1`,
	}},
	{"id an array", withBox(`{"type":"Feature","id":[1],"geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`), []string{
		"feature 2, id: found [1]; want text",
	}},
	{"id doubled", withBox(`{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`), []string{
		`feature 2 "D", id: found "D"; want an id of its own: feature 1 has this one`,
	}},
	{"id long", withBox(`{"type":"Feature","id":"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`), []string{
		`feature 2, id: found "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…"; want at most 80 characters`,
	}},
	{"type of feature", withBox(`{"type":"Point","id":"W","coordinates":[1,2],"properties":{"part":"well"}}`), []string{
		`feature 2 "W", type: found "Point"; want "Feature" (RFC 7946, 3.2); its form stands in geometry.type`,
		`feature 2 "W", coordinates: found a member "coordinates"; want no such member in a Feature (RFC 7946, 7.1): coordinates stand in its geometry`,
		`feature 2 "W", geometry: found none; want a geometry: a part that is not drawn cannot be found`,
	}},
	{"no properties", withBox(`{"type":"Feature","id":"W","geometry":{"type":"Point","coordinates":[1,2]},"properties":null}`), []string{
		`feature 2 "W", properties: found null; want an object that says at least the part: "properties": {"part": "lateral"}`,
	}},
	{"no part", withBox(`{"type":"Feature","id":"W","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"prat":"well"}}`), []string{
		`feature 2 "W", properties.prat: found a member "prat"; want part, if that is what is meant; else another name`,
		`feature 2 "W", properties.part: found none; want building, landmark, tank, box, header, lateral, port, well, boundary, water, driveway, utility, no-dig`,
	}},
	{"part unknown", withBox(`{"type":"Feature","id":"W","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"laterel"}}`), []string{
		`feature 2 "W", properties.part: found "laterel"; want building, landmark, tank, box, header, lateral, port, well, boundary, water, driveway, utility, no-dig (did you mean lateral?)`,
	}},
	{"part a number", withBox(`{"type":"Feature","id":"W","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":3}}`), []string{
		`feature 2 "W", properties.part: found 3; want building, landmark, tank, box, header, lateral, port, well, boundary, water, driveway, utility, no-dig`,
	}},
}

var problemsOfWritten = []problemCase{
	{"length no length", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":"sixty"}}`), []string{
		`feature 2 "L1", properties.length: found "sixty"; want a length such as 43'6", 43.5 ft or 13.26 m (no figure)`,
	}},
	{"length unit unknown", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":"60 fathoms"}}`), []string{
		`feature 2 "L1", properties.length: found "60 fathoms"; want ft, m, us-ft, in, cm, mm, yd or px (no unit "fathoms")`,
	}},
	{"length an object", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":{}}}`), []string{
		`feature 2 "L1", properties.length: found {}; want a length such as 43'6", 43.5 ft or 13.26 m`,
	}},
	{"length zero", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":0}}`), []string{
		`feature 2 "L1", properties.length: found "0"; want a length above zero, at most 100 km`,
	}},
	{"lengths negative", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":"-60 ft","width":-1,"cover":"-2 in"}}`), []string{
		`feature 2 "L1", properties.length: found "-60 ft"; want a length above zero, at most 100 km`,
		`feature 2 "L1", properties.width: found "-1"; want a length above zero, at most 100 km`,
		`feature 2 "L1", properties.cover: found "-2 in"; want a depth of zero or more, at most 100 km`,
	}},
	{"length too large", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":1e300}}`), []string{
		`feature 2 "L1", properties.length: found "1e+300"; want a length above zero, at most 100 km`,
	}},
	{"inches too many", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":"59'14\""}}`), []string{
		`feature 2 "L1", properties.length: found "59'14\""; want 0 to 11 inches after the feet, or tenths as in 43.5' (14 inches make a foot or more)`,
	}},
	{"length misspelt", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","lenght":60}}`), []string{
		`feature 2 "L1", properties.lenght: found a member "lenght"; want length, if that is what is meant; else another name`,
	}},
	{"width in another case", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","Width":"3 ft"}}`), []string{
		`feature 2 "L1", properties.Width: found a member "Width"; want width, if that is what is meant; else another name`,
	}},
	{"bed", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","bed":"Gravel"}}`), []string{
		`feature 2 "L1", properties.bed: found "Gravel"; want gravel, chamber, pipe (did you mean gravel?)`,
	}},
	{"grade", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","grade":0.5}}`), []string{
		`feature 2 "L1", properties.grade: found 0.5; want fall over length, 0 to 0.1: 0.005 is 0.5 %, or 6 in in 100 ft`,
	}},
	{"grade text", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","grade":"level"}}`), []string{
		`feature 2 "L1", properties.grade: found "level"; want fall over length: 0.005 or "0.5 %" for 6 in in 100 ft`,
	}},
	{"grade negative", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","grade":-0.005}}`), []string{
		`feature 2 "L1", properties.grade: found -0.005; want fall over length, 0 to 0.1: 0.005 is 0.5 %, or 6 in in 100 ft`,
	}},
	{"from no box", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","from":"L1"}}`), []string{
		`feature 2 "L1", properties.from: found "L1", a lateral; want the id of the box that feeds it: D`,
	}},
	{"from nothing", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","from":"D9"}}`), []string{
		`feature 2 "L1", properties.from: found "D9"; want the id of the box that feeds it: D`,
	}},
	{"outlets", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"box","outlets":2.5,"kind":"dropbox"}}`), []string{
		`feature 2 "L1", properties.kind: found "dropbox"; want distribution, drop`,
		`feature 2 "L1", properties.outlets: found 2.5; want a whole number from 1 to 100`,
	}},
	{"of no lateral", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"port","of":"D"}}`), []string{
		`feature 2 "L1", properties.of: found "D", a box; want the id of its lateral: the sketch has no lateral`,
	}},
	{"clearance", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"utility","clearance":"-1 ft"}}`), []string{
		`feature 2 "L1", properties.clearance: found "-1 ft"; want a distance of zero or more, at most 100 km`,
	}},
	{"ties no array", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","ties":{}}}`), []string{
		`feature 2 "L1", properties.ties: found {}; want an array of {"at": "end", "from": "A", "distance": "43'6\""}`,
	}},
	{"tie no object", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","ties":["43 ft"]}}`), []string{
		`feature 2 "L1", properties.ties[0]: found "43 ft"; want an array of {"at": "end", "from": "A", "distance": "43'6\""}`,
	}},
	{"tie empty", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","ties":[{}]}}`), []string{
		`feature 2 "L1", properties.ties[0].at: found none; want start or end: which end of the lateral the tie runs to`,
		`feature 2 "L1", properties.ties[0].from: found none; want the id of a landmark`,
		`feature 2 "L1", properties.ties[0].distance: found none; want a length such as 43'6", 43.5 ft or 13.26 m`,
	}},
	{"tie at an odd spot", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","ties":[{"at":"center","from":"A","distance":5},{"at":"distal","from":"A","distance":5}]}}`), []string{
		`feature 2 "L1", properties.ties[1].at: found "distal"; want start, end, center, corner`,
		`feature 2 "L1", properties.ties[0].at: found "center"; want start or end: the spots that a lateral has ties to`,
		`feature 2 "L1", properties.ties[0].from: found "A"; want the id of a landmark: the sketch has no landmark`,
		`feature 2 "L1", properties.ties[1].from: found "A"; want the id of a landmark: the sketch has no landmark`,
	}},
	{"tie from a box", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","ties":[{"at":"end","from":"D","distance":"0 ft"},{"at":"end","form":"D","distance":"5 ells"}]}}`), []string{
		`feature 2 "L1", properties.ties[1].form: found a member "form"; want from, if that is what is meant; else another name`,
		`feature 2 "L1", properties.ties[1].from: found none; want the id of a landmark`,
		`feature 2 "L1", properties.ties[1].distance: found "5 ells"; want ft, m, us-ft, in, cm, mm, yd or px (no unit "ells")`,
		`feature 2 "L1", properties.ties[0].from: found "D", a box; want the id of a landmark: the sketch has no landmark`,
		`feature 2 "L1", properties.ties[0].distance: found "0 ft"; want a length above zero, at most 100 km`,
	}},
	{"tie from itself", withBox(`{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"landmark","ties":[{"from":"A","distance":3}]}}`), []string{
		`feature 2 "A", properties.ties[0].from: found "A"; want another landmark: this is the part itself`,
	}},
	{"bare number in px", `{"type":"FeatureCollection","sketch":{"unit":"px"},"features":[{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":60,"width":"3"}}]}`, []string{
		`feature 1 "L1", properties.width: found "3"; want text with a unit, such as "3 ft" (sketch.unit is px)`,
		`feature 1 "L1", properties.length: found 60; want text with a unit, such as "60 ft" (sketch.unit is px)`,
	}},
	{"bare number on paper in inches", `{"type":"FeatureCollection","sketch":{"unit":"in","ratio":240},"features":[{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","length":60}}]}`, []string{
		`feature 1 "L1", properties.length: found 60; want text with a unit, such as "60 ft" (sketch.unit is in of paper)`,
	}},
	{"no box and no lateral", `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"landmark"}}]}`, []string{
		"features: found no lateral and no box; want at least one part of kind lateral or box: without them there is nothing to look for",
	}},
	{"all in one pass, in order", `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[null,0]},"properties":{"part":"landmark"}},{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"lateral","from":"X","length":"long"}},{"type":"Feature","id":"L1","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}]}`, []string{
		`feature 1 "A", geometry.coordinates[0]: found null; want a number`,
		`feature 2 "L1", properties.length: found "long"; want a length such as 43'6", 43.5 ft or 13.26 m (no figure)`,
		`feature 2 "L1", properties.from: found "X"; want the id of the box that feeds it: the sketch has no box`,
		`feature 3 "L1", id: found "L1"; want an id of its own: feature 2 has this one`,
	}},
}
