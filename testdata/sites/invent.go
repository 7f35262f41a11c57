//go:build ignore

// Command invent writes the invented jobs of this folder. Its arithmetic is
// independent, so that the truth it states does not depend on what is being
// tested.
package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

type xy [2]float64

func (a xy) add(b xy) xy             { return xy{a[0] + b[0], a[1] + b[1]} }
func (a xy) sub(b xy) xy             { return xy{a[0] - b[0], a[1] - b[1]} }
func (a xy) times(k float64) xy      { return xy{k * a[0], k * a[1]} }
func (a xy) to(b xy) float64         { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
func (a xy) part(b xy, u float64) xy { return a.add(b.sub(a).times(u)) }

// turn turns a counter-clockwise by degrees.
func (a xy) turn(degrees float64) xy {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return xy{c*a[0] - s*a[1], s*a[0] + c*a[1]}
}

const foot = 0.3048

// site is an invented lot. Its truth is in metres: x along the house wall, y
// square to it to the left; north is bearing degrees clockwise from y turned back.
type site struct {
	rng     *rand.Rand
	unit    float64 // metres of the numbers below
	places  map[string]xy
	bearing float64 // true bearing of the lot's y axis
	lon     float64 // of the lot's origin
	lat     float64
	rows    [][]string
	paper   func(xy) xy
	parts   []string
}

// grid rounds to the squared paper that sketches are drawn on.
func grid(step float64, f func(xy) xy) func(xy) xy {
	return func(a xy) xy {
		b := f(a)
		return xy{math.Round(b[0]/step) * step, math.Round(b[1]/step) * step}
	}
}

func number(v float64) string {
	s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (s *site) coordinates(at ...xy) string {
	var c []string
	for _, a := range at {
		p := s.paper(a)
		c = append(c, "["+number(p[0])+", "+number(p[1])+"]")
	}
	return strings.Join(c, ", ")
}

// draw adds a part to the sketch; more are further properties as JSON.
func (s *site) draw(id, part, geometry, more string, at ...xy) {
	c := s.coordinates(at...)
	switch geometry {
	case "LineString":
		c = "[" + c + "]"
	case "Polygon":
		c = "[[" + c + ", " + s.coordinates(at[0]) + "]]"
	}
	if more != "" {
		more = ", " + more
	}
	s.parts = append(s.parts, fmt.Sprintf("  {\"type\": \"Feature\", \"id\": %q,\n   \"geometry\": {\"type\": %q, \"coordinates\": %s},\n   \"properties\": {\"part\": %q%s}}",
		id, geometry, c, part, more))
}

// feet writes metres as a crew reads a tape: feet and inches.
func feet(m float64) string {
	in := int(math.Round(m / foot * 12))
	return fmt.Sprintf("%d'%d\"", in/12, in%12)
}

// metres writes metres to the centimetre.
func metres(m float64) string { return fmt.Sprintf("%.2f", m) }

// columns of the logs that are written here.
var columns = []string{"kind", "point", "from", "to", "value", "offset", "target", "spot", "depth", "feature", "lon", "lat", "accuracy", "north", "note"}

// log adds a row from pairs of column and value.
func (s *site) log(kind string, pairs ...string) {
	row := make([]string, len(columns))
	row[0] = kind
	for i := 0; i < len(pairs); i += 2 {
		for k, c := range columns {
			if c == pairs[i] {
				row[k] = pairs[i+1]
			}
		}
	}
	s.rows = append(s.rows, row)
}

// tape logs a tape with a crew's error: 3 cm and 0.2 %, uniform.
func (s *site) tape(from, to string, write func(float64) string, blunder float64) {
	d := s.places[from].to(s.places[to])
	d += math.Hypot(0.03, 0.002*d) * s.flat()
	s.log("tape", "from", from, "to", to, "value", write(d+blunder))
}

// flat returns a uniform number of standard deviation 1.
func (s *site) flat() float64 { return (2*s.rng.Float64() - 1) * math.Sqrt(3) }

// earth returns longitude and latitude in degrees of a place: the radii of
// curvature of WGS84 at the lot, which is good to a millimetre over a lot.
func (s *site) earth(a xy) (lon, lat float64) {
	const major, e2 = 6378137.0, 0.00669437999014
	v := a.turn(-s.bearing)
	sin := math.Sin(s.lat * math.Pi / 180)
	w := math.Sqrt(1 - e2*sin*sin)
	return s.lon + v[0]/(major/w*math.Cos(s.lat*math.Pi/180))*180/math.Pi,
		s.lat + v[1]/(major*(1-e2)/(w*w*w))*180/math.Pi
}

// fix logs a phone's fix: half of its error is that of the session.
func (s *site) fix(name string, session xy, accuracy float64) {
	own := 0.7 * accuracy / 2.4477
	at := s.places[name].add(session).add(xy{own * s.rng.NormFloat64(), own * s.rng.NormFloat64()})
	lon, lat := s.earth(at)
	s.log("gnss", "point", name, "lon", fmt.Sprintf("%.7f", lon), "lat", fmt.Sprintf("%.7f", lat), "accuracy", number(accuracy))
}

func must(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// write leaves the job and its truth in a folder.
func (s *site) write(dir, header, settings, note string, truth map[string]any) {
	must(os.MkdirAll(dir, 0o755))
	text := "{\"type\": \"FeatureCollection\",\n \"sketch\": " + header + ",\n \"features\": [\n" + strings.Join(s.parts, ",\n") + "\n ]}\n"
	must(os.WriteFile(filepath.Join(dir, "sketch.geojson"), []byte(text), 0o644))
	if settings != "" {
		must(os.WriteFile(filepath.Join(dir, "job.json"), []byte(settings), 0o644))
	}
	if len(s.rows) > 0 {
		f, err := os.Create(filepath.Join(dir, "readings.csv"))
		must(err)
		w := csv.NewWriter(f)
		must(w.Write(columns))
		must(w.WriteAll(s.rows))
		must(f.Close())
	}
	var places []string
	for _, k := range slices.Sorted(maps.Keys(s.places)) {
		places = append(places, fmt.Sprintf("  %q: [%.4f, %.4f]", k, s.places[k][0], s.places[k][1]))
	}
	truth["note"], truth["unit"] = note, "m"
	truth["places"] = json.RawMessage("{\n" + strings.Join(places, ",\n") + "}")
	if s.lat != 0 {
		lon, lat := s.earth(s.places["box"])
		truth["box"] = map[string]float64{"lon": math.Round(lon*1e8) / 1e8, "lat": math.Round(lat*1e8) / 1e8}
	}
	var members []string
	for _, k := range slices.Sorted(maps.Keys(truth)) {
		v, ok := truth[k].(json.RawMessage)
		if !ok {
			var err error
			v, err = json.Marshal(truth[k])
			must(err)
		}
		members = append(members, fmt.Sprintf("%q: %s", k, v))
	}
	must(os.WriteFile(filepath.Join(dir, "truth.json"), []byte("{"+strings.Join(members, ",\n ")+"}\n"), 0o644))
}

// set puts places in the site, given in its unit.
func (s *site) set(names string, at ...xy) {
	for i, n := range strings.Fields(names) {
		s.places[n] = at[i].times(s.unit)
	}
}

func (s *site) at(names string) (at []xy) {
	for _, n := range strings.Fields(names) {
		at = append(at, s.places[n])
	}
	return at
}

func main() {
	root := "."
	if len(os.Args) > 1 {
		root = os.Args[1]
	}
	demo(filepath.Join(root, "demo"))
	metric(filepath.Join(root, "metric-gnss"))
	tapes(filepath.Join(root, "two-tapes"))
	before(filepath.Join(root, "day-before"))
}

// demo: the tank and five laterals south of a house. The lawn was raised by
// about 2 ft after the system was built.
func demo(dir string) {
	s := &site{rng: rand.New(rand.NewPCG(1, 2026)), unit: foot, places: map[string]xy{}, bearing: 337, lon: -123.4, lat: -48.9}
	s.set("A B C D F", xy{0, 0}, xy{44, 0}, xy{44, 28}, xy{0, 28}, xy{74, -20})
	s.set("tank box", xy{27, -10}, xy{2.5, -46})
	lot := func(x, y float64) xy { return xy{x, y}.times(foot) }
	for k := range 5 {
		s.set(fmt.Sprintf("L%d.start L%d.end", k+1, k+1), xy{8, -28.5 - 9*float64(k)}, xy{68.2, -30.1 - 9*float64(k)})
	}
	// The draughtsman had the field 4 ft too near the house and 3 ft too far
	// east, turned by 3 degrees, and everything 7 % too small.
	field := func(a xy) xy {
		o := lot(38, -46)
		return a.sub(o).turn(3).times(0.97).add(o).add(lot(3, 4))
	}
	plain := grid(0.5, func(a xy) xy { return a.times(0.93 / foot) })
	moved := grid(0.5, func(a xy) xy { return field(a).times(0.93 / foot) })
	s.paper = plain
	s.draw("house", "building", "Polygon", "", s.at("A B C D")...)
	s.draw("A", "landmark", "Point", `"name": "south-west corner of the house"`, s.places["A"])
	s.draw("B", "landmark", "Point", `"name": "south-east corner of the house"`, s.places["B"])
	s.draw("C", "landmark", "Point", `"name": "north-east corner of the house"`, s.places["C"])
	s.draw("F", "landmark", "Point", `"name": "gate post in the east fence"`, s.places["F"])
	s.draw("tank", "tank", "Polygon", fmt.Sprintf(`"cover": "12 in", "ties": [{"at": "center", "from": "A", "distance": %q}, {"at": "center", "from": "B", "distance": %q}]`,
		feet(s.places["A"].to(s.places["tank"])+0.1), feet(s.places["B"].to(s.places["tank"])-0.08)),
		lot(23, -12.5), lot(31, -12.5), lot(31, -7.5), lot(23, -7.5))
	s.paper = moved
	s.draw("box", "box", "Point", `"outlets": 5, "size": "20 in", "cover": "2 ft"`, s.places["box"].add(lot(2, 1)))
	s.draw("effluent", "header", "LineString", `"cover": "2 ft"`, lot(23, -10), lot(4, -20), s.places["box"].add(lot(2, 1)))
	for k := range 5 {
		id := fmt.Sprintf("L%d", k+1)
		wobble := func() xy { return lot(0.6*s.flat(), 0.5*s.flat()) }
		s.draw(id, "lateral", "LineString", `"bed": "gravel", "width": "3 ft", "length": "60 ft", "cover": "2 ft"`,
			s.places[id+".start"].add(wobble()), s.places[id+".end"].add(wobble()))
	}
	s.paper = plain
	s.draw("electric", "utility", "LineString", `"name": "buried line to the shed", "clearance": "2 ft"`, lot(0, 6), lot(-14, -78))
	s.draw("roses", "no-dig", "Polygon", `"name": "rose bed", "clearance": "1 ft"`, lot(40, -17), lot(56, -17), lot(56, -25), lot(40, -25))
	s.draw("well", "well", "Point", `"name": "drilled well"`, lot(86, 70))
	s.draw("line", "boundary", "LineString", "", lot(-30, -100), lot(98, -100), lot(98, 90))

	// The holes: a trench met, the distal end of one, and nothing where the
	// sketch has the box.
	s.places["H1"] = s.places["L3.start"].part(s.places["L3.end"], 0.3).add(lot(0, 0.7))
	s.places["H2"] = s.places["L5.end"].add(lot(-0.3, 0.4))
	s.places["H3"] = lot(9.5, -40.6)
	session := xy{0.9, -0.7}
	s.tape("A", "B", feet, 0)
	s.tape("B", "C", feet, 0)
	s.tape("A", "F", feet, 0)
	s.tape("B", "F", feet, 0)
	s.tape("C", "F", feet, 0)
	s.fix("A", session, 4)
	s.fix("C", session, 4)
	s.fix("F", session, 4)
	s.log("level", "point", "A", "value", "100.0 ft")
	ground := func(p xy) float64 { return 100 + 0.02*p[1]/foot } // feet: falls 2 ft in 100 away from the house
	hole := func(name string, landmarks ...string) {
		for _, from := range landmarks {
			slip := 0.0
			if name == "H1" && from == "B" {
				slip = foot // the tape was held at its 1 ft mark
			}
			s.tape(from, name, feet, slip)
		}
		s.log("level", "point", name, "value", fmt.Sprintf("%.1f ft", ground(s.places[name])+0.05*s.flat()))
	}
	hole("H1", "A", "B", "C", "F")
	s.log("found", "point", "H1", "target", "lateral", "depth", `4'0"`, "feature", "top", "note", "washed stone; which trench is not known")
	hole("H2", "A", "B", "F")
	s.log("found", "point", "H2", "target", "L5", "spot", "end", "depth", `3'10"`, "feature", "crown", "note", "capped end of a 4 in pipe")
	s.log("condition", "target", "L5", "note", "pipe sound, stone wet at the cap")
	hole("H3", "A", "B", "F")
	s.log("empty", "point", "H3", "depth", `4'6"`, "note", "clean fill over sand")
	s.write(dir, `{"plane": "paper", "unit": "ft", "trust": "roughly", "up": {"bearing": 345, "sigma": 15},
            "drawn": "1987-06-02", "permit": "INVENTED-0417", "note": "the ties to the box are not readable"}`,
		`{
  "title": "Invented lot 4, Example Lane",
  "permit": "INVENTED-0417",
  "unit": "ft",
  "seek": "box",
  "hole": {"radius": "8 in", "depth_limit": "6 ft"}
}
`, "Invented. Frame: x along the south wall of the house from A to B, y square to it towards the house. The lawn was raised by about 2 ft after the system was built.",
		map[string]any{"fill": 0.6, "blunder": "tape B to H1 reads 1 ft long", "met": "H1 is in the trench of L3", "bearing_of_y": s.bearing})
}

// metric: four chamber rows west of a house, traced from a photo of a sketch:
// its coordinates are pixels. Everything is placed by a phone.
func metric(dir string) {
	s := &site{rng: rand.New(rand.NewPCG(2, 2026)), unit: 1, places: map[string]xy{}, bearing: 12, lon: -123.41, lat: -48.89}
	s.set("NW NE SE SW gate", xy{0, 9}, xy{13, 9}, xy{13, 0}, xy{0, 0}, xy{-30, 14})
	s.set("tank box", xy{-3.2, 5}, xy{-8.4, -0.6})
	for k := range 4 {
		s.set(fmt.Sprintf("K%d.start K%d.end", k+1, k+1), xy{-10.2, 3 - 2.5*float64(k)}, xy{-32.3, 5.4 - 2.5*float64(k)})
	}
	pixel := grid(1, func(a xy) xy {
		b := a.turn(-4)
		return xy{900 + 22*b[0], 500 + 20.5*b[1]}
	})
	s.paper = pixel
	s.draw("house", "building", "Polygon", "", s.at("NW SW SE NE")...)
	for _, c := range []string{"NW", "NE", "SE", "SW"} {
		s.draw(c, "landmark", "Point", fmt.Sprintf(`"name": "%s corner of the house"`, c), s.places[c])
	}
	s.draw("gate", "landmark", "Point", `"name": "gate post"`, s.places["gate"])
	s.draw("tank", "tank", "Point", `"cover": "0.4 m"`, s.places["tank"].add(xy{0.4, -0.5}))
	s.draw("box", "box", "Point", `"outlets": 4, "cover": "0.6 m"`, s.places["box"].add(xy{-0.9, 0.8}))
	s.draw("effluent", "header", "LineString", "", s.places["tank"].add(xy{0.4, -0.5}), s.places["box"].add(xy{-0.9, 0.8}))
	for k := range 4 {
		id := fmt.Sprintf("K%d", k+1)
		off := xy{-0.7 + 0.2*s.flat(), 0.9 + 0.15*s.flat()}
		s.draw(id, "lateral", "LineString", `"bed": "chamber", "width": "0.86 m", "length": "22 m", "cover": "0.6 m"`, s.places[id+".start"].add(off), s.places[id+".end"].add(off))
	}
	s.draw("water", "utility", "LineString", `"name": "water service", "clearance": "0.6 m"`, xy{4, -12}, xy{4, 0})
	session := xy{1.1, 0.5}
	for _, c := range []string{"NW", "NE", "SE", "SW", "gate"} {
		s.fix(c, session, 3)
	}
	s.places["P1"] = s.places["K1.end"].add(xy{0.1, -0.1})
	s.places["P2"] = s.places["K4.start"].part(s.places["K4.end"], 0.4).add(xy{0, -0.2})
	s.places["P3"] = xy{-9.8, 2.4}
	s.fix("P1", session, 3)
	s.log("found", "point", "P1", "target", "K1", "spot", "end", "depth", "0.62", "feature", "top")
	s.fix("P2", session, 3)
	s.log("found", "point", "P2", "target", "lateral", "depth", "0.66", "feature", "top")
	s.write(dir, `{"plane": "paper", "unit": "px", "trust": "roughly", "note": "traced from a photo of the sheet"}`, `{
  "title": "Invented orchard lot",
  "unit": "m",
  "site": {"lon": -123.41, "lat": -48.89, "accuracy": 200},
  "crs": "EPSG:32710"
}
`, "Invented. Frame: x along the south wall of the house, y towards north-by-east.", map[string]any{"met": "P2 is in the row K4", "bearing_of_y": s.bearing})
}

// tapes: a mirrored sheet, and a crew with tapes and a compass.
func tapes(dir string) {
	s := &site{rng: rand.New(rand.NewPCG(3, 2026)), unit: 1, places: map[string]xy{}, bearing: 40}
	s.set("A B C", xy{0, 0}, xy{11.5, 0}, xy{11.5, 8.2})
	s.set("tank box", xy{4, -4}, xy{-2, -10})
	for k := range 3 {
		s.set(fmt.Sprintf("L%d.start L%d.end", k+1, k+1), xy{-0.5, -9 - 2.4*float64(k)}, xy{18.1, -7.4 - 2.4*float64(k)})
	}
	s.paper = grid(0.2, func(a xy) xy { b := a.turn(2).times(1.06); return xy{-b[0], b[1]} })
	s.draw("house", "building", "Polygon", "", s.places["A"], s.places["B"], s.places["C"], xy{0, 8.2})
	for _, c := range []string{"A", "B", "C"} {
		s.draw(c, "landmark", "Point", "", s.places[c])
	}
	s.draw("tank", "tank", "Point", "", s.places["tank"].add(xy{0.3, 0.2}))
	s.draw("box", "box", "Point", `"outlets": 3, "cover": "0.5 m"`, s.places["box"].add(xy{0.5, -0.6}))
	for k := range 3 {
		id := fmt.Sprintf("L%d", k+1)
		off := xy{0.6 + 0.2*s.flat(), -0.5 + 0.1*s.flat()}
		s.draw(id, "lateral", "LineString", `"bed": "gravel", "width": "0.6 m", "length": "18.6 m", "cover": "0.5 m"`, s.places[id+".start"].add(off), s.places[id+".end"].add(off))
	}
	s.places["H1"] = s.places["L1.end"].add(xy{0.05, 0.1})
	s.places["H2"] = s.places["L3.start"].part(s.places["L3.end"], 0.7).add(xy{0.1, 0.1})
	s.tape("A", "B", metres, 0)
	s.tape("B", "C", metres, 0)
	s.tape("A", "C", metres, 0)
	s.tape("A", "H1", metres, 0)
	s.tape("B", "H1", metres, 0)
	s.tape("C", "H1", metres, 0)
	s.log("found", "point", "H1", "target", "L1", "spot", "end", "depth", "0.55", "feature", "crown")
	d := s.places["H2"] // along the wall A to B, and square off it to the right
	s.log("baseline", "point", "H2", "from", "A", "to", "B", "value", metres(d[0]+0.03*s.flat()), "offset", metres(-d[1]+0.05*s.flat()))
	s.log("found", "point", "H2", "target", "L3", "depth", "0.6", "feature", "top")
	bearing := math.Atan2(s.places["H1"][0]-s.places["B"][0], s.places["H1"][1]-s.places["B"][1])*180/math.Pi + s.bearing
	s.log("bearing", "from", "B", "to", "H1", "value", number(math.Mod(bearing+360+1.3, 360)), "north", "true")
	s.log("cable", "from", "box", "to", "H1", "value", metres(s.places["box"].to(s.places["H1"])*1.04))
	s.write(dir, `{"plane": "paper", "unit": "m", "trust": "roughly", "mirrored": "unknown"}`, `{
  "title": "Invented corner lot",
  "unit": "m"
}
`, "Invented. Frame: x along the wall from A to B, y square to it. The sheet is mirrored.", map[string]any{"mirrored": true, "bearing_of_y": s.bearing})
}

// before: the day before, with the sheet alone.
func before(dir string) {
	s := &site{rng: rand.New(rand.NewPCG(4, 2026)), unit: foot, places: map[string]xy{}}
	s.set("A B C", xy{0, 0}, xy{36, 0}, xy{36, 26})
	s.set("tank box", xy{18, 36}, xy{20, 55})
	for k := range 4 {
		x := 6 + 9*float64(k)
		s.set(fmt.Sprintf("L%d.start L%d.end", k+1, k+1), xy{x, 58}, xy{x - 1, 118})
	}
	s.paper = grid(1, func(a xy) xy { return a.times(1.04 / foot) })
	tie := func(from, to string) string {
		return fmt.Sprintf(`{"at": "center", "from": %q, "distance": %q}`, from, feet(s.places[from].to(s.places[to])+0.12*s.flat()))
	}
	s.draw("house", "building", "Polygon", "", s.places["A"], s.places["B"], s.places["C"], xy{0, 26}.times(foot))
	for _, c := range []string{"A", "B", "C"} {
		s.draw(c, "landmark", "Point", "", s.places[c])
	}
	s.draw("tank", "tank", "Point", `"cover": "10 in", "ties": [`+tie("A", "tank")+", "+tie("C", "tank")+"]", s.places["tank"])
	s.draw("box", "box", "Point", `"outlets": 4, "cover": "18 in", "ties": [`+tie("A", "box")+", "+tie("C", "box")+"]", s.places["box"].add(xy{0.5, -0.7}))
	s.draw("effluent", "header", "LineString", "", s.places["tank"], s.places["box"])
	for k := range 4 {
		id := fmt.Sprintf("L%d", k+1)
		s.draw(id, "lateral", "LineString", `"bed": "gravel", "width": "2 ft", "length": "60 ft", "cover": "18 in"`, s.places[id+".start"].add(xy{0.3 * s.flat(), 0.3 * s.flat()}), s.places[id+".end"].add(xy{0.3 * s.flat(), 0.3 * s.flat()}))
	}
	s.write(dir, `{"plane": "paper", "unit": "ft", "trust": "to-scale", "drawn": "2004", "up": {"bearing": 0, "sigma": 10}}`, "",
		"Invented. Frame: x along the south wall from A to B, y towards the field.", map[string]any{})
}
