package export_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	gogeom "github.com/twpayne/go-geom"
	codec "github.com/twpayne/go-geom/encoding/geojson"
	"github.com/twpayne/go-geom/xy"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/testdata/long"
)

func shape(f asbuilt.Form, x ...float64) []asbuilt.Shape {
	s := asbuilt.Shape{Form: f}
	for i := 0; i+1 < len(x); i += 2 {
		s.Vertices = append(s.Vertices, asbuilt.Position{X: x[i], Y: x[i+1]})
	}
	return []asbuilt.Shape{s}
}

// lies is shape on the ground.
func lies(f asbuilt.Form, x ...float64) []geo.Outline {
	o := geo.Outline{Closed: f == asbuilt.Polygon}
	for i := 0; i+1 < len(x); i += 2 {
		o.Vertices = append(o.Vertices, geo.Vec{X: x[i], Y: x[i+1]})
	}
	return []geo.Outline{o}
}

// small returns a small invented job for which nothing was computed: every
// number is chosen here.
func small(earth bool) *locate.Location {
	feet := func(t string) *geo.Length {
		l, err := geo.ParseLength(t, geo.Foot)
		if err != nil {
			panic(err)
		}
		return &l
	}
	sketch := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Foot, Ratio: 1, Trust: asbuilt.Roughly, Drawn: "1987", Note: "shed < garage & fence", Parts: []asbuilt.Part{
		{ID: "A", Kind: asbuilt.Landmark, Name: "corner", Shapes: shape(asbuilt.Point, 0, 0)},
		{ID: "B", Kind: asbuilt.Landmark, Shapes: shape(asbuilt.Point, 30, 0)},
		{ID: "box", Kind: asbuilt.Box, Outlets: 2, Cover: feet("18\""), Shapes: shape(asbuilt.Point, 20, 20),
			Ties: []asbuilt.Tie{{At: asbuilt.Center, From: "A", Distance: *feet("28'3\"")}}},
		{ID: "L1", Kind: asbuilt.Lateral, From: "box", Bed: asbuilt.Gravel, Length: feet("60"), Shapes: shape(asbuilt.Line, 20, 20, 80, 20)},
		{ID: "field", Kind: asbuilt.NoDig, Shapes: append(shape(asbuilt.Polygon, 0, 50, 0, 60, 10, 60, 10, 50), shape(asbuilt.Polygon, 20, 50, 20, 60, 30, 60)...)},
	}}
	e := geo.Ellipse{SemiMajor: 0.3, SemiMinor: 0.2, Bearing: geo.Degrees(40)}
	at := func(part string, k asbuilt.Kind, sp asbuilt.Spot, x, y float64) locate.Spot {
		return locate.Spot{Part: part, Kind: k, Spot: sp, State: locate.Inferred, At: geo.Vec{X: x, Y: y}, Ellipse: e, Radius95: 0.27,
			FromLandmarks: e, Landmarks95: 0.27, Old: geo.Vec{X: x - 0.3, Y: y + 0.4}, Depth: &locate.Depth{Mean: 0.6104, Sigma: 0.1, Feature: survey.Top}}
	}
	mark := func(part string, x, y float64) locate.Spot {
		return locate.Spot{Part: part, Kind: asbuilt.Landmark, Spot: asbuilt.Center, State: locate.Seen, At: geo.Vec{X: x, Y: y}, Old: geo.Vec{X: x, Y: y}}
	}
	loc := &locate.Location{
		Job: &survey.Job{Settings: survey.DefaultSettings(), Sketch: sketch, Readings: []survey.Reading{
			{ID: "r1", Kind: survey.Tape, From: "A", To: "box", Value: feet("28'4\"")}, {ID: "r2", Kind: survey.Tape, From: "B", To: "box", Value: feet("22'7\"")}}},
		Frame: survey.Frame{Kind: survey.Local, Notes: []finding.Finding{finding.FrameError.New(finding.Word("why", "laid on the landmarks"))}},
		Fit: &fit.Fit{Readings: 9, Unknowns: 7, Redundancy: 2, VarianceFactor: 1.25, Scale: 0.3048, ScaleSigma: math.Inf(1), Rotation: geo.Degrees(-15), RotationSigma: geo.Degrees(2),
			Residuals: []fit.Residual{
				{Reading: "r1", What: "tape A → box, \"new\"", Observed: 8.5, Fitted: 8.52, Sigma: 0.03, Standardized: 0.7, Redundancy: 0.4, Detectable: 0.2},
				{Reading: "r2", What: "tape B → box", Observed: 7, Fitted: 7, Sigma: 0.03, Detectable: math.Inf(1)}},
			Suspects: []fit.Suspect{{Reading: "r7", Statistic: 4.2, Blunder: finding.FootLong.New()}}},
		Spots: []locate.Spot{mark("A", 0, 0), mark("B", 9, 0), at("box", asbuilt.Box, asbuilt.Center, 6, 6.2),
			at("L1", asbuilt.Lateral, asbuilt.Start, 6, 6.2), at("L1", asbuilt.Lateral, asbuilt.End, 24, 6.4)},
		Corridors: []locate.Corridor{{Part: "L1", Kind: asbuilt.Lateral, State: locate.Inferred, Line: []geo.Vec{{X: 6, Y: 6.2}, {X: 15, Y: 7}, {X: 24, Y: 6.4}}, Half: []float64{0.8, 0.9, 1.5}, Width: 0.9}},
		Outlines: []locate.Outline{
			{Part: "A", Kind: asbuilt.Landmark, State: locate.Seen, Now: lies(asbuilt.Point, 0, 0)},
			{Part: "B", Kind: asbuilt.Landmark, State: locate.Seen, Now: lies(asbuilt.Point, 9, 0)},
			{Part: "box", Kind: asbuilt.Box, State: locate.Inferred, Now: lies(asbuilt.Point, 6, 6.2)},
			{Part: "L1", Kind: asbuilt.Lateral, State: locate.Inferred, Now: lies(asbuilt.Line, 6, 6.2, 15, 7, 24, 6.4)},
			{Part: "field", Kind: asbuilt.NoDig, State: locate.Inferred, Now: append(lies(asbuilt.Polygon, 0, 15, 0, 18, 3, 18, 3, 15), lies(asbuilt.Polygon, 6, 15, 6, 18, 9, 18)...)},
		},
	}
	if earth {
		loc.Frame = survey.Frame{Kind: survey.Geodetic, Site: geodesy.NewSite(geodesy.LonLat{Lon: geo.Degrees(-89.4), Lat: geo.Degrees(43.1)}, 260), Notes: []finding.Finding{finding.FrameError.New(finding.Word("why", "laid on the landmarks"))}}
	}
	return loc
}

func plan() *probe.Plan {
	return &probe.Plan{Seek: "box", ExpectedHoles: math.Inf(1), ChanceNext: 0.61, Holes: []probe.Proposal{
		{Rank: 1, At: geo.Vec{X: 6, Y: 6.2}, To: geo.Vec{X: 6, Y: 6.2}, Chance: 0.61, Seeks: []string{"box", "L1"}, Depth: locate.Depth{Mean: 0.61, Sigma: 0.1}, StopDepth: 0.9,
			Ties: []probe.SetOut{{From: "A", Distance: 8.6279, Sigma: 0.2}, {From: "B", Distance: 6.8884, Sigma: 0.2}}},
		{Rank: 2, At: geo.Vec{X: 7, Y: 6.2}, To: geo.Vec{X: 7, Y: 6.2}, Chance: 0.2, Cautions: []finding.Finding{finding.ClearanceNear.New(finding.Parts("gas"), finding.Number("distance", 0.5))}}}}
}

func answerOf(t *testing.T, write func(w *bytes.Buffer) error) map[string]any {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	var v map[string]any
	require.NoError(t, json.Unmarshal(b.Bytes(), &v), b.String())
	return v
}

func has(t *testing.T, v any, members ...string) {
	t.Helper()
	for _, m := range members {
		assert.Contains(t, v, m)
	}
}

// TestInterchangeMembers holds the members that the formats promise.
func TestInterchangeMembers(t *testing.T) {
	for _, earth := range []bool{false, true} {
		loc := small(earth)
		v := answerOf(t, func(w *bytes.Buffer) error { return export.LocateJSON(w, loc, language.English) })
		has(t, v["frame"], "kind", "note")
		f := v["fit"].(map[string]any)
		has(t, f, "readings", "unknowns", "redundancy", "variance_factor", "scale", "scale_sigma", "rotation", "rotation_sigma", "mirrored", "suspects")
		assert.Equal(t, 345.0, f["rotation"], "a bearing, −15° brought into 0 to 360")
		assert.Nil(t, f["scale_sigma"], "infinite: null, never a number that JSON has not")
		has(t, f["suspects"].([]any)[0], "reading", "statistic", "says")
		spots := v["spots"].([]any)
		require.Len(t, spots, 5)
		for _, s := range spots {
			has(t, s, "part", "kind", "spot", "state", "east", "north", "semi_major", "semi_minor", "bearing", "radius95", "depth", "depth_sigma", "from_landmarks", "old")
			_, ok := s.(map[string]any)["lon"]
			assert.Equal(t, earth, ok)
		}
		box := spots[2].(map[string]any)
		assert.Equal(t, 0.61, box["depth"], "to the millimetre")
		old := box["old"].(map[string]any)
		assert.Equal(t, []any{5.7, 6.6}, []any{old["east"], old["north"]})
		_, ok := v["frame"].(map[string]any)["origin"]
		assert.Equal(t, earth, ok)

		d := answerOf(t, func(w *bytes.Buffer) error { return export.DigplanJSON(w, loc, plan(), language.English) })
		has(t, d, "seek", "expected_holes", "chance_next", "holes")
		for _, h := range d["holes"].([]any) {
			has(t, h, "rank", "east", "north", "chance", "seeks", "depth", "depth_sigma", "stop_depth", "ties", "cautions")
			assert.NotNil(t, h.(map[string]any)["ties"], "a list, though empty")
		}
		p := plan()
		p.Follow = &probe.Follow{Seek: "box", Hole: "H2", Met: probe.MetHeader, At: geo.Vec{X: 3, Y: 6}, Toward: geo.Vec{X: 0.6, Y: 0.8}, Facing: "A", Length: 5, Sigma: 0.4, Chance: 0.8, Minutes: 40}
		d = answerOf(t, func(w *bytes.Buffer) error { return export.DigplanJSON(w, loc, p, language.English) })
		steps := d["holes"].([]any)
		require.Len(t, steps, 3)
		follow := steps[0].(map[string]any)
		has(t, follow, "rank", "east", "north", "seeks", "depth", "stop_depth", "ties", "cautions")
		assert.Equal(t, []any{"follow", "H2", 5.0, 0.8, 40.0}, []any{follow["action"], follow["from"], follow["length"], follow["chance"], follow["minutes"]})
		toward := follow["toward"].(map[string]any)
		assert.Equal(t, []any{6.0, 10.0}, []any{toward["east"], toward["north"]}, "3, 6 and 5 m along a 3-4-5 triangle")
		assert.Equal(t, "hole", steps[1].(map[string]any)["action"])
		p = plan()
		p.Push = &probe.Push{Seek: "box", Action: survey.PushSonde, From: "tank", At: geo.Vec{X: 3, Y: 6}, Chance: 0.85, Minutes: 80, Holes: 1.3}
		d = answerOf(t, func(w *bytes.Buffer) error { return export.DigplanJSON(w, loc, p, language.English) })
		steps = d["holes"].([]any)
		require.Len(t, steps, 3)
		push := steps[0].(map[string]any)
		has(t, push, "rank", "east", "north", "seeks", "depth", "stop_depth", "ties", "cautions", "says")
		assert.Equal(t, []any{"sonde", "tank", 0.85, 80.0, 1.3, 0.0}, []any{push["action"], push["from"], push["chance"], push["minutes"], push["holes_after"], push["rank"]})
		p.Push.Action = survey.PushCable
		d = answerOf(t, func(w *bytes.Buffer) error { return export.DigplanJSON(w, loc, p, language.English) })
		assert.Equal(t, "cable", d["holes"].([]any)[0].(map[string]any)["action"])

		p = plan()
		p.Rod = &probe.Rod{Seek: "box", From: geo.Vec{X: 1, Y: 2}, To: geo.Vec{X: 1.6, Y: 2.8}, Lines: 2, Each: 3, Step: 0.5, Depth: 0.9, Chance: 0.4, Minutes: 20}
		d = answerOf(t, func(w *bytes.Buffer) error { return export.DigplanJSON(w, loc, p, language.English) })
		steps = d["holes"].([]any)
		require.Len(t, steps, 3)
		rod := steps[0].(map[string]any)
		has(t, rod, "rank", "east", "north", "seeks", "ties", "to", "cautions")
		assert.Equal(t, []any{"rod", 0.9, 0.4, 20.0}, []any{rod["action"], rod["depth"], rod["chance"], rod["minutes"]})
		stabs := rod["stabs"].([]any)
		require.Len(t, stabs, 6)
		last := stabs[5].(map[string]any)
		assert.InDelta(t, 2.0, last["east"], 1e-9, "1 m along a 3-4-5 triangle from 1, 2, and half a metre to its right")
		assert.InDelta(t, 2.5, last["north"], 1e-9)
		r := answerOf(t, func(w *bytes.Buffer) error { return export.FitJSON(w, loc.Fit, language.English) })["residuals"].([]any)
		assert.Equal(t, -0.02, r[0].(map[string]any)["residual"], "observed less fitted")
		assert.Contains(t, r[0], "detectable")
		assert.NotContains(t, r[1], "detectable", "nothing checks it")
	}
}

func TestInterchangeCheck(t *testing.T) {
	v := answerOf(t, func(w *bytes.Buffer) error {
		return export.CheckJSON(w, nil, asbuilt.Problems{{File: "readings.csv", Place: "row 3", Field: "value", Found: "x", Want: "a length"}}, nil, language.English)
	})
	assert.Equal(t, false, v["ok"])
	p := v["problems"].([]any)[0].(map[string]any)
	assert.Equal(t, "readings.csv, row 3, value: found x; want a length", p["says"])
	v = answerOf(t, func(w *bytes.Buffer) error { return export.CheckJSON(w, small(false).Job, nil, nil, language.English) })
	assert.Equal(t, true, v["ok"])
	assert.Equal(t, []any{}, v["problems"])
}

// TestInterchangeReadsBack holds that the corrected as-built is a sketch: the reader
// finds no fault with it, and distances come back as the frame has them.
func TestInterchangeReadsBack(t *testing.T) {
	for _, earth := range []bool{false, true} {
		loc := small(earth)
		var b bytes.Buffer
		require.NoError(t, export.AsBuiltGeoJSON(t.Context(), &b, loc))
		s, problems := geojson.Decode(&b, "asbuilt.geojson")
		require.NoError(t, problems.Err())
		require.Len(t, s.Parts, len(loc.Outlines))
		within := 1e-4
		if earth {
			assert.Equal(t, asbuilt.WGS84, s.Plane)
			within = 2e-3 // the reader's plane is at height 0: 260 m over 6378 km is 41 ppm, 1 mm in 24 m
		} else {
			assert.Equal(t, geo.Metre, s.Unit)
		}
		a, _ := s.Part("A").Point(asbuilt.Center)
		end, ok := s.Part("L1").Point(asbuilt.End)
		require.True(t, ok)
		assert.InDelta(t, math.Hypot(24, 6.4), a.Dist(end), within)
		assert.Equal(t, `60`, s.Part("L1").Length.Written[:2], "written lengths are kept")
		assert.InDelta(t, 18.288, s.Part("L1").Length.Metres, 1e-9, "60 ft, though the file is in metres")
		require.Len(t, s.Part("box").Ties, 2, "the new ones, in place of the sheet's")
		for _, tie := range s.Part("box").Ties {
			want := map[string]float64{"A": math.Hypot(6, 6.2), "B": math.Hypot(3, 6.2)}[tie.From]
			assert.InDelta(t, want, tie.Distance.Metres, 5e-3, tie.From)
		}
		assert.InDelta(t, 0.610, s.Part("box").Cover.Metres, 1e-9, "today's, not the record's 18 in")
		assert.Len(t, s.Part("field").Shapes, 2)
	}
}

// TestInterchangeSites writes every invented job of the tree and reads it back.
func TestInterchangeSites(t *testing.T) {
	for _, name := range []string{"demo", "two-tapes", "metric-gnss", "day-before"} {
		t.Run(name, func(t *testing.T) {
			loc := locatedSite(t, name)
			job := loc.Job
			var b bytes.Buffer
			require.NoError(t, export.AsBuiltGeoJSON(t.Context(), &b, loc))
			s, problems := geojson.Decode(&b, "asbuilt.geojson")
			require.NoError(t, problems.Err())
			assert.Len(t, s.Parts, len(job.Sketch.Parts))
			answerOf(t, func(w *bytes.Buffer) error { return export.LocateJSON(w, loc, language.English) })
			answerOf(t, func(w *bytes.Buffer) error { return export.FitJSON(w, loc.Fit, language.English) })
			b.Reset()
			require.NoError(t, export.PredictionsGeoJSON(&b, loc))
			assert.NotZero(t, exteriorsTurnLeft(t, b.Bytes()))
		})
	}
}

// exteriorsTurnLeft holds RFC 7946, 3.1.6: rings are closed, of four positions or more,
// exteriors counter-clockwise and holes clockwise. go-geom, not our own code, reads the
// file and finds the direction.
func exteriorsTurnLeft(t *testing.T, b []byte) (polygons int) {
	t.Helper()
	var fc codec.FeatureCollection
	require.NoError(t, json.Unmarshal(b, &fc))
	ring := func(r *gogeom.LinearRing, exterior bool) {
		flat := r.FlatCoords()
		require.GreaterOrEqual(t, r.NumCoords(), 4)
		assert.Equal(t, flat[:2], flat[len(flat)-2:], "closed")
		assert.Equal(t, exterior, xy.IsRingCounterClockwise(gogeom.XY, flat))
	}
	for _, f := range fc.Features {
		all := []*gogeom.Polygon{}
		switch g := f.Geometry.(type) {
		case *gogeom.Polygon:
			all = append(all, g)
		case *gogeom.MultiPolygon:
			for i := range g.NumPolygons() {
				all = append(all, g.Polygon(i))
			}
		}
		for _, p := range all {
			polygons++
			for i := range p.NumLinearRings() {
				ring(p.LinearRing(i), i == 0)
			}
		}
	}
	return polygons
}

func TestInterchangeGeoJSON(t *testing.T) {
	loc := small(true)
	files := map[string][]byte{}
	var b bytes.Buffer
	require.NoError(t, export.PredictionsGeoJSON(&b, loc))
	files["predictions.geojson"] = bytes.Clone(b.Bytes())
	assert.Equal(t, 7, exteriorsTurnLeft(t, b.Bytes()), "two ellipses of each of three spots, and a corridor")
	b.Reset()
	require.NoError(t, export.PlanGeoJSON(&b, loc, plan()))
	files["plan.geojson"] = bytes.Clone(b.Bytes())
	b.Reset()
	require.NoError(t, export.AsBuiltGeoJSON(t.Context(), &b, loc))
	files["asbuilt.geojson"] = bytes.Clone(b.Bytes())
	exteriorsTurnLeft(t, b.Bytes())

	t.Run("ogrinfo reads it", func(t *testing.T) {
		gdal := long.Program(t, "ogrinfo")
		for name, want := range map[string]string{"predictions.geojson": "Feature Count: 12", "plan.geojson": "Feature Count: 4", "asbuilt.geojson": "Feature Count: 5"} {
			path := filepath.Join(t.TempDir(), name)
			require.NoError(t, os.WriteFile(path, files[name], 0o600))
			out, err := exec.Command(gdal, "-ro", "-al", "-so", path).CombinedOutput()
			require.NoError(t, err, string(out))
			assert.Contains(t, string(out), want)
			assert.Contains(t, string(out), "WGS 84")
		}
	})
	for _, write := range []func(*bytes.Buffer) error{
		func(b *bytes.Buffer) error { return export.PredictionsGeoJSON(b, small(false)) },
		func(b *bytes.Buffer) error { return export.PlanGeoJSON(b, small(false), plan()) },
	} {
		v := answerOf(t, write)
		assert.Equal(t, "m", v["unit"], "says that these are no longitudes")
		assert.Equal(t, "local", v["frame"].(map[string]any)["kind"])
	}
}

// TestInterchangeCSV holds RFC 4180: CRLF, as many fields in each record, quotes doubled.
func TestInterchangeCSV(t *testing.T) {
	loc := small(false)
	for name, write := range map[string]func(*bytes.Buffer) error{
		"spots":     func(b *bytes.Buffer) error { return export.SpotsCSV(b, loc) },
		"holes":     func(b *bytes.Buffer) error { return export.HolesCSV(b, loc, plan()) },
		"residuals": func(b *bytes.Buffer) error { return export.ResidualsCSV(b, loc.Fit) },
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.NoError(t, write(&b))
			assert.Equal(t, strings.Count(b.String(), "\n"), strings.Count(b.String(), "\r\n"))
			assert.NotContains(t, b.String(), "Inf")
			rows, err := csv.NewReader(&b).ReadAll()
			require.NoError(t, err)
			assert.Len(t, rows, map[string]int{"spots": 6, "holes": 3, "residuals": 3}[name])
		})
	}
}
