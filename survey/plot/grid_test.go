package plot

import (
	"fmt"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/geodesy"
)

// label is a number at the edge of a map: which coordinate it is of, what it
// is, and where its middle is on the page.
var label = regexp.MustCompile(`<text x="([-0-9.]+)" y="([-0-9.]+)"[^>]*>([EN]) (-?[0-9.]+)</text>`)

// The grid of a map is that of the office's system: where a number stands on
// the edge, PROJ has that coordinate. Its north is turned by the convergence
// at the origin, 79.95° W 37.27° N: by cs2cs of points 0.001° south and north of
// it, 0.880° to the west and 0.636° to the east.
func TestGridOfTheOfficesSystem(t *testing.T) {
	if _, err := exec.LookPath("cs2cs"); err != nil {
		t.Skip("cs2cs of PROJ is not installed")
	}
	for code, tt := range map[int]struct {
		from string // the geographic system of the same datum
		unit geo.Unit
		says string
	}{
		2284:  {"EPSG:4269", geo.Foot, "The grid is in US survey feet; its north lies 0.88° west of true north."}, // Virginia South
		32617: {"EPSG:4326", geo.Metre, "The grid is in metres; its north lies 0.64° east of true north."},
	} {
		t.Run(fmt.Sprint(code), func(t *testing.T) {
			l := invent(invention{unit: tt.unit, geodetic: true, laterals: 4, holes: 5, around: true})
			c, err := geodesy.ByEPSG(code)
			require.NoError(t, err)
			l.Frame.CRS = &c
			m := newSiteMap(l, nil, MapOptions{Date: date})
			assert.Contains(t, m.frameText(), tt.says)
			frame := m.layout().frame
			svg := svgOf(t, draw(t, l, nil, MapOptions{}).Pages[0])

			var in strings.Builder
			var written []float64
			var axes []int
			for _, found := range label.FindAllStringSubmatch(svg, -1) {
				x, err := strconv.ParseFloat(found[1], 64)
				require.NoError(t, err)
				y, err := strconv.ParseFloat(found[2], 64)
				require.NoError(t, err)
				at, axis := chart.Point{X: x, Y: frame.Window.Y}, 0
				if found[3] == "N" {
					at, axis = chart.Point{X: frame.Window.X, Y: y}, 1
				}
				v, err := strconv.ParseFloat(found[4], 64)
				require.NoError(t, err)
				p := l.Frame.Site.LonLat(frame.Ground(at))
				fmt.Fprintf(&in, "%.10f %.10f\n", p.Lat.Degrees(), p.Lon.Degrees())
				written, axes = append(written, v), append(axes, axis)
			}
			run := exec.Command("cs2cs", "-f", "%.5f", tt.from, fmt.Sprintf("EPSG:%d", code))
			run.Stdin = strings.NewReader(in.String())
			out, err := run.Output()
			require.NoError(t, err)
			count := [2]int{}
			i := 0
			for line := range strings.Lines(string(out)) {
				v, err := strconv.ParseFloat(strings.Fields(line)[axes[i]], 64)
				require.NoError(t, err)
				per, _ := c.Unit.Metres()
				assert.InDelta(t, v, written[i], frame.Scale.Ground(0.002)/per, "2 µm on paper")
				count[axes[i]]++
				i++
			}
			assert.Len(t, written, i)
			assert.GreaterOrEqual(t, min(count[0], count[1]), 3, "ticks along both edges")
		})
	}
}

// The lists behind a map have the coordinates of its grid.
func TestListsHaveTheGridsCoordinates(t *testing.T) {
	l := invent(invention{unit: geo.Foot, geodetic: true, laterals: 4, holes: 5})
	c, err := geodesy.ByEPSG(2284)
	require.NoError(t, err)
	l.Frame.CRS = &c
	m := newSiteMap(l, nil, MapOptions{})
	east, north := m.coordinates(geo.Vec{})
	want := c.Forward(l.Frame.Site.Origin) // held to PROJ in geodesy
	assert.Equal(t, fmt.Sprintf("%.2f", want.X), east)
	assert.Equal(t, fmt.Sprintf("%.2f", want.Y), north)
}
