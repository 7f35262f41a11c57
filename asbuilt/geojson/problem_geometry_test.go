package geojson_test

var problemsOfGeometry = []problemCase{
	{"geometry null", withBox(`{"type":"Feature","id":"X","geometry":null,"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry: found null; want a LineString: a part that is not drawn cannot be found`,
	}},
	{"geometry of a well null", withBox(`{"type":"Feature","id":"X","geometry":null,"properties":{"part":"well"}}`), []string{
		`feature 2 "X", geometry: found null; want a geometry: a part that is not drawn cannot be found`,
	}},
	{"geometry without type", withBox(`{"type":"Feature","id":"X","geometry":{"coordinates":[1,2]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.type: found none; want Point, LineString, Polygon, MultiPoint, MultiLineString, MultiPolygon, GeometryCollection`,
	}},
	{"geometry type misspelt", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Linestring","coordinates":[[1,2],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.type: found "Linestring"; want Point, LineString, Polygon, MultiPoint, MultiLineString, MultiPolygon, GeometryCollection (did you mean LineString?)`,
	}},
	{"point for a lateral", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.type: found Point; want LineString: the form of a lateral`,
	}},
	{"two pieces for a lateral", withBox(`{"type":"Feature","id":"X","geometry":{"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[[5,6],[7,8]]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry: found 2 pieces; want one LineString: the form of a lateral`,
	}},
	{"line for a landmark", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"landmark"}}`), []string{
		`feature 2 "X", geometry.type: found LineString; want Point: the form of a landmark`,
	}},
	{"line for a box", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[5,5],[65,5]]},"properties":{"part":"box"}}`), []string{
		`feature 2 "X", geometry.type: found LineString; want Point or Polygon: the form of a box`,
	}},
	{"coordinates null", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":null},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates: found null; want an array of positions [x, y]`,
	}},
	{"coordinates of a point", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[1,2]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found 1; want a position [x, y]`,
		`feature 2 "X", geometry.coordinates[1]: found 2; want a position [x, y]`,
	}},
	{"coordinates empty", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates: found []; want positions: an empty geometry has no place`,
	}},
	{"ordinate null", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[null,2],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0][0]: found null; want a number`,
	}},
	{"ordinate text", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[["1",2],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0][0]: found "1"; want a number without quotes`,
	}},
	{"ordinate too large to hold", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1e999,2],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0][0]: found 1e999; want a number that can be held, at most 1e+07`,
	}},
	{"ordinate too large", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1e8,2],[3,-2e7]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found [1e8,2]; want coordinates between -1e+07 and 1e+07`,
		`feature 2 "X", geometry.coordinates[1]: found [3,-2e7]; want coordinates between -1e+07 and 1e+07`,
	}},
	{"ordinate missing", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found [1]; want two numbers, or three with a height (RFC 7946, 3.1.1)`,
	}},
	{"ordinates too many", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1,2,3,4],[3,4]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found [1,2,3,4]; want two numbers, or three with a height (RFC 7946, 3.1.1)`,
	}},
	{"ragged", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1,2],[3,4,5]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates[1]: found [3,4,5]; want 2 numbers, as in the first position of this part`,
	}},
	{"one position", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1,2]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates: found 1 position; want at least two (RFC 7946, 3.1.4)`,
	}},
	{"no length", withBox(`{"type":"Feature","id":"X","geometry":{"type":"LineString","coordinates":[[1,2],[1,2],[1,2]]},"properties":{"part":"lateral"}}`), []string{
		`feature 2 "X", geometry.coordinates: found 3 positions, all at [1, 2]; want a line with length`,
	}},
	{"ring open", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[[0,0],[4,0],[4,4],[0,4]]]},"properties":{"part":"building"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found a ring that starts at [0, 0] and ends at [0, 4]; want the first position once more at the end (RFC 7946, 3.1.6)`,
	}},
	{"ring short", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[[0,0],[4,0],[0,0]]]},"properties":{"part":"building"}}`), []string{
		`feature 2 "X", geometry.coordinates[0]: found a ring of 3 positions; want at least four, the last the same as the first (RFC 7946, 3.1.6)`,
	}},
	{"ring crosses itself", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[[0,0],[4,4],[4,0],[0,4],[0,0]]]},"properties":{"part":"building"}}`), []string{
		`feature 2 "X", geometry.coordinates: found a ring that crosses or touches itself at or near [2, 2]; want an outline that goes round once and never crosses or touches itself`,
	}},
	{"ring flat", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[[0,0],[4,0],[8,0],[0,0]]]},"properties":{"part":"building"}}`), []string{
		`feature 2 "X", geometry.coordinates: found a ring that crosses or touches itself at or near [0, 0]; want an outline that goes round once and never crosses or touches itself`,
	}},
	{"hole outside", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[[0,0],[4,0],[4,4],[0,0]],[[9,9],[10,9],[10,10],[9,9]]]},"properties":{"part":"building"}}`), []string{
		`feature 2 "X", geometry.coordinates: found rings that cross or touch each other, or lie outside the first, at or near [9, 9]; want an outline that goes round once and never crosses or touches itself`,
	}},
	{"collection empty", withBox(`{"type":"Feature","id":"X","geometry":{"type":"GeometryCollection","geometries":[]},"properties":{"part":"well"}}`), []string{
		`feature 2 "X", geometry.geometries: found no geometry; want at least one`,
	}},
	{"collection of nothing", withBox(`{"type":"Feature","id":"X","geometry":{"type":"GeometryCollection","geometries":[3]},"properties":{"part":"well"}}`), []string{
		`feature 2 "X", geometry.geometries[0]: found 3; want a geometry`,
	}},
	{"features in a geometry", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[1,2],"features":[]},"properties":{"part":"well"}}`), []string{
		`feature 2 "X", geometry.features: found a member "features"; want no such member in a geometry (RFC 7946, 7.1)`,
	}},
}

var problemsOfWgs84 = []problemCase{
	{"swapped", `{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"P0","geometry":{"type":"Point","coordinates":[37.2,-119.9]},"properties":{"part":"box"}}]}`, []string{
		`feature 1 "P0", geometry.coordinates: found [37.2,-119.9]; want longitude, latitude in degrees: -180 to 180, -90 to 90; they look swapped (RFC 7946, 3.1.1: longitude first)`,
	}},
	{"swapped within range", `{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"P0","geometry":{"type":"Point","coordinates":[37.2,-79.9]},"properties":{"part":"box"}}]}`, []string{
		`feature 1 "P0", geometry.coordinates: found [37.2,-79.9]; want longitude, latitude in degrees: -180 to 180, -90 to 90; they look swapped (RFC 7946, 3.1.1: longitude first)`,
	}},
	{"one swapped", `{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"P0","geometry":{"type":"Point","coordinates":[-74.9,40.2]},"properties":{"part":"box"}},{"type":"Feature","id":"P1","geometry":{"type":"Point","coordinates":[-74.9001,40.2]},"properties":{"part":"landmark"}},{"type":"Feature","id":"P2","geometry":{"type":"Point","coordinates":[40.2,-74.9]},"properties":{"part":"landmark"}}]}`, []string{
		`feature 3 "P2", geometry.coordinates: found [40.2, -74.9]; want positions of one lot: these lie 17662 km from the middle of the others; longitude and latitude look swapped`,
	}},
	{"feet as degrees", `{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"P0","geometry":{"type":"Point","coordinates":[1200,300]},"properties":{"part":"box"}}]}`, []string{
		`feature 1 "P0", geometry.coordinates: found [1200,300]; want longitude, latitude in degrees: -180 to 180, -90 to 90; for a drawing's own coordinates, sketch.plane paper`,
	}},
	{"far away", `{"type":"FeatureCollection","sketch":{"plane":"wgs84"},"features":[{"type":"Feature","id":"P0","geometry":{"type":"Point","coordinates":[-79.9,37.2]},"properties":{"part":"box"}},{"type":"Feature","id":"P1","geometry":{"type":"Point","coordinates":[-79.9001,37.2]},"properties":{"part":"landmark"}},{"type":"Feature","id":"P2","geometry":{"type":"Point","coordinates":[-78.9,37.2]},"properties":{"part":"landmark"}}]}`, []string{
		`feature 3 "P2", geometry.coordinates: found [-78.9, 37.2]; want positions of one lot: these lie 88 km from the middle of the others`,
	}},
	{"degrees as paper", `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[-79.9,37.2]},"properties":{"part":"landmark"}},{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[-79.9002,37.2001]},"properties":{"part":"box"}}]}`, []string{
		"sketch.plane: found paper, and no two positions further apart than 0.00022 ft; want wgs84, if these are longitude and latitude, such as [-79.9, 37.2]",
	}},
}
