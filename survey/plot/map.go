package plot

import (
	"errors"
	"time"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// MapOptions say what a map is to look like. The zero MapOptions is a site map
// on the paper usual for the job's unit, up as the frame is.
type MapOptions struct {
	Heading  string       // zero: Site map
	Date     time.Time    // printed, and the file's own; zero: none printed
	Size     chart.Size   // upright; zero: Letter for feet, A4 for metres
	Turn     geo.Angle    // of the ground on the sheet, counter-clockwise
	Unit     geo.Unit     // zero: the job's
	Language language.Tag // zero: English
}

// Map draws the site map: everything where it is now believed to lie, how sure
// that is, the old sketch faint below it, the holes dug and, where there is a
// plan, the next hole with the tapes that set it out. Scale and way up of the
// paper are chosen so that the field and the landmarks are as large as a
// standard scale allows. The first page is the map; where labels had to be cut
// short on it, further pages list parts and holes. plan may be nil. Where the fit is
// doubtful no next hole is shown.
func Map(loc *locate.Location, plan *probe.Plan, opt MapOptions) (*chart.Document, error) {
	if loc == nil || loc.Job == nil {
		return nil, errors.New("no location to draw a map of")
	}
	m := newSiteMap(loc, plan, opt)
	layout := m.layout()
	title := m.titled(m.opt.Heading)
	page := chart.NewPage(layout.size, title)
	s := m.scene(page, layout)
	s.draw()
	m.furnish(page, layout, s)
	pages := []*chart.Page{page}
	if s.short > 0 {
		pages = append(pages, m.lists(layout.size)...)
	}
	return &chart.Document{Title: title, Date: opt.Date, Pages: pages}, nil
}

// siteMap is a map in the making.
type siteMap struct {
	loc  *locate.Location
	plan *probe.Plan
	opt  MapOptions

	booklet bool // it is part of a dig plan
}

func newSiteMap(loc *locate.Location, plan *probe.Plan, opt MapOptions) *siteMap {
	if opt.Heading == "" {
		opt.Heading = finding.PaperSiteMap.New().Says(finding.Reader{Unit: opt.Unit, Language: opt.Language})
	}
	if opt.Unit == "" {
		opt.Unit = loc.Job.Settings.Unit
	}
	if opt.Unit != geo.Metre {
		opt.Unit = geo.Foot
	}
	if opt.Size == (chart.Size{}) {
		opt.Size = chart.Letter
		if opt.Unit == geo.Metre {
			opt.Size = chart.A4
		}
	}
	if loc.Fit != nil && loc.Fit.Doubtful != nil {
		plan = nil
	}
	return &siteMap{loc: loc, plan: plan, opt: opt}
}

func (m *siteMap) title() string {
	if t := m.loc.Job.Settings.Title; t != "" {
		return t
	}
	return m.word(finding.PaperNoTitle)
}

// knowsNorth reports whether up in the frame is north.
func (m *siteMap) knowsNorth() bool {
	return m.loc.Frame.Kind == survey.Geodetic || m.loc.Fit != nil && m.loc.Fit.RotationKnown
}

func (m *siteMap) scene(p *chart.Page, l layout) *scene {
	return &scene{page: p, frame: l.frame, loc: m.loc, plan: m.plan, m: m, unit: m.opt.Unit, terse: l.terse}
}

// content returns the places that must be on the map: field, landmarks, holes
// and the next hole; where there are none, whatever the sketch has.
func (m *siteMap) content() (must []geo.Vec) {
	for i := range m.loc.Outlines {
		o := &m.loc.Outlines[i]
		if !buried(o.Kind) && o.Kind != asbuilt.Landmark {
			continue
		}
		for _, sh := range append(o.Now, o.Old...) {
			must = append(must, sh.Vertices...)
		}
	}
	for _, h := range m.loc.Holes {
		must = append(must, h.At)
	}
	for _, s := range m.loc.Spots { // in each of the places where a part may be
		for _, l := range s.Lobes {
			must = append(must, l.At)
		}
	}
	if m.plan != nil && len(m.plan.Holes) > 0 {
		must = append(must, m.plan.Holes[0].At)
	}
	if len(must) == 0 {
		for _, o := range m.loc.Outlines {
			for _, sh := range o.Now {
				must = append(must, sh.Vertices...)
			}
		}
	}
	return append(must, m.spread(must)...)
}

// spread returns the ends of ellipses and corridors, but none further off than
// half the size of what they belong to: where nothing is known yet they may be
// as large as the lot, and the map would shrink to nothing.
func (m *siteMap) spread(must []geo.Vec) (ends []geo.Vec) {
	_, w, h, ok := chart.Bounds(geo.Angle{}, must...)
	if !ok {
		return nil
	}
	most := max(w, h, 6) / 2
	add := func(at geo.Vec, r float64) {
		if r <= most {
			ends = append(ends, at.Add(geo.Vec{X: r}), at.Sub(geo.Vec{X: r}), at.Add(geo.Vec{Y: r}), at.Sub(geo.Vec{Y: r}))
		}
	}
	for _, s := range m.loc.Spots {
		if buried(s.Kind) && s.Spot != asbuilt.Start && len(s.Most) == 0 {
			add(s.At, s.FromLandmarks.SemiMajor)
		}
		for _, l := range s.Lobes {
			add(l.At, l.Radius95)
		}
	}
	for _, c := range m.loc.Corridors {
		for i := range min(len(c.Line), len(c.Half)) {
			add(c.Line[i], c.Half[i])
		}
	}
	return ends
}
