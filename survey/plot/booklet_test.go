package plot

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/finding"
	"asfound/survey/probe"
	"asfound/survey/record"
)

// said returns the text of all pages.
func said(t *testing.T, d *chart.Document) string {
	t.Helper()
	var all []string
	for _, p := range d.Pages {
		all = append(all, words(t, svgOf(t, p))...)
	}
	return strings.Join(all, "\n")
}

// Every site makes a plan and a record, in any state, the same twice.
func TestBooklets(t *testing.T) {
	for _, tt := range sites {
		t.Run(tt.name, func(t *testing.T) {
			l := invent(tt.invention)
			d, err := DigPlan(l, inventPlan(l), MapOptions{Date: date})
			require.NoError(t, err)
			r, err := RecordSheet(l, record.New(l), MapOptions{Date: date})
			require.NoError(t, err)
			again, err := DigPlan(l, inventPlan(l), MapOptions{Date: date})
			require.NoError(t, err)
			assert.Equal(t, pdfOf(t, d), pdfOf(t, again))
			assert.Contains(t, said(t, d), "NEXT HOLE: measure from")
			assert.Contains(t, said(t, r), "Reviewed by (licensed surveyor or designer)")
			assert.Contains(t, said(t, d), "page 1 of ")
		})
	}
}

// The figures of the first page by hand: the invented box hole lies at (20.2,
// −11.8) m; A at the origin is 23.394 m off, 76' 9", and B at (14, 0) 13.330 m,
// 43' 9"; 0.6 m is 23.6 in, 0.9 m 35.4 in (0.3048 m to the foot, 85 FR 62698).
func TestDigPlanFigures(t *testing.T) {
	l := invent(invention{unit: geo.Foot, laterals: 3, holes: 2})
	d, err := DigPlan(l, inventPlan(l), MapOptions{})
	require.NoError(t, err)
	lines := words(t, svgOf(t, d.Pages[0]))
	for _, want := range []string{`76' 9"`, `43' 9"`, "from A", "from B", `24"`, `35"`, "box"} {
		assert.Contains(t, lines, want)
	}
	l = invent(invention{unit: geo.Metre, laterals: 3, holes: 2})
	d, err = DigPlan(l, inventPlan(l), MapOptions{})
	require.NoError(t, err)
	lines = words(t, svgOf(t, d.Pages[0]))
	for _, want := range []string{"23.39 m", "13.33 m", "0.60 m", "0.90 m"} {
		assert.Contains(t, lines, want)
	}
}

// A doubtful fit shows no hole to dig, neither in words nor on the map.
func TestDoubtfulPlanShowsNoHole(t *testing.T) {
	l := invent(invention{unit: geo.Foot, laterals: 3, holes: 2})
	doubt := finding.Impossible.New()
	l.Fit.Doubtful = &doubt
	d, err := DigPlan(l, inventPlan(l), MapOptions{})
	require.NoError(t, err)
	all := said(t, d)
	assert.Contains(t, all, "DO NOT DIG BY THIS PLAN AS IT STANDS: the readings and the sketch do not agree")
	assert.Contains(t, all, "No hole is shown")
	for _, not := range []string{"NEXT HOLE", "STOP AT", `76' 9"`} {
		assert.NotContains(t, all, not)
	}
	r, err := RecordSheet(l, record.New(l), MapOptions{})
	require.NoError(t, err)
	assert.Contains(t, said(t, r), "NOT TO BE USED AS IT STANDS")
	assert.NotContains(t, said(t, r), "compiled to meet")
}

// A plan without holes says why; numbers that are not finite do no harm.
func TestPlanWithoutHoles(t *testing.T) {
	l := invent(invention{unit: geo.Foot, laterals: 3})
	d, err := DigPlan(l, &probe.Plan{Seek: "box", Remark: []finding.Finding{finding.NowhereToDig.New(finding.Parts("box"))}}, MapOptions{})
	require.NoError(t, err)
	assert.Contains(t, said(t, d), "No place where the box may lie can be dug")
	p := inventPlan(l)
	p.ExpectedHoles, p.Holes[0].At.X, p.Holes[0].Depth.Mean, p.Holes[1].Ties = math.Inf(1), math.NaN(), math.NaN(), nil
	d, err = DigPlan(l, p, MapOptions{})
	require.NoError(t, err)
	assert.NotContains(t, said(t, d), "NaN")
	assert.NotContains(t, said(t, d), "Inf")
	assert.NotEmpty(t, pdfOf(t, d))
	_, err = DigPlan(nil, p, MapOptions{})
	assert.Error(t, err)
	_, err = RecordSheet(l, nil, MapOptions{})
	assert.Error(t, err)
}
