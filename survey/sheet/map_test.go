package sheet

import (
	"os"
	"testing"
	"asfound/geo"
	"github.com/stretchr/testify/require"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("set LOOK to a folder to see the sheets")
	}
	for name, in := range map[string]invention{
		"feet":    {unit: geo.Foot, laterals: 4, holes: 5, around: true},
		"metre":   {unit: geo.Metre, geodetic: true, laterals: 3, holes: 4, around: true},
		"crowded": {unit: geo.Foot, geodetic: true, laterals: 12, holes: 40, around: true},
		"none":    {unit: geo.Foot, laterals: 3, around: true, sigma: 3},
		"huge":    {unit: geo.Metre, laterals: 6, holes: 3, around: true, long: 300, spacing: 25},
		"two":     {unit: geo.Foot},
	} {
		l := invent(in)
		doc, err := Map(l, inventPlan(l), MapOptions{Date: date})
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
