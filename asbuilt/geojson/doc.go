// Package geojson reads and writes a sketch as sketch.geojson: an RFC 7946
// FeatureCollection with one foreign member, "sketch", that says what the
// coordinates are.
//
//	{"type": "FeatureCollection",
//	 "sketch": {"unit": "ft", "trust": "roughly", "up": {"bearing": 0, "sigma": 10}},
//	 "features": [
//	  {"type": "Feature", "id": "L1",
//	   "geometry": {"type": "LineString", "coordinates": [[10, 20], [70, 20]]},
//	   "properties": {"part": "lateral", "length": "60 ft",
//	                  "ties": [{"at": "end", "from": "A", "distance": "43'6\""}]}}]}
//
// # Defaults
//
// sketch.plane is paper, sketch.trust roughly, sketch.mirrored no, up.sigma 10
// degrees (a drawn arrow may be plan north or magnetic north), sketch.ratio 1.
// sketch.unit has no default on paper: write px where the scale is unknown. In
// wgs84 it is m, and only says what bare numbers of written lengths mean. A
// tie without "at" runs to the centre; a tie of a line must say which end. A
// box is a distribution box, a lateral without a bed has none stated.
//
// # Written lengths
//
// A written length is text with a unit, or a bare number (or text of one) in
// sketch.unit. A bare number is refused, and text with a unit asked for, where
// that unit says nothing of the ground: px, and in, cm or mm with a ratio,
// where 6 beside a pipe on a sheet at 1:240 might be inches of paper, inches
// of depth or feet. With a ratio and ft, us-ft, yd or m it is a ground length.
// A ratio is a number above zero or text such as "1:240".
//
// # What a finished job knew
//
// sketch.known is written into a corrected as-built, by a machine for a machine
// (asbuilt.Known). Its places are {"part": "L1", "vertex": 1}; covariance is the lower
// triangle, row by row, of x and y of each of them in turn, in square metres; covers are
// {"part": "L1", "vertex": 1, "cover": 0.61}, and cover_covariance is theirs. Who draws a
// place anew has to leave the member out.
//
// # What is tolerated
//
// Members that this format does not know are ignored (RFC 7946, 6.1), except
// where one looks like a misspelling of one it does know that is missing.
// A third ordinate is ignored, as are the holes of polygons. A Multi geometry
// of one piece counts as that piece. An id or text may be a number.
//
// # Limits
//
// The limits are the Max constants. They are always on: what is over one is a
// problem like any other, found before memory is spent on it.
package geojson
