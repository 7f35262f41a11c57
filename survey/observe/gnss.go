package observe

import (
	"fmt"
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
)

// gnss is a satellite fix. Fixes of one session share most of their error.
var gnss = Kind{
	Name: survey.GNSS, One: "satellite fix", Many: "satellite fixes", Must: []string{"point", "lon", "lat"}, May: []string{"accuracy"},
	Sigmas: []survey.Default{
		{Reading: "gnss, each fix", Sigma: "0.75 of accuracy/2.4477 per axis",
			Source: "accuracy is the 95 % radius (W3C Geolocation); 2.4477 is the root of chi-square 0.95 with 2 degrees of freedom; the split is judgement"},
		{Reading: "gnss, common to a session", Sigma: "0.66 of the median accuracy/2.4477 per axis, so that both together make the whole",
			Source: "fixes of one session share most of their error; the split is judgement"},
	},
	Locates: func(r *survey.Reading) []string { return []string{r.Point} },
	Prepare: func(l *Log, r *survey.Reading) {
		l.accuracy[session(r)] = append(l.accuracy[session(r)], fixAccuracy(r))
	},
	CheckAll: checkFixes,
	Observe: func(c *Case) Observation {
		r := c.reading()
		at, ok := c.place(r.Point)
		if c.Log.Frame.Site == nil || !ok {
			return nil
		}
		own := fixOwn * fixAccuracy(r) / geo.Within95
		p := &position{source: c.source(), at: at, point: r.Point, fix: c.Log.Frame.Site.Vec(r.Position), session: c.Log.sessions[session(r)], sigma: [2]float64{own, own}}
		if r.SigmaENU[0] > 0 && r.SigmaENU[1] > 0 && r.Sigma == nil {
			p.sigma = [2]float64{fixOwn * r.SigmaENU[0], fixOwn * r.SigmaENU[1]}
		}
		return p
	},
	Hint: func(a *Asked, r *survey.Reading, h *Hint) {
		if r.Point == a.Name && a.Log.Frame.Site != nil {
			h.Fix, h.HasFix = a.Log.Frame.Site.Vec(r.Position), true
		}
	},
}

const (
	fixOwn    = 0.75 // of accuracy/geo.Within95: each fix
	fixCommon = 0.66 // of accuracy/geo.Within95: shared by a session
	usualFix  = 4.9  // metres at 95 %: a phone under open sky, GPS.gov, from memory
)

// session names the satellite session of a fix: who took it, on which day.
func session(r *survey.Reading) string {
	if r.Time.IsZero() {
		return r.By
	}
	return r.By + " " + r.Time.UTC().Format("2006-01-02")
}

// fixAccuracy returns the radius in metres that holds a fix with 95 %.
func fixAccuracy(r *survey.Reading) float64 {
	switch {
	case r.Sigma != nil && r.Sigma.Metres > 0:
		return geo.Within95 * r.Sigma.Metres
	case r.SigmaENU[0] > 0 && r.SigmaENU[1] > 0:
		return geo.Within95 * math.Sqrt((r.SigmaENU[0]*r.SigmaENU[0]+r.SigmaENU[1]*r.SigmaENU[1])/2)
	case r.Accuracy > 0:
		return r.Accuracy
	}
	return usualFix
}

// frame returns the field frame of a job, with the system of its settings.
func (l *Log) frame() survey.Frame { return l.fieldFrame().In(l.Job.Settings.EPSG) }

// fieldFrame chooses the field frame of a job: on the earth where a satellite fix or
// a georeferenced sketch ties it there, else on the landmarks. A rough position of
// the lot alone is not a tie: longitudes computed from it would be invented.
func (l *Log) fieldFrame() survey.Frame {
	s := l.Job.Sketch
	if s.Plane == asbuilt.WGS84 && s.Origin != nil {
		return survey.Frame{Kind: survey.Geodetic, Site: geodesy.NewSite(*s.Origin, 0), Notes: []finding.Finding{finding.FrameSketch.New()}}
	}
	for i := range l.Readings {
		if r := &l.Readings[i]; r.Kind == survey.GNSS {
			return survey.Frame{Kind: survey.Geodetic, Site: geodesy.NewSite(r.Position, 0), Notes: []finding.Finding{finding.FrameFix.New(finding.Readings(r.ID))}}
		}
	}
	f := survey.Frame{Kind: survey.Local, Notes: []finding.Finding{finding.FrameSheet.New()}}
	if l.North {
		f.Notes = []finding.Finding{finding.FrameTurned.New()}
	}
	return f
}

// Fixed is a drawn place whose place in the field is roughly known from a fix,
// and its weight.
type Fixed struct {
	Drawn  drawing.Drawn
	At     geo.Vec
	Weight float64
}

// Fixed returns the drawn places that a satellite fix was taken of, straight or
// through a hole that met them.
func (l *Log) Fixed(d *drawing.Drawing, e Explanation) (all []Fixed) {
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Kind != survey.GNSS {
			continue
		}
		at := l.Frame.Site.Vec(r.Position)
		p, ok := l.Lookup(d, r.Point)
		if ok && p >= 0 {
			all = append(all, Fixed{d.Nodes[p].At, at, 1})
			continue
		}
		for j := range l.Readings {
			f := &l.Readings[j]
			if f.Kind != survey.Found || f.Point != r.Point {
				continue
			}
			if v, sure, ok := l.expected(d, f, e); ok {
				w := 0.2
				if sure {
					w = 1
				}
				all = append(all, Fixed{v, at, w})
			}
		}
	}
	return all
}

// position is a satellite fix of a place.
type position struct {
	source
	at      Place
	point   string
	fix     geo.Vec    // frame, metres
	sigma   [2]float64 // east and north, metres
	session int
}

// What implements Observation.
func (p *position) What() string { return "fix " + p.point }

// Touches implements Observation.
func (p *position) Touches(to []Place) []Place { return append(to, p.at) }

// Rows implements Observation.
func (p *position) Rows(to []Row) []Row {
	return append(to, Row{Part: ", east", Value: p.fix.X, Sigma: p.sigma[0], Absolute: true},
		Row{Part: ", north", Value: p.fix.Y, Sigma: p.sigma[1], Second: true, Absolute: true})
}

// Observe implements Observation: fix = place + bias of the session. Source:
// Ghilani & Wolf, Adjustment Computations, ch. 21 (control as observations).
func (p *position) Observe(at *Placed, s *adjust.Rows) {
	v := at.Where(p.at)
	b := at.network.Session + 2*p.session
	at.Gradient(s, p.at, geo.Vec{X: 1})
	s.Add(b, 1)
	s.End(p.fix.X-v.X-at.y[b], p.sigma[0])
	at.Gradient(s, p.at, geo.Vec{Y: 1})
	s.Add(b+1, 1)
	s.End(p.fix.Y-v.Y-at.y[b+1], p.sigma[1])
}

// Blunders implements Observation: nobody wrote the figures of a fix by hand.
func (*position) Blunders(*Case) []*Blunder { return nil }

// Gross implements Observation.
func (*position) Gross() (cause finding.Finding, odds float64) {
	return finding.StrayFix.New(), 2 * oddsGross
}

// farApart is the distance in metres at which two fixes cannot be of one lot.
const farApart = 1000

// checkFixes reports fixes that lie too far from the lot: from where the settings
// or the sketch have it, else from the first fix without another problem.
func checkFixes(c *checker) {
	var site *geodesy.Site
	from := ""
	switch {
	case c.job.Settings.Site != nil:
		site, from = geodesy.NewSite(c.job.Settings.Site.Position, 0), "the site in job.json"
	case c.job.Sketch.Origin != nil:
		site, from = geodesy.NewSite(*c.job.Sketch.Origin, 0), "the sketch"
	}
	withdrawn := map[string]bool{}
	for i, r := range c.job.Readings {
		if r.Kind == survey.Void && !c.wrong[i] {
			withdrawn[r.Target] = true
		}
	}
	for i := range c.job.Readings {
		r := &c.job.Readings[i]
		if r.Kind != survey.GNSS || withdrawn[r.ID] {
			continue
		}
		if site == nil {
			if !c.wrong[i] {
				site, from = geodesy.NewSite(r.Position, 0), fmt.Sprintf("the fix of %s (%s)", r.Point, r.ID)
			}
			continue
		}
		reach := float64(farApart)
		if c.job.Settings.Site != nil {
			reach += c.job.Settings.Site.Accuracy
		}
		if d := site.Vec(r.Position).Norm(); !(d <= reach) {
			c.add(i, "lon, lat", fmt.Sprintf("%.6f, %.6f, %.1f km from %s", r.Position.Lon.Degrees(), r.Position.Lat.Degrees(), d/1000, from),
				finding.WantOnLot.New())
		}
	}
}
