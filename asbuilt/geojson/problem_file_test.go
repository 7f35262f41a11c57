package geojson_test

var problemsOfFile = []problemCase{
	{"empty file", "", []string{
		"found an empty file; want a GeoJSON FeatureCollection (RFC 7946)",
	}},
	{"only space", " \n", []string{
		"found an empty file; want a GeoJSON FeatureCollection (RFC 7946)",
	}},
	{"not JSON", "part,x,y\nbox,1,2\n", []string{
		`line 1, column 1: found "part,x,y"; want JSON text (RFC 8259): invalid character 'p' looking for beginning of value`,
	}},
	{"an array", "[1, 2]", []string{
		`found [1,2]; want a FeatureCollection: {"type": "FeatureCollection", "sketch": {…}, "features": […]}`,
	}},
	{"another type", `{"type":"Feature"}`, []string{
		`type: found "Feature"; want "FeatureCollection" (RFC 7946, 3)`,
		`sketch: found none; want an object that says at least the unit: "sketch": {"unit": "ft"}`,
		"features: found none; want an array of Features (RFC 7946, 3.3)",
	}},
	{"nothing in it", "{}", []string{
		`type: found none; want "FeatureCollection" (RFC 7946, 3)`,
		`sketch: found none; want an object that says at least the unit: "sketch": {"unit": "ft"}`,
		"features: found none; want an array of Features (RFC 7946, 3.3)",
	}},
	{"cut short", "{\"type\":\"FeatureCollection\",\n \"sketch\":{\"unit\":\"f", []string{
		"line 2, column 21: found the end of the file; want the rest of it: the file is cut short",
	}},
	{"comma too many", "{\"type\":\"FeatureCollection\",\n \"features\":[1,]}", []string{
		`line 2, column 16: found "]}"; want JSON text (RFC 8259): invalid character ']' looking for beginning of value`,
	}},
	{"NaN", "{\"type\":\"FeatureCollection\",\n \"sketch\":{\"unit\":\"ft\"},\"features\":[{\"coordinates\":[NaN,2]}]}", []string{
		`line 2, column 53: found "NaN,2]}]}"; want a number or null: JSON has no NaN (RFC 8259, 6)`,
	}},
	{"text after the end", "{\"type\":\"FeatureCollection\",\"sketch\":{\"unit\":\"ft\"},\"features\":[{\"type\":\"Feature\",\"id\":\"D\",\"geometry\":{\"type\":\"Point\",\"coordinates\":[5,5]},\"properties\":{\"part\":\"box\"}}]}\n{}", []string{
		`line 2, column 1: found "{}"; want JSON text (RFC 8259): invalid character '{' after top-level value`,
	}},
	{"no sketch", `{"type":"FeatureCollection","features":[{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[5,5]},"properties":{"part":"box"}}]}`, []string{
		`sketch: found none; want an object that says at least the unit: "sketch": {"unit": "ft"}`,
	}},
	{"sketch misspelt", `{"type":"FeatureCollection","skecth":{"unit":"ft"},"features":[{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[5,5]},"properties":{"part":"box"}}]}`, []string{
		`skecth: found a member "skecth"; want sketch, if that is what is meant; else another name`,
		`sketch: found none; want an object that says at least the unit: "sketch": {"unit": "ft"}`,
	}},
	{"features no array", `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":{}}`, []string{
		"features: found {}; want an array of Features (RFC 7946, 3.3)",
	}},
	{"no features", `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[]}`, []string{
		"features: found no lateral and no box; want at least one part of kind lateral or box: without them there is nothing to look for",
	}},
	{"geometry in a collection", withSketch(`{"unit":"ft"},"geometry":null`), []string{
		`geometry: found a member "geometry"; want no such member in a FeatureCollection (RFC 7946, 7.1)`,
	}},
	{"members doubled", withSketch(`{"unit":"ft","unit":"m"}`), []string{
		"sketch.unit: found two members of this name; want one (RFC 8259, 4)",
	}},
}

var problemsOfSketch = []problemCase{
	{"sketch no object", withSketch(`"ft"`), []string{
		`sketch: found "ft"; want an object that says at least the unit: "sketch": {"unit": "ft"}`,
	}},
	{"no unit", withSketch("{}"), []string{
		"sketch.unit: found none; want the unit of one drawing coordinate: ft, m, us-ft, in, cm, mm or yd, or px where the scale is unknown",
	}},
	{"unit unknown", withSketch(`{"unit":"furlong"}`), []string{
		`sketch.unit: found "furlong"; want ft, m, us-ft, in, cm, mm, yd or px`,
	}},
	{"unit misspelt", withSketch(`{"unit":"fet"}`), []string{
		`sketch.unit: found "fet"; want ft, m, us-ft, in, cm, mm, yd or px; did you mean ft?`,
	}},
	{"unit a number", withSketch(`{"unit":3}`), []string{
		"sketch.unit: found 3; want ft, m, us-ft, in, cm, mm or yd, or px where the scale is unknown",
	}},
	{"plane", withSketch(`{"unit":"ft","plane":"WGS-84"}`), []string{
		`sketch.plane: found "WGS-84"; want paper, wgs84 (did you mean wgs84?)`,
	}},
	{"trust", withSketch(`{"unit":"ft","trust":"to scale"}`), []string{
		`sketch.trust: found "to scale"; want to-scale, roughly, not-to-scale (did you mean to-scale?)`,
	}},
	{"mirrored", withSketch(`{"unit":"ft","mirrored":true}`), []string{
		"sketch.mirrored: found true; want no, unknown",
	}},
	{"known a number", withSketch(`{"unit":"ft","known":3}`), []string{
		"sketch.known: found 3; want what record wrote: places, covariance and covers (json: cannot unmarshal number into Go value of type geojson.knownJSON)",
	}},
	{"known misspelt", withSketch(`{"unit":"ft","known":{"places":[],"covariance":[],"cover":[]}}`), []string{
		`sketch.known: found {"places":[],"covariance":[],"cover":[]}; want what record wrote: places, covariance and covers (json: unknown field "cover")`,
	}},
	{"up a number", withSketch(`{"unit":"ft","up":45}`), []string{
		`sketch.up: found 45; want an object {"bearing": degrees, "sigma": degrees}`,
	}},
	{"up empty", withSketch(`{"unit":"ft","up":{"bearing":"N","sigma":0}}`), []string{
		`sketch.up.bearing: found "N"; want the true bearing of the drawing's up, degrees clockwise from north, 0 to 360`,
		"sketch.up.sigma: found 0; want a standard deviation in degrees, above 0 to 180",
	}},
	{"ratio", withSketch(`{"unit":"in","ratio":0}`), []string{
		"sketch.ratio: found 0; want ground length over paper length, 1 to 100000: 240 for a sheet at 1 in = 20 ft",
	}},
	{"ratio text", withSketch(`{"unit":"in","ratio":"1 in = 20 ft"}`), []string{
		`sketch.ratio: found "1 in = 20 ft"; want ground length over paper length, 1 to 100000: 240 for a sheet at 1 in = 20 ft`,
	}},
	{"ratio of px", withSketch(`{"unit":"px","ratio":240}`), []string{
		"sketch.ratio: found 240; want no ratio with unit px: the scale is unknown",
	}},
	{"ratio of wgs84", withSketch(`{"plane":"wgs84","ratio":240}`), []string{
		"sketch.ratio: found 240; want no ratio with plane wgs84",
	}},
	{"note an object", withSketch(`{"unit":"ft","note":{"a":1}}`), []string{
		`sketch.note: found {"a":1}; want text`,
	}},
	{"scan outside", withSketch(`{"unit":"ft","scan":"../scan.jpg"}`), []string{
		`sketch.scan: found "../scan.jpg"; want the name of a file in the job's folder, such as scan.jpg`,
	}},
	{"by with a control character", withSketch(`{"unit":"ft","by":"a\u0007b"}`), []string{
		`sketch.by: found "a\ab"; want text without control characters`,
	}},
	{"crs", withSketch(`{"plane":"wgs84"},"crs":{"type":"name","properties":{"name":"EPSG:32617"}}`), []string{
		`crs: found {"type":"name","properties":{"name":"EP…; want no crs: positions in wgs84 are longitude, latitude in degrees (RFC 7946, 4)`,
	}},
}
