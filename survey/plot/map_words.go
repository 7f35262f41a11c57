package plot

import (
	"fmt"
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/record"
)

// warning returns what must be read before the map, or the plan that it is part
// of, is used; or nothing.
func (m *siteMap) warning() string {
	f := m.loc.Fit
	if f == nil {
		return ""
	}
	open, _ := record.Warnings(m.loc)
	switch {
	case f.Doubtful != nil && m.booklet:
		return m.says(finding.DoNotDigPlan.New(finding.About(*f.Doubtful)))
	case f.Doubtful != nil:
		return m.says(finding.DoNotDigMap.New(finding.About(*f.Doubtful)))
	case len(open) > 0 && m.booklet:
		return "Before this plan is used: " + strings.Join(finding.Sentences(open, m.reader()), " · ")
	case len(open) > 0:
		return "Before this map is used: " + strings.Join(finding.Sentences(open, m.reader()), " · ")
	}
	return ""
}

// block returns the title block as a table of the given width. Scale 0 stands
// for one that is not chosen yet.
func (m *siteMap) block(width float64, scale chart.Scale) *chart.Table {
	if scale == 0 {
		scale = 7200
	}
	t := &chart.Table{Size: 7, Columns: []chart.Column{{Width: 17, Strong: true}, {Width: width - 17}}}
	row := func(what, says string) {
		if says != "" {
			t.Rows = append(t.Rows, []string{what, says})
		}
	}
	row("Job", m.title())
	row("Permit", m.permit())
	if !m.opt.Date.IsZero() {
		row("Date", m.opt.Date.Format("2 January 2006"))
	}
	unit := "feet and inches (international foot)"
	if m.opt.Unit == geo.Metre {
		unit = "metres"
	}
	row("Unit", unit)
	row("Scale", scale.Text(m.opt.Unit)+", printed at 100 %")
	row("Frame", m.frameText())
	row("Rests on", m.evidence())
	return t
}

func (m *siteMap) permit() string {
	if p := m.loc.Job.Settings.Permit; p != "" {
		return p
	}
	if s := m.loc.Job.Sketch; s != nil {
		return s.Permit
	}
	return ""
}

// frameText says what plane the map is in.
func (m *siteMap) frameText() string {
	says := m.loc.Frame.Note
	switch {
	case m.loc.Frame.Kind == survey.Geodetic:
		says = strings.TrimSuffix("on the earth, ground distances; "+says, "; ")
	case says == "":
		says = "laid on the landmarks"
	}
	if c, ok := m.crs(); ok {
		_, convergence := c.Grid(m.loc.Frame.Site.Origin)
		side := "east"
		if convergence.Signed().Degrees() < 0 {
			side = "west"
		}
		return fmt.Sprintf("%s. The grid is in %s; its north lies %.2f° %s of true north.", says, unitNames[c.Unit], math.Abs(convergence.Signed().Degrees()), side)
	}
	return says + ". Coordinates from the frame's origin."
}

// unitNames are the units of coordinate systems in full.
var unitNames = map[geo.Unit]string{geo.Metre: "metres", geo.Foot: "international feet", geo.SurveyFoot: "US survey feet"}

// crs returns the coordinate system that the grid is drawn in, if that is not
// the frame itself. One in degrees makes no grid on a map to scale.
func (m *siteMap) crs() (*geodesy.CRS, bool) {
	c := m.loc.Frame.CRS
	return c, c != nil && m.loc.Frame.Site != nil && c.Unit != geodesy.Degree
}

// grid returns what the lines of the map's grid stand for.
func (m *siteMap) grid() chart.Coordinates {
	c, ok := m.crs()
	switch {
	case ok:
		f := m.loc.Frame
		return chart.Coordinates{Unit: c.Unit, East: "E", North: "N",
			Of: func(v geo.Vec) geo.Vec { xy, _ := f.Grid(v); return xy },
			At: func(xy geo.Vec) geo.Vec { v, _ := f.FromGrid(xy); return v }}
	case m.knowsNorth():
		return chart.Coordinates{Unit: m.opt.Unit, East: "E", North: "N"}
	}
	return chart.Coordinates{Unit: m.opt.Unit, East: "x", North: "y"}
}

// evidence says what the positions rest on.
func (m *siteMap) evidence() string {
	met := 0
	for _, h := range m.loc.Holes {
		if h.Met != "" {
			met++
		}
	}
	var says []string
	if s := m.loc.Job.Sketch; s != nil && s.Drawn != "" {
		says = append(says, "sketch drawn "+s.Drawn)
	}
	says = append(says, count(len(m.loc.Job.Live()), "reading"), fmt.Sprintf("%s (%d met, %d empty)", count(len(m.loc.Holes), "hole"), met, len(m.loc.Holes)-met))
	if f := m.loc.Fit; f != nil {
		says = append(says, fmt.Sprintf("redundancy %.0f", f.Redundancy))
		if len(f.Suspects) > 0 {
			says = append(says, count(len(f.Suspects), "reading")+" suspected")
		}
	}
	return strings.Join(says, ", ")
}

func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// notes are the cautions that every map bears, and what is not on it.
func (m *siteMap) notes() string {
	var all []finding.Finding
	if f := m.loc.Fit; m.plan == nil && f != nil && f.Doubtful != nil {
		all = append(all, finding.NoHoleShown.New())
	}
	if len(m.loc.Outlines) == 0 {
		all = append(all, finding.NothingDrawn.New())
	} else if len(m.loc.Job.Live()) == 0 {
		all = append(all, finding.SketchAlone.New())
	}
	all = append(all, finding.NotASurvey.New())
	all = append(all, finding.Without(practice.Safety(m.loc.Job.Settings.EntryDepth), finding.Collapse, finding.Disease)...)
	return strings.Join(finding.Sentences(all, m.reader()), " ")
}

// reader returns whom the map is for.
func (m *siteMap) reader() finding.Reader {
	return finding.Reader{Unit: m.opt.Unit, Language: m.opt.Language}
}

// says writes a finding for the reader of the map.
func (m *siteMap) says(f finding.Finding) string { return f.Says(m.reader()) }

// off names the surroundings that lie off the sheet.
func (s *scene) off() string {
	var names []string
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if _, ok := s.middle(o.Now); !ok && o.Kind != asbuilt.Driveway && len(o.Now) > 0 {
			names = append(names, string(o.Kind)+" "+o.Part)
		}
	}
	return strings.Join(names, ", ")
}
