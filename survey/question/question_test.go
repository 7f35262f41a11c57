package question_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/question"
	"asfound/survey/testsite"
)

// located is the lot of testsite with tapes between its corners A (0, 0), B (12, 0),
// C (12, 9) and D (0, 9) and four holes, depths among them.
func located(t *testing.T) *locate.Location {
	t.Helper()
	job, err := testsite.Braced()
	require.NoError(t, err)
	for i := range job.Readings {
		if r := &job.Readings[i]; r.Kind == survey.Found {
			r.Depth = feet(t, "3'6\"")
		}
	}
	p, err := fit.Prepare(job.Sketch)
	require.NoError(t, err)
	l, err := pipeline.Locate(t.Context(), job, p)
	require.NoError(t, err)
	return l
}

func feet(t *testing.T, s string) *geo.Length {
	t.Helper()
	l, err := geo.ParseLength(s, geo.Foot)
	require.NoError(t, err)
	return &l
}

// TestOf tries one slip of the thumb a row, each beside the same entry as it was
// meant: distances by Pythagoras from the corners above, in feet and inches; by the
// fit they come out within an inch.
func TestOf(t *testing.T) {
	l := located(t)
	tape := func(from, to, value string) survey.Reading {
		return survey.Reading{Kind: survey.Tape, From: from, To: to, Value: feet(t, value)}
	}
	found := func(target, depth string) survey.Reading {
		return survey.Reading{Kind: survey.Found, Point: "H9", Target: target, Depth: feet(t, depth)}
	}
	empty := func(depth string) survey.Reading {
		return survey.Reading{Kind: survey.Empty, Point: "H9", Depth: feet(t, depth)}
	}
	rows := func(r ...survey.Reading) []survey.Reading { return r }
	// H9 at (8, −8): 11.314 m = 37'1" from A, 8.944 m = 29'4" from B, 17.464 m = 57'4" from C.
	a, b := tape("A", "H9", `37'1"`), tape("B", "H9", `29'4"`)
	near := []geo.Vec{{X: 7, Y: -8}}
	for _, tt := range []struct {
		name     string
		rows     []survey.Reading
		proposed []geo.Vec
		want     finding.Code
		says     string
	}{
		{"as it is", rows(a, b, empty("3'6")), near, "", ""},
		{"three tapes that meet", rows(a, b, tape("C", "H9", `57'4"`)), near, "", ""},
		{"both tapes too short", rows(tape("A", "H9", `17'1"`), tape("B", "H9", `9'4"`)), near, finding.TapesShort, "do not meet: together they are 12' 11\" too short"},
		{"one tape too long for the other", rows(tape("A", "H9", `87'1"`), b), near, finding.TapesLong, "the one from A is 18' 5\" too long"},
		{"the same, the other way", rows(b, tape("A", "H9", `87'1"`)), near, finding.TapesLong, "the one from A is"},
		{"the third tape misread by ten feet", rows(a, b, tape("C", "H9", `47'4"`)), near, finding.TapesDisagree, "C is 57' 3\" away, not 47' 4\""},
		{"a hundred feet too many", rows(tape("A", "H9", `137'1"`), tape("B", "H9", `129'4"`)), near, finding.TapeBeyondLot, "longer than the whole lot"},
		{"forty feet from the hole proposed", rows(a, b), []geo.Vec{{X: 20, Y: -9}}, finding.FarFromProposed, "39' 7\" from the hole that was proposed"},
		{"a hole that was not to be set out", rows(a, b), nil, "", ""},
		{"another trench, a little off", rows(a, b), []geo.Vec{{X: 15, Y: -8}}, "", ""},
		// (−6, −8) is 10 m = 32'10" from A and 19.70 m = 64'8" from B, and 8.2 m from the box, which is the nearest thing.
		{"a little off, where nothing lies", rows(tape("A", "H9", `32'10"`), tape("B", "H9", `64'8"`)), []geo.Vec{{X: 1, Y: -9}}, finding.FarFromProposed, "23' "},
		// 13 m over a rise of 5 m are 12 m level.
		{"between corners, over a rise", rows(survey.Reading{Kind: survey.Tape, From: "A", To: "B", Value: feet(t, `42'8"`), Rise: feet(t, `16'5"`)}), nil, "", ""},
		{"between corners, the rise left out", rows(tape("A", "B", `42'8"`)), nil, finding.TapeOff, "about 39' 4\""},
		{"between corners, as it is", rows(tape("A", "B", `39'4"`)), nil, "", ""},
		{"between corners, digits swapped", rows(tape("A", "B", `93'4"`)), nil, finding.TapeOffMeant, "Did you mean 39'4\"?"},
		{"between corners, ten feet off", rows(tape("A", "B", `29'4"`)), nil, finding.TapeOff, "by all other readings it is about 39' 4\""},
		// H9 lies in the field; the tank, 2.5 m by 1.5 m, is drawn at (4, −4) to (6.5, −2.5).
		{"the tank, where a trench lies", rows(a, b, found("tank", "2'0")), near, finding.MetElsewhere, "tank is believed to lie "},
		{"a trench, where one lies", rows(a, b, found("lateral", "3'6")), near, "", ""},
		{"a depth as the others", rows(found("L2", "3'5")), nil, "", ""},
		{"inches typed as feet", rows(found("L2", "42'0\"")), nil, finding.DepthFarMeant, "Did you mean 42 in?"},
		{"inches typed as feet, of any trench", rows(found("lateral", "42'0\"")), nil, finding.DepthFarMeant, "Did you mean 42 in?"},
		{"whole inches", rows(found("L2", `42"`)), nil, "", ""},
		{"deeper than any", rows(found("L2", "14'2\"")), nil, finding.DepthFar, "14' 2\" deep, where about 3' 5\" is expected"},
		{"an empty hole, inches typed as feet", rows(a, b, empty("47'0\"")), near, finding.DepthFarMeant, "Did you mean 47 in?"},
		{"an empty hole of four inches", rows(a, b, empty("4\"")), near, finding.DepthOddMeant, "Did you mean 4 ft?"},
		{"a rock at four inches", rows(a, b, survey.Reading{Kind: survey.Empty, Point: "H9", Depth: feet(t, "4\""), Stopped: survey.StopRock}), near, "", ""},
		// B is at (12, 0): 39'4" from A, 29'6" from C.
		{"a new point where a corner is", rows(tape("A", "tree", `39'4"`), tape("C", "tree", `29'6"`)), nil, finding.PointClose, "from B: is it the same thing?"},
		{"a new point beside it", rows(tape("A", "tree", `36'1"`), tape("C", "tree", `29'8"`)), nil, "", ""},
		{"an empty hole deeper than the trench", rows(a, b, empty("5'6\"")), near, "", ""},
		{"a corner in lower case", rows(tape("a", "H9", `37'1"`)), nil, finding.NameClose, "did you mean A?"},
		{"a part with a letter changed", rows(tape("tamk", "H9", `12'1"`)), nil, "", ""},
		{"another number", rows(tape("H11", "H9", `12'1"`)), nil, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := question.Of(l, question.Entry{Rows: tt.rows, Proposed: tt.proposed})
			if tt.want == "" {
				assert.Empty(t, finding.Sentences(got, finding.English(geo.Foot)))
				return
			}
			require.Len(t, got, 1, "%v", finding.Sentences(got, finding.English(geo.Foot)))
			assert.Equal(t, tt.want, got[0].Code)
			assert.Contains(t, got[0].Says(finding.English(geo.Foot)), tt.says)
		})
	}
}

// TestTwice has two holes meet the one box of the lot: 3 m apart they disagree, since a
// box is 0.6 m across; 0.5 m apart they are two of its corners. The same is asked
// before the second is kept.
func TestTwice(t *testing.T) {
	for _, tt := range []struct {
		name     string
		from, to string // of the second hole, from A and B
		twice    bool
	}{
		// (2, −10), where the box is drawn, is 10.198 m = 33'5" from A and 14.142 m = 46'5" from B.
		{"half a metre on", `33'5"`, `45'3"`, false}, // (2.4, −9.9)
		{"three metres on", `36'8"`, `40'1"`, true},  // (5, −10)
	} {
		t.Run(tt.name, func(t *testing.T) {
			job, err := testsite.Braced()
			require.NoError(t, err)
			add := func(name, from, to string) []survey.Reading {
				return []survey.Reading{{ID: name + "a", Kind: survey.Tape, From: "A", To: name, Value: feet(t, from)}, {ID: name + "b", Kind: survey.Tape, From: "B", To: name, Value: feet(t, to)},
					{ID: name + "m", Kind: survey.Found, Point: name, Target: "box"}}
			}
			locate := func() *locate.Location {
				p, err := fit.Prepare(job.Sketch)
				require.NoError(t, err)
				l, err := pipeline.Locate(t.Context(), job, p)
				require.NoError(t, err)
				return l
			}
			job.Readings = append(job.Readings, add("K1", `33'5"`, `46'5"`)...)
			second := add("K2", tt.from, tt.to)
			before := finding.With(question.Of(locate(), question.Entry{Rows: second}), finding.FoundTwice)
			job.Readings = append(job.Readings, second...)
			after := question.Twice(locate())
			if !tt.twice {
				assert.Empty(t, before)
				assert.Empty(t, after)
				return
			}
			for _, got := range [][]finding.Finding{before, after} {
				require.Len(t, got, 1)
				assert.Equal(t, []string{"K1m", "K2m"}, got[0].Readings)
				assert.Contains(t, got[0].Says(finding.English(geo.Metre)), "K1 and K2 both met box, ")
				assert.InDelta(t, 3, got[0].Numbers["away"], 0.1, "metres")
			}
		})
	}
}
