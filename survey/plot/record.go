package plot

import (
	"errors"
	"fmt"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/record"
)

// RecordSheet prints the corrected as-built for the permit file: the drawing
// to scale, new ties, cover, what changed against the old sketch, setbacks,
// conditions, the readings it rests on, method and accuracy, and lines for the
// signature of whoever is licensed, left blank. It is in English whatever language is
// asked for, being for the office and the county.
func RecordSheet(loc *locate.Location, rec *record.Record, opt MapOptions) (*chart.Document, error) {
	if loc == nil || loc.Job == nil || rec == nil {
		return nil, errors.New("no record to print")
	}
	opt.Heading, opt.Language = "Corrected as-built", language.English
	doc, err := Map(loc, nil, opt)
	if err != nil {
		return nil, err
	}
	s := &recordSheet{booklet: newBooklet(newSiteMap(loc, nil, opt), "Corrected as-built"), rec: rec}
	s.warn()
	s.ties()
	s.changes()
	s.landmarks()
	s.setbacks()
	s.conditions()
	s.statements()
	s.readings()
	s.signature()
	s.number(s.pages, len(doc.Pages)+1, len(doc.Pages)+len(s.pages), "Estimated positions; not a survey, not for boundaries or setbacks. "+s.m.unitWords())
	doc.Pages = append(doc.Pages, s.pages...)
	return doc, nil
}

type recordSheet struct {
	*booklet
	rec *record.Record
}

func (s *recordSheet) length(m float64) string { return geo.FormatLength(m, s.m.opt.Unit) }

// warn sets what must be known first.
func (s *recordSheet) warn() {
	if s.rec.Doubtful != nil {
		s.framed(9.5, true, s.m.says(finding.DoNotUse.New(finding.About(*s.rec.Doubtful))))
	}
	if len(s.rec.Doubts) > 0 {
		s.framed(8, false, "Before this is used: "+strings.Join(finding.Sentences(s.rec.Doubts, s.m.reader()), " · "))
	}
}

// spotWords names a spot for people.
func spotWords(sp asbuilt.Spot) string {
	switch sp {
	case asbuilt.Start:
		return "near end"
	case asbuilt.End:
		return "far end"
	}
	return string(sp)
}

// each calls row for every spot of every part.
func (s *recordSheet) each(row func(p *record.Part, spot *record.Spot)) {
	for i := range s.rec.Parts {
		p := &s.rec.Parts[i]
		for k := range p.Spots {
			row(p, &p.Spots[k])
		}
	}
}

// ties sets the new ties.
func (s *recordSheet) ties() {
	s.heading("To find it again: new ties from landmarks", 25)
	t := &chart.Table{Size: 8, Columns: s.spread(
		chart.Column{Head: "Part", Width: 22, Strong: true}, chart.Column{Head: "Spot", Width: 18}, chart.Column{Head: "State", Width: 18},
		chart.Column{Head: "within, 95 %", Width: 20, Align: chart.Right}, chart.Column{Head: "First tie", Width: 26, Align: chart.Right}, chart.Column{Head: "Second tie", Width: 26, Align: chart.Right},
		chart.Column{Head: "Check", Width: 26, Align: chart.Right}, chart.Column{Head: "It lies", Width: 46})}
	flat := false
	s.each(func(p *record.Part, spot *record.Spot) {
		row := []string{p.Part, spotWords(spot.Spot), string(spot.State), s.length(spot.Radius95), "", "", "", spot.Side.Says(s.m.reader())}
		for k, tie := range spot.Ties[:min(3, len(spot.Ties))] {
			row[4+k] = tie.From + ": " + s.length(tie.Distance)
		}
		if len(spot.Ties) > 1 && spot.Crossing.Degrees() < 30 {
			row[7] += " *"
			flat = true
		}
		t.Rows = append(t.Rows, row)
	})
	if len(t.Rows) == 0 {
		s.paragraph(8, false, "The sketch has no part of the system.")
		return
	}
	s.table(t)
	says := "Within: the radius that holds the true place with 95 %, relative to the landmarks. Seen: met in a hole. Inferred: supported by readings. Recorded: the old sketch alone says so. Tapes held level. Left and right as seen from the first landmark towards the second."
	if flat {
		says += " * The two tapes cross at less than 30°: use the third."
	}
	s.paragraph(7, false, says)
}

// changes sets cover and what changed.
func (s *recordSheet) changes() {
	t := &chart.Table{Size: 8, Columns: s.spread(
		chart.Column{Head: "Part", Width: 22, Strong: true}, chart.Column{Head: "Spot", Width: 18}, chart.Column{Head: "Cover today, 95 %", Width: 40, Align: chart.Right},
		chart.Column{Head: "to", Width: 16}, chart.Column{Head: "Cover on the old sketch", Width: 36, Align: chart.Right}, chart.Column{Head: "Lies off the old sketch by", Width: 34, Align: chart.Right}, chart.Column{Head: "towards", Width: 36})}
	s.each(func(p *record.Part, spot *record.Spot) {
		row := []string{p.Part, spotWords(spot.Spot), "not known", "", "", s.length(spot.Moved), spot.Toward}
		if c := spot.Cover; c != nil {
			row[2], row[3] = s.m.depth(*c), string(c.Feature)
		}
		if was := s.m.loc.Job.Sketch.Part(p.Part); was != nil && was.Cover != nil {
			row[4] = geo.FormatDepth(was.Cover.Metres, s.m.opt.Unit)
		}
		t.Rows = append(t.Rows, row)
	})
	if len(t.Rows) == 0 {
		return
	}
	s.heading("Cover, and what changed against the old sketch", 25)
	s.table(t)
	says := "The old sketch is compared as laid on the landmarks."
	if s.rec.Fill != nil {
		says += fmt.Sprintf(" By the readings, %s of ground was added since the old record.", geo.FormatDepth(*s.rec.Fill, s.m.opt.Unit))
	}
	s.paragraph(7, false, says)
}

// landmarks sets the landmarks.
func (s *recordSheet) landmarks() {
	if len(s.rec.Landmarks) == 0 {
		return
	}
	s.heading("Landmarks", 15)
	t := &chart.Table{Size: 8, Columns: s.spread(chart.Column{Head: "Landmark", Width: 24, Strong: true}, chart.Column{Head: "What it is", Width: 110}, chart.Column{Head: "within, 95 %, of the others", Width: 40, Align: chart.Right})}
	for _, l := range s.rec.Landmarks {
		t.Rows = append(t.Rows, []string{l.ID, l.Name, s.length(l.Radius95)})
	}
	s.table(t)
}

// setbacks sets how far the field lies from what codes keep it away from.
func (s *recordSheet) setbacks() {
	if len(s.rec.Setbacks) == 0 {
		return
	}
	s.heading("Distances that codes ask for (for a person to look at; local code decides)", 15)
	t := &chart.Table{Size: 8, Columns: s.spread(chart.Column{Head: "From", Width: 40, Strong: true}, chart.Column{Head: "Nearest lateral", Width: 30}, chart.Column{Head: "Distance, 95 %", Width: 44, Align: chart.Right},
		chart.Column{Head: "Many codes ask", Width: 30, Align: chart.Right}, chart.Column{Head: "Chance that it is less", Width: 40, Align: chart.Right})}
	for _, b := range s.rec.Setbacks {
		t.Rows = append(t.Rows, []string{strings.TrimSpace(string(b.Kind) + " " + b.From), b.Lateral, s.length(b.Distance) + " ± " + s.length(geo.Between95*b.Sigma), s.length(b.Usual), survey.Percent(b.Short)})
	}
	s.table(t)
}

// conditions sets what was seen.
func (s *recordSheet) conditions() {
	if len(s.rec.Conditions) == 0 {
		return
	}
	s.heading("Condition, as seen", 12)
	t := &chart.Table{Size: 8, Columns: s.spread(chart.Column{Head: "Part", Width: 24, Strong: true}, chart.Column{Head: "Note", Width: 110}, chart.Column{Head: "Day", Width: 24}, chart.Column{Head: "By", Width: 24})}
	for _, c := range s.rec.Conditions {
		t.Rows = append(t.Rows, []string{c.Part, c.Note, c.Day, c.By})
	}
	s.table(t)
}

// statements sets method, accuracy and limits.
func (s *recordSheet) statements() {
	s.heading("Method", 12)
	s.paragraph(8, false, s.rec.Method)
	s.heading("Accuracy", 12)
	s.paragraph(8, false, strings.Join(finding.Sentences(s.rec.Accuracy, s.m.reader()), " "))
	s.heading("What this is not", 12)
	s.paragraph(8, false, strings.Join(finding.Sentences(s.rec.Limits, s.m.reader()), " "))
}

// readings sets the readings that it rests on, with what the fit made of them.
func (s *recordSheet) readings() {
	t := &chart.Table{Size: 7, Columns: s.spread(chart.Column{Head: "Reading", Width: 40}, chart.Column{Head: "What", Width: 80}, chart.Column{Head: "Observed", Width: 28, Align: chart.Right},
		chart.Column{Head: "Fits best", Width: 28, Align: chart.Right}, chart.Column{Head: "w", Width: 14, Align: chart.Right})}
	for _, r := range s.m.loc.Fit.Residuals {
		show := s.length
		if r.Degrees {
			show = func(d float64) string { return fmt.Sprintf("%.1f°", d) }
		}
		t.Rows = append(t.Rows, []string{r.Reading, r.What, show(r.Observed), show(r.Fitted), fmt.Sprintf("%.1f", r.Standardized)})
	}
	if len(t.Rows) == 0 {
		return
	}
	s.heading("Readings used", 15)
	s.table(t)
	if len(s.rec.Settled) > 0 {
		s.paragraph(7, false, "Which trench a hole met follows from the readings: "+strings.Join(finding.Sentences(s.rec.Settled, s.m.reader()), ", ")+".")
	}
	s.paragraph(7, false, "Depths and levels are not in this list; they are in the log. w: residual over its own standard deviation; beyond 3.3 the reading is suspected.")
}

// signature sets lines to sign on.
func (s *recordSheet) signature() {
	s.need(38)
	s.y += 4
	half := s.area.W/2 - 4
	for i, who := range []string{"Measured by", "Reviewed by (licensed surveyor or designer)"} {
		x := s.area.X + float64(i)*(half+8)
		for k, label := range []string{who, "Licence no., if any", "Date"} {
			y := s.y + 9 + 10*float64(k)
			s.page.Line(chart.Style{Stroke: chart.Black, Width: 0.25}, vec(x, y), vec(x+half, y))
			s.page.Text(chart.Text{Size: 7, Color: chart.Grey}, vec(x, y+3), label)
		}
	}
	s.y += 36
}
