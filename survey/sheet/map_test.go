package sheet

import (
	"asfound/geo"
	"github.com/stretchr/testify/require"
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("set LOOK to a folder to see the sheets")
	}
	for name, in := range map[string]invention{
		"feet":     {unit: geo.Foot, laterals: 4, holes: 5, around: true},
		"metre":    {unit: geo.Metre, geodetic: true, laterals: 3, holes: 4, around: true},
		"crowded":  {unit: geo.Foot, geodetic: true, laterals: 12, holes: 40, around: true},
		"none":     {unit: geo.Foot, laterals: 3, around: true, sigma: 3},
		"huge":     {unit: geo.Metre, laterals: 6, holes: 3, around: true, long: 300, spacing: 25},
		"empty":    {unit: geo.Foot},
		"two":      {unit: geo.Foot, laterals: 1, two: true},
		"turned":   {unit: geo.Metre, geodetic: true, laterals: 5, holes: 2, around: true},
		"doubtful": {unit: geo.Foot, laterals: 3, long: 9, holes: 2},
		"wide":     {unit: geo.Foot, laterals: 9, long: 9, holes: 2, spacing: 7},
	} {
		l := invent(in)
		opt := MapOptions{Date: date}
		if name == "turned" {
			opt.Turn = geo.Degrees(30)
		}
		if name == "doubtful" {
			l.Fit.Doubtful = "two solutions fit as well: the field may lie north of the house or south of it."
		}
		var plan = inventPlan(l)
		if name == "two" || name == "empty" {
			plan = nil
		}
		doc, err := Map(l, plan, opt)
		require.NoError(t, err)
		f, err := os.Create(dir + "/" + name + ".pdf")
		require.NoError(t, err)
		require.NoError(t, doc.WritePDF(f))
		require.NoError(t, f.Close())
		g, err := os.Create(dir + "/" + name + ".svg")
		require.NoError(t, err)
		require.NoError(t, doc.Pages[0].WriteSVG(g))
		require.NoError(t, g.Close())
	}
}
