package observe_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// invented returns a job with landmarks NE, NW and porch, box D1, tank T and
// laterals L1 and L2.
func invented(readings ...survey.Reading) *survey.Job {
	point := func(id string, kind asbuilt.Kind, x, y float64) asbuilt.Part {
		return asbuilt.Part{ID: id, Kind: kind, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: []asbuilt.Position{{X: x, Y: y}}}}}
	}
	line := func(id string, y float64) asbuilt.Part {
		return asbuilt.Part{ID: id, Kind: asbuilt.Lateral, Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: []asbuilt.Position{{X: 12, Y: y}, {X: 72, Y: y}}}}}
	}
	for i := range readings {
		readings[i].File, readings[i].Row = "readings.csv", i+2
		if readings[i].ID == "" {
			readings[i].ID = fmt.Sprintf("r%d", i+2)
		}
	}
	return &survey.Job{Settings: survey.DefaultSettings(), Readings: readings, Sketch: &asbuilt.Sketch{Unit: geo.Foot, Ratio: 1, Parts: []asbuilt.Part{
		point("NE", asbuilt.Landmark, 0, 0), point("NW", asbuilt.Landmark, 40, 0), point("porch", asbuilt.Landmark, 20, -8),
		point("D1", asbuilt.Box, 10, -30), point("T", asbuilt.Tank, 10, -12), line("L1", -28), line("L2", -34)}}}
}

func found(target string, spot asbuilt.Spot) survey.Reading {
	return survey.Reading{Kind: survey.Found, Point: "H1", Target: target, Spot: spot}
}

func fix(t *testing.T, lon, lat float64) survey.Reading {
	p, err := geodesy.New(lon, lat)
	require.NoError(t, err)
	return survey.Reading{Kind: survey.GNSS, Point: "NE", Position: p, Accuracy: 4}
}

func TestTargets(t *testing.T) {
	for _, tt := range []struct{ target, want string }{
		{"D1", ""},
		{"lateral", ""},
		{"tank", ""},
		{"latteral", `readings.csv, row 2, target: found "latteral"; want a part of the sketch (D1, T, L1, L2) or a kind (box, tank, lateral, header); did you mean lateral?`},
		{"porch", `readings.csv, row 2, target: found "porch"; want a part of the sketch (D1, T, L1, L2) or a kind (box, tank, lateral, header)`},
		{"header", ""}, // none is drawn, and there must be some
		{"port", `readings.csv, row 2, target: found "port"; want a part of the sketch (D1, T, L1, L2) or a kind (box, tank, lateral, header)`},
		{"L2.end", `readings.csv, row 2, target: found "L2.end"; want a part of the sketch (D1, T, L1, L2) or a kind (box, tank, lateral, header)`},
	} {
		assert.Equal(t, tt.want, joined(observe.Check(invented(found(tt.target, "")))), tt.target)
	}
}

// TestNotes holds conditions to what they may be about: parts, landmarks, what the log
// itself names, and the whole job.
func TestNotes(t *testing.T) {
	for _, tt := range []struct{ target, want string }{
		{"D1", ""}, {"porch", ""}, {"job", ""}, {"H1", ""}, {"oak", ""},
		{"H7", `readings.csv, row 4, target: found "H7"; want a part of the sketch (D1, T, L1, L2) or a kind (box, tank, lateral, job), or a hole or stake of the log`},
	} {
		j := invented(found("L1", ""), survey.Reading{Kind: survey.Tape, From: "NE", To: "oak"}, survey.Reading{Kind: survey.Condition, Target: tt.target, Note: "seen"})
		assert.Equal(t, tt.want, joined(observe.Check(j)), tt.target)
	}
}

func TestSpots(t *testing.T) {
	fits := map[string]string{"D1": "on center edge corner", "tank": "on center edge corner", "L1": "on start end edge", "lateral": "on start end edge", "header": "on start end edge"}
	for target, spots := range fits {
		for _, spot := range []asbuilt.Spot{"on", "start", "end", "edge", "corner", "center"} {
			ok := strings.Contains(" "+spots+" ", " "+string(spot)+" ")
			assert.Equal(t, ok, len(observe.Check(invented(found(target, spot)))) == 0, "%s of %s", spot, target)
		}
	}
}

func TestVoids(t *testing.T) {
	tape := survey.Reading{Kind: survey.Tape, From: "NE", To: "NW"}
	void := func(id string) survey.Reading { return survey.Reading{Kind: survey.Void, Target: id} }
	assert.Empty(t, observe.Check(invented(tape, void("r2"))))
	assert.Equal(t, `readings.csv, row 3, target: found "r9"; want the id of a reading; a row without one is called r and its row number`,
		joined(observe.Check(invented(tape, void("r9")))))
	assert.Equal(t, `readings.csv, row 4, target: found "r3"; want the id of a reading that is not a void itself; to bring a reading back, log it again`,
		joined(observe.Check(invented(tape, void("r2"), void("r3")))))
}

// Fixes more than a kilometre apart cannot be of one lot. GeographicLib's
// GeodSolve gives 945 m for the first pair and 1056 m for the second.
func TestFixesApart(t *testing.T) {
	assert.Empty(t, observe.Check(invented(fix(t, -123.4, -48.9), fix(t, -123.4, -48.9085))))
	assert.Contains(t, joined(observe.Check(invented(fix(t, -123.4, -48.9), fix(t, -123.4, -48.9095)))),
		`readings.csv, row 3, lon, lat: found -123.400000, -48.909500, 1.1 km from the fix of NE (r2); want a position on the lot; are longitude and latitude swapped, or is a minus sign lost?`)

	lost := invented(fix(t, 123.4, -48.9))
	lost.Settings.Site = &survey.Place{Position: fix(t, -123.4, -48.9).Position, Accuracy: 50}
	assert.Contains(t, joined(observe.Check(lost)), "from the site in job.json; want a position on the lot")

	gone := invented(fix(t, -123.4, -48.9), fix(t, 123.4, -48.9), survey.Reading{Kind: survey.Void, Target: "r3"})
	assert.Empty(t, observe.Check(gone), "a withdrawn fix is not asked after")
}

// Only fixes without a problem say where the others may be.
func TestWrongReadingsJudgeNoOthers(t *testing.T) {
	far := fix(t, 123.4, -48.9)
	far.Point = "L1"
	near, other := fix(t, -123.4, -48.9), fix(t, -123.4, -48.901)
	used, problems := observe.Usable(invented(far, near, other))
	require.NotNil(t, used)
	assert.Len(t, used.Readings, 2, "a fix of what is no point does not say where the lot is")
	require.Len(t, problems, 1)
	assert.Equal(t, "r2", problems[0].Reading)
	assert.Equal(t, 2, problems[0].Row)

	void := survey.Reading{Kind: survey.Void, Target: "r3"}
	twice := invented(near, fix(t, 123.4, -48.9), void)
	twice.Readings[2].ID = "r2"
	used, problems = observe.Usable(twice)
	require.NotNil(t, used)
	assert.Len(t, used.Readings, 1)
	assert.Len(t, problems, 2, "a void without an id of its own withdraws nothing: %v", problems)
}

// A reading that withdraws one that is left out is left out too.
func TestVoidsOfWhatIsLeftOut(t *testing.T) {
	void := func(of string) survey.Reading { return survey.Reading{Kind: survey.Void, Target: of} }
	tape := survey.Reading{Kind: survey.Tape, From: "NE", To: "H1"}
	used, problems := observe.Usable(invented(tape, found("L9", ""), void("r3"), void("r4"), void("r2")))
	require.NotNil(t, used)
	require.Len(t, used.Readings, 2)
	assert.Equal(t, "r6", used.Readings[1].ID)
	assert.Len(t, problems, 3)
	assert.Empty(t, observe.Check(used))
}

func TestNoSketch(t *testing.T) {
	assert.Len(t, observe.Check(&survey.Job{}), 1)
	used, problems := observe.Usable(&survey.Job{})
	assert.Nil(t, used)
	assert.Len(t, problems, 1)
}

func TestCautions(t *testing.T) {
	tape := func(from, to string) survey.Reading { return survey.Reading{Kind: survey.Tape, From: from, To: to} }
	for _, tt := range []struct {
		name     string
		readings []survey.Reading
		want     []string
	}{
		{"located", []survey.Reading{tape("NE", "H1"), tape("NW", "H1"), found("L1", "")}, nil},
		{"a hole without a place", []survey.Reading{tape("NE", "NW"), found("L1", "")},
			[]string{"readings.csv row 3: nothing says where hole H1 is; tape it from two landmarks"}},
		{"said once", []survey.Reading{found("L1", ""), found("L1", "")},
			[]string{"readings.csv row 2: nothing says where hole H1 is; tape it from two landmarks"}},
		{"on a line of somebody else", []survey.Reading{tape("NE", "H1"), tape("NW", "H1"), {Kind: survey.Empty, Point: "H1", Stopped: survey.StopUtility}},
			[]string{"Hole H1 met a line that is not of this system. Stop there until its owner has marked it: it may be live, and where it runs is not known. No hole is proposed within 2' 0\" of what hole H1 opened."}},
		{"misspelt landmark", []survey.Reading{tape("NE", "H1"), tape("portch", "H1"), found("L1", "")},
			[]string{"readings.csv row 3: portch is used only once; did you mean landmark porch?"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := invented(tt.readings...)
			require.Empty(t, observe.Check(j))
			assert.ElementsMatch(t, tt.want, finding.Sentences(observe.Cautions(j), finding.English(j.Settings.Unit)))
		})
	}
}

func joined(ps asbuilt.Problems) string {
	if len(ps) == 0 {
		return ""
	}
	return ps.Error()
}
