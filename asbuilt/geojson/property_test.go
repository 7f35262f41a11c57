package geojson_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/geo/geodesy"
)

func encode(t require.TestingT, s *asbuilt.Sketch) string {
	var b bytes.Buffer
	require.NoError(t, geojson.Encode(&b, s))
	return b.String()
}

// TestRoundTrip decodes what Encode wrote of any sketch in which Check finds no
// fault, and expects the same sketch.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySketch(t)
		text := encode(t, s)
		back, problems := geojson.Decode(strings.NewReader(text), "s")
		require.NoError(t, problems.Err(), text)
		assert.Equal(t, s, back, text)
		assert.Equal(t, text, encode(t, back), "and the same text again")
	})
}

// TestRoundTripWGS84 does the same on the earth, where the frame moves to the
// mean of the positions: longitude and latitude must come back to 0.01 mm, and
// with them the distances between parts.
func TestRoundTripWGS84(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySketch(t)
		origin, err := geodesy.New(rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-60, 60).Draw(t, "lat"))
		require.NoError(t, err)
		s.Plane, s.Unit, s.Ratio, s.Origin = asbuilt.WGS84, geo.Metre, 1, &origin
		for i := range s.Parts {
			for _, sh := range s.Parts[i].Shapes {
				for k, v := range sh.Vertices {
					sh.Vertices[k] = v.Scale(0.2) // within a lot or two
				}
			}
		}
		text := encode(t, s)
		back, problems := geojson.Decode(strings.NewReader(text), "s")
		require.NoError(t, problems.Err(), text)
		from, to := geodesy.NewSite(origin, 0), geodesy.NewSite(*back.Origin, 0)
		for i := range s.Parts {
			for k, sh := range s.Parts[i].Shapes {
				for j, v := range sh.Vertices {
					p, q := from.LonLat(geo.Vec(v)), to.LonLat(geo.Vec(back.Parts[i].Shapes[k].Vertices[j]))
					assert.InDelta(t, p.Lat.Degrees(), q.Lat.Degrees(), 2e-10)
					assert.InDelta(t, 0, math.Remainder(p.Lon.Degrees()-q.Lon.Degrees(), 360), 2e-10)
				}
			}
		}
	})
}

// anySketch draws a sketch in the form that Decode returns.
func anySketch(t *rapid.T) *asbuilt.Sketch {
	word := rapid.Map(rapid.StringMatching(`[A-Za-zé<&"' ]{0,12}`), strings.TrimSpace)
	s := &asbuilt.Sketch{
		Plane: asbuilt.Paper, Ratio: 1,
		Unit:          rapid.SampledFrom([]geo.Unit{geo.Foot, geo.Metre, geo.Inch, geo.SurveyFoot, geo.Millimetre, geo.Yard, geo.Pixel}).Draw(t, "unit"),
		Trust:         rapid.SampledFrom([]asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}).Draw(t, "trust"),
		MirrorUnknown: rapid.Bool().Draw(t, "mirror"),
		Drawn:         word.Draw(t, "drawn"), By: word.Draw(t, "by"), Note: word.Draw(t, "note"),
		Scan: rapid.SampledFrom([]string{"", "scan.pdf", "scans/page 1.jpg"}).Draw(t, "scan"),
	}
	bare := s.Unit
	if s.Unit != geo.Pixel && rapid.Bool().Draw(t, "on paper") {
		s.Ratio = float64(rapid.IntRange(2, 1000).Draw(t, "ratio"))
		if s.Unit == geo.Inch || s.Unit == geo.Millimetre {
			bare = geo.Pixel
		}
	}
	if rapid.Bool().Draw(t, "up") {
		// Whole quarters survive degrees to radians and back.
		s.Up = &asbuilt.Up{Bearing: geo.Degrees(float64(rapid.IntRange(0, 3).Draw(t, "bearing")) * 90), Sigma: geo.Degrees(10)}
	}
	length := func(name string) *geo.Length {
		switch k := rapid.IntRange(0, 3).Draw(t, name); {
		case k == 0:
			return nil
		case k == 1 && bare != geo.Pixel:
			l, err := geo.Bare(rapid.Float64Range(0.5, 90).Draw(t, name), bare)
			require.NoError(t, err)
			return &l
		}
		l, err := geo.ParseLength(rapid.SampledFrom([]string{`43'6"`, "43 ft 6 in", "13.26 m", "60.00 ft", "6 1/2 in"}).Draw(t, name), geo.Foot)
		require.NoError(t, err)
		return &l
	}
	landmarks := 0
	for i := range rapid.IntRange(1, 8).Draw(t, "parts") {
		p := asbuilt.Part{ID: fmt.Sprintf("p%d", i), Feature: i + 1}
		p.Kind = asbuilt.Lateral // the first, so that there is something to look for
		if i > 0 {
			p.Kind = rapid.SampledFrom(asbuilt.Kinds()).Draw(t, "kind")
		}
		p.Name, p.Width, p.Cover, p.Clearance = word.Draw(t, "name"), length("width"), length("cover"), length("clearance")
		forms, several := p.Kind.Forms()
		n := 1
		if several {
			n = rapid.IntRange(1, 3).Draw(t, "pieces")
		}
		for range n {
			p.Shapes = append(p.Shapes, anyShape(t, rapid.SampledFrom(forms).Draw(t, "form")))
		}
		switch p.Kind {
		case asbuilt.Box:
			p.BoxKind = rapid.SampledFrom([]asbuilt.BoxKind{asbuilt.Distribution, asbuilt.Drop}).Draw(t, "box")
			p.Outlets, p.Size = rapid.IntRange(0, 9).Draw(t, "outlets"), length("size")
		case asbuilt.Lateral:
			p.Bed = rapid.SampledFrom([]asbuilt.Bed{"", asbuilt.Gravel, asbuilt.Chamber, asbuilt.Pipe}).Draw(t, "bed")
			p.Length, p.Invert = length("length"), length("invert")
			if rapid.Bool().Draw(t, "graded") {
				g := rapid.Float64Range(0, 0.1).Draw(t, "grade")
				p.Grade = &g
			}
		case asbuilt.Port:
			p.Of = "p0"
		case asbuilt.Landmark:
			landmarks = i
		}
		if spots := p.TieSpots(); landmarks > 0 && landmarks != i {
			if l := length("tie"); l != nil {
				p.Ties = []asbuilt.Tie{{At: rapid.SampledFrom(spots).Draw(t, "at"), From: fmt.Sprintf("p%d", landmarks), Distance: *l}}
			}
		}
		s.Parts = append(s.Parts, p)
	}
	return s
}

// anyShape draws a shape; a polygon is a quarter-turn fan of growing radius,
// which cannot cross itself, counter-clockwise.
func anyShape(t *rapid.T, form asbuilt.Form) asbuilt.Shape {
	at := asbuilt.Position{X: rapid.Float64Range(-900, 900).Draw(t, "x"), Y: rapid.Float64Range(-900, 900).Draw(t, "y")}
	sh := asbuilt.Shape{Form: form, Vertices: []asbuilt.Position{at}}
	if form == asbuilt.Point {
		return sh
	}
	for i := range rapid.IntRange(int(form)+1, 6).Draw(t, "more") {
		step := asbuilt.Position{X: rapid.Float64Range(1, 50).Draw(t, "step")}
		if form == asbuilt.Polygon {
			sh.Vertices = append(sh.Vertices, at.Add(step.Rotate(geo.Degrees(float64(i)*15))))
			continue
		}
		sh.Vertices = append(sh.Vertices, sh.Vertices[len(sh.Vertices)-1].Add(step))
	}
	return sh
}

// TestEncodeIsGeoJSON holds the text against the rules of RFC 7946 that a
// reader of JSON can see without this package.
func TestEncodeIsGeoJSON(t *testing.T) {
	var c struct {
		Type     string
		Sketch   map[string]any
		Features []struct {
			Type       string
			ID         any
			Geometry   map[string]any
			Properties map[string]any
		}
	}
	require.NoError(t, json.Unmarshal([]byte(encode(t, decode(t, sample))), &c))
	assert.Equal(t, "FeatureCollection", c.Type)
	assert.Equal(t, "ft", c.Sketch["unit"])
	require.Len(t, c.Features, 14)
	for _, f := range c.Features {
		assert.Equal(t, "Feature", f.Type)
		assert.Contains(t, f.Geometry, "type")
		assert.Contains(t, f.Properties, "part")
	}
	ring := c.Features[3].Geometry["coordinates"].([]any)[0].([]any)
	require.Len(t, ring, 5)
	assert.Equal(t, ring[0], ring[4], "closed (3.1.6)")
	area := 0.0
	for i := range 4 {
		a, b := ring[i].([]any), ring[i+1].([]any)
		area += a[0].(float64)*b[1].(float64) - b[0].(float64)*a[1].(float64)
	}
	assert.Equal(t, 45.0, area/2, "counter-clockwise (3.1.6): 9 ft by 5 ft")
	assert.Equal(t, "18 in", c.Features[7].Properties["cover"], "as it was written")
	assert.Equal(t, 60.0, c.Features[7].Properties["length"])
}

// TestLengthsOutlive writes lengths that have no text of their own.
func TestLengthsOutlive(t *testing.T) {
	for _, tt := range []struct {
		name string
		unit geo.Unit
		l    geo.Length
		want string
	}{
		{"computed", geo.Foot, geo.Length{Metres: 18.288}, "18.288 m"},
		{"another unit", geo.Metre, geo.Length{Metres: 18.288, Written: "60", Unit: geo.Foot}, "60 ft"},
		{"no scale", geo.Pixel, geo.Length{Metres: 18.288, Written: "60", Unit: geo.Foot}, "60 ft"},
		{"text that is not the length", geo.Foot, geo.Length{Metres: 18.288, Written: "about 60"}, "18.288 m"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := decode(t, withSketch(`{"unit":`+strconv.Quote(string(tt.unit))+`}`))
			s.Parts[0].Cover = &tt.l
			back := decode(t, encode(t, s))
			assert.Equal(t, tt.want, back.Parts[0].Cover.Written)
			assert.InDelta(t, 18.288, back.Parts[0].Cover.Metres, 1e-12)
		})
	}
}
