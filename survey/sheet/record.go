package sheet

import (
	"errors"
	"fmt"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey/locate"
	"asfound/survey/record"
)

// RecordSheet draws the corrected as-built for the permit file: the drawing to
// scale, then new ties from permanent landmarks, cover, state and accuracy of
// each part, how far the old sketch was off, what it all rests on, and lines
// for the signature of whoever is licensed.
func RecordSheet(loc *locate.Location, rec *record.Record, opt MapOptions) (*chart.Document, error) {
	if rec == nil {
		return nil, errors.New("no record to draw")
	}
	opt.Heading = "As-built record"
	doc, err := Map(loc, nil, opt)
	if err != nil {
		return nil, err
	}
	m := newSiteMap(loc, nil, opt)
	f := newFlow(m.opt.Size, m.title(), "As-built record")
	if rec.Doubtful != "" {
		f.text(9, true, "NOT TO BE FILED AS IT STANDS: "+rec.Doubtful)
	}
	f.list(8, rec.Doubts)
	f.table("Where the parts lie: ties from landmarks, level distances", m.tieTable(rec, f.area.W))
	f.table("How deep, how sure, and how far from the old sketch", m.stateTable(rec, f.area.W))
	f.table("Landmarks", m.markTable(rec, f.area.W))
	f.table("Conditions seen", m.conditionTable(rec, f.area.W))
	f.room(30)
	f.text(9, true, "What it rests on")
	f.text(8, false, rec.Rests.Words())
	if rec.Fill != nil {
		f.text(8, false, fmt.Sprintf("Ground added since the old record, as the readings tell it: %s.", geo.FormatDepth(max(0, *rec.Fill), m.opt.Unit)))
	}
	f.text(8, false, rec.Method)
	f.list(8, rec.Accuracy)
	f.text(9, true, "What it is not")
	f.list(8, rec.Limits)
	f.room(24)
	for i, s := range []string{"Prepared by", "Licensed person", "Date"} {
		x := f.area.X + float64(i)*f.area.W/3
		f.page.Line(chart.Style{Stroke: chart.Black, Width: 0.3}, vec(x, f.y+14), vec(x+f.area.W/3-5, f.y+14))
		f.page.Text(chart.Text{Size: 8}, vec(x, f.y+17.5), s)
	}
	doc.Title = "As-built record: " + m.title()
	doc.Pages = append(doc.Pages, f.pages...)
	return doc, nil
}

// spotName names a spot of a part for a table.
func spotName(p *record.Part, s *record.Spot) string {
	if s.Spot == asbuilt.Center {
		return p.Part
	}
	return p.Part + " " + string(s.Spot)
}

func (m *siteMap) tieTable(rec *record.Record, width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: even(width, "Spot", "State", "from", "from", "check", "side", "within, 95 %")}
	for i := range rec.Parts {
		p := &rec.Parts[i]
		for k := range p.Spots {
			s := &p.Spots[k]
			row := []string{spotName(p, s), string(s.State)}
			for j := range 3 {
				cell := ""
				if j < len(s.Ties) {
					cell = s.Ties[j].From + "  " + geo.FormatLength(s.Ties[j].Distance, m.opt.Unit)
				}
				row = append(row, cell)
			}
			t.Rows = append(t.Rows, append(row, shortSide(s.Side), geo.FormatLength(s.Radius95, m.opt.Unit)))
		}
	}
	return t
}

func (m *siteMap) stateTable(rec *record.Record, width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: even(width, "Spot", "State", "Cover today", "to", "moved", "toward", "length")}
	for i := range rec.Parts {
		p := &rec.Parts[i]
		for k := range p.Spots {
			s := &p.Spots[k]
			row := []string{spotName(p, s), string(s.State), "not known", "", geo.FormatLength(s.Moved, m.opt.Unit), s.Toward, ""}
			if s.Cover != nil {
				row[2], row[3] = depthWords(*s.Cover, m.opt.Unit), string(s.Cover.Feature)
			}
			if k == 0 && p.Long > 0 {
				row[6] = geo.FormatLength(p.Long, m.opt.Unit)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

func (m *siteMap) markTable(rec *record.Record, width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: even(width, "Landmark", "what it is", "within, 95 %")}
	for _, l := range rec.Landmarks {
		t.Rows = append(t.Rows, []string{l.ID, l.Name, geo.FormatLength(l.Radius95, m.opt.Unit)})
	}
	return t
}

func (m *siteMap) conditionTable(rec *record.Record, width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: even(width, "Part", "seen", "by", "day")}
	for _, c := range rec.Conditions {
		t.Rows = append(t.Rows, []string{c.Part, c.Note, c.By, c.Day})
	}
	return t
}
