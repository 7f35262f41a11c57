package plot

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/geodesy"
	"asfound/geo/language"
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
	all := strings.Join(finding.Sentences(open, m.reader()), " · ")
	switch {
	case f.Doubtful != nil && m.booklet:
		return m.says(finding.DoNotDigPlan.New(finding.About(*f.Doubtful)))
	case f.Doubtful != nil:
		return m.says(finding.DoNotDigMap.New(finding.About(*f.Doubtful)))
	case len(open) > 0 && m.booklet:
		return m.says(finding.PaperBeforePlan.New(finding.Word("all", all)))
	case len(open) > 0:
		return m.says(finding.PaperBeforeMap.New(finding.Word("all", all)))
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
	row := func(what finding.Code, says string) {
		if says != "" {
			t.Rows = append(t.Rows, []string{m.word(what), says})
		}
	}
	row(finding.PaperRowJob, m.title())
	row(finding.PaperRowPermit, m.permit())
	row(finding.PaperRowDate, m.day())
	unit := finding.PaperUnitFeet
	if m.opt.Unit == geo.Metre {
		unit = finding.PaperUnitMetres
	}
	row(finding.PaperRowUnit, m.word(unit))
	row(finding.PaperRowScale, m.says(finding.PaperPrinted.New(finding.Word("scale", m.scaleText(scale)))))
	row(finding.PaperRowFrame, m.frameText())
	row(finding.PaperRowRests, m.evidence())
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
	notes := m.loc.Frame.Notes
	switch {
	case m.loc.Frame.Kind == survey.Geodetic:
		notes = append([]finding.Finding{finding.PaperOnEarth.New()}, notes...)
	case len(notes) == 0:
		notes = []finding.Finding{finding.PaperOnLandmarks.New()}
	}
	frame := finding.Word("frame", strings.Join(finding.Sentences(notes, m.reader()), "; "))
	c, ok := m.crs()
	if !ok {
		return m.says(finding.PaperFrameOrigin.New(frame))
	}
	_, convergence := c.Grid(m.loc.Frame.Site.Origin)
	off := convergence.Signed().Degrees()
	unit, turned := finding.Word("unit", m.word(unitNames[c.Unit])), finding.Number("off", math.Abs(off))
	if off < 0 {
		return m.says(finding.PaperGridWest.New(frame, unit, turned))
	}
	return m.says(finding.PaperGridEast.New(frame, unit, turned))
}

// unitNames are the units of coordinate systems in full.
var unitNames = map[geo.Unit]finding.Code{geo.Metre: finding.PaperUnitMetres, geo.Foot: finding.PaperUnitInternationalFeet, geo.SurveyFoot: finding.PaperUnitSurveyFeet}

// scaleText returns a scale as it is written: 1 in = 20 ft (1:240), or 1:200.
func (m *siteMap) scaleText(s chart.Scale) string {
	ratio := finding.Number("ratio", float64(s))
	if feet, ok := s.InchIs(); ok && m.opt.Unit == geo.Foot {
		return m.says(finding.PaperScaleFeet.New(finding.Number("feet", float64(feet)), ratio))
	}
	return m.says(finding.PaperScale.New(ratio))
}

// barUnit names the unit of the scale bar.
func (m *siteMap) barUnit() string {
	if m.opt.Unit == geo.Foot {
		return m.word(finding.PaperBarFeet)
	}
	return m.word(finding.PaperUnitMetres)
}

// upWords stand under the arrow of a sheet that does not know its north.
func (m *siteMap) upWords() []string {
	return []string{m.word(finding.PaperUpOfSheet), m.word(finding.PaperNotNorth)}
}

// day writes the date of the paper, which may have none.
func (m *siteMap) day() string {
	d := m.opt.Date
	if d.IsZero() {
		return ""
	}
	return m.says(finding.PaperDay.New(finding.Word("day", strconv.Itoa(d.Day())), finding.Word("month", d.Month().String()), finding.Word("year", strconv.Itoa(d.Year()))))
}

// titled puts what a paper is before the title of the job.
func (m *siteMap) titled(which string) string {
	return m.says(finding.PaperTitle.New(finding.Word("which", which), finding.Word("title", m.title())))
}

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
		says = append(says, m.says(finding.PaperDrawn.New(finding.Word("when", s.Drawn))))
	}
	number := func(name string, n int) finding.Argument { return finding.Number(name, float64(n)) }
	says = append(says, m.says(finding.PaperReadings.New(number("n", len(m.loc.Job.Live())))),
		m.says(finding.PaperHoles.New(number("n", len(m.loc.Holes)), number("met", met), number("empty", len(m.loc.Holes)-met))))
	if f := m.loc.Fit; f != nil {
		says = append(says, m.says(finding.PaperRedundancy.New(finding.Number("r", f.Redundancy))))
		if len(f.Suspects) > 0 {
			says = append(says, m.says(finding.PaperSuspected.New(number("n", len(f.Suspects)))))
		}
	}
	return strings.Join(says, ", ")
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

// readers returns the reader of the map, and then those of every other language.
func (m *siteMap) readers() (all []finding.Reader) {
	all = []finding.Reader{m.reader()}
	for _, l := range language.All {
		if l != cmp.Or(m.opt.Language, language.English) {
			all = append(all, finding.Reader{Unit: m.opt.Unit, Language: l})
		}
	}
	return all
}

// word returns words that have no argument.
//
//go:noinline
func (m *siteMap) word(c finding.Code) string { return m.says(c.New()) }

// percent writes a probability.
func (m *siteMap) percent(p float64) string { return finding.Percent(p, m.opt.Language) }

// says writes a finding for the reader of the map.
//
//go:noinline
func (m *siteMap) says(f finding.Finding) string { return f.Says(m.reader()) }

// off names the surroundings that lie off the sheet.
func (s *scene) off() string {
	var names []string
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		if _, ok := s.middle(o.Now); !ok && o.Kind != asbuilt.Driveway && len(o.Now) > 0 {
			names = append(names, s.m.reader().Name(string(o.Kind))+" "+o.Part)
		}
	}
	return strings.Join(names, ", ")
}
