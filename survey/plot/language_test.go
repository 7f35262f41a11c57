package plot

import (
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/language"
	"asfound/survey"
)

// papersIn returns map and dig plan of an invented site in a language.
func papersIn(t *testing.T, in invention, opt MapOptions, l language.Tag) []*chart.Document {
	t.Helper()
	loc := invent(in)
	plan := inventPlan(loc)
	for i := range plan.Holes { // the longest that is said of a depth
		plan.Holes[i].Part, plan.Holes[i].Depth.Feature = "box", survey.Top
	}
	opt.Date, opt.Language = date, l
	site, err := Map(loc, plan, opt)
	require.NoError(t, err)
	dig, err := DigPlan(loc, plan, opt)
	require.NoError(t, err)
	return []*chart.Document{site, dig}
}

var set = regexp.MustCompile(`<text x="([^"]+)" y="[^"]+" font-size="[^"]+" textLength="([^"]+)"[^>]*>([^<]*)</text>`)

// No text runs over the margin of its sheet, in any language, unit or size of paper.
func TestTextsStayOnTheSheet(t *testing.T) {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v
	}
	for _, l := range language.All {
		for _, s := range sites {
			for _, size := range []chart.Size{{}, chart.A4, chart.Letter, chart.Tabloid} {
				opt := s.opt
				if size != (chart.Size{}) {
					opt.Size = size
				}
				for _, d := range papersIn(t, s.invention, opt, l) {
					for _, p := range d.Pages {
						svg := svgOf(t, p)
						wide := number(regexp.MustCompile(`viewBox="0 0 (\S+) `).FindStringSubmatch(svg)[1])
						for _, m := range set.FindAllStringSubmatch(svg, -1) {
							if strings.Contains(m[0], "rotate(") { // along a tape or the grid
								continue
							}
							left, w := number(m[1]), number(m[2])
							switch {
							case strings.Contains(m[0], `"middle"`):
								left -= w / 2
							case strings.Contains(m[0], `"end"`):
								left -= w
							}
							assert.True(t, left > margin-1 && left+w < wide-margin+1, "%s %s %v: %s from %.1f to %.1f of %.1f mm", s.name, l, size, m[3], left, left+w, wide)
						}
					}
				}
			}
		}
	}
}

// A plan in Spanish as its texts, to be read in one place; and the figures of both
// languages are the same.
func TestSpanishPlan(t *testing.T) {
	for _, unit := range []geo.Unit{geo.Foot, geo.Metre} {
		in := invention{unit: unit, laterals: 4, holes: 5, around: true}
		var b strings.Builder
		figures := map[language.Tag][]string{}
		for _, l := range language.All {
			for _, d := range papersIn(t, in, MapOptions{}, l) {
				for _, s := range set.FindAllStringSubmatch(strings.Join(svgs(t, d), ""), -1) {
					if l == language.Spanish {
						b.WriteString(html.UnescapeString(s[3]) + "\n")
					}
					figures[l] = append(figures[l], regexp.MustCompile(`\d+(\.\d+)?`).FindAllString(html.UnescapeString(s[3]), -1)...)
				}
			}
			slices.Sort(figures[l])
		}
		assert.Equal(t, figures[language.English], figures[language.Spanish])
		golden := filepath.Join("testdata", "spanish-"+string(unit)+".txt")
		if *write {
			require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		assert.Equal(t, string(want), b.String())
	}
}

func svgs(t *testing.T, d *chart.Document) (all []string) {
	t.Helper()
	for _, p := range d.Pages {
		all = append(all, svgOf(t, p))
	}
	return all
}
