package plot_test

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/chart"
	"asfound/geo/language"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/record"
	"asfound/testdata/must"
	"asfound/testdata/sites"
)

// The documents of every invented job can be drawn, the same twice, and say
// what a crew and an office need.
func TestPapers(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(name, func(t *testing.T) {
			fsys, err := fs.Sub(sites.Folders, name)
			require.NoError(t, err)
			job, problems := folder.Read(fsys)
			require.NoError(t, problems.Err())
			solved, err := fit.Solve(t.Context(), job)
			require.NoError(t, err)
			loc, err := locate.Locate(t.Context(), job, solved)
			require.NoError(t, err)
			plan, err := probe.New(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 1000)))
			require.NoError(t, err)
			if name == "day-before" { // whose crew is given a rod
				plan.Rod = &probe.Rod{Seek: "box", From: plan.Holes[0].At, To: plan.Holes[0].At.Add(geo.Vec{X: 1.6}), Lines: 3, Each: 5, Step: 0.4, Depth: 0.9, Chance: 0.4, Minutes: 36,
					Cautions: []finding.Finding{finding.RodPierces.New()}}
			}
			opt := plot.MapOptions{Date: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)}
			dig, err := plot.DigPlan(loc, plan, opt)
			require.NoError(t, err)
			text := write(t, name+"-digplan.pdf", dig)
			if text != "" && solved.Doubtful == nil {
				for _, want := range []string{"Sought box", "NEXT HOLE", "STOP AT", "nothing down to there: call it empty", "each if those before it came up empty", "Met what", "811"} {
					assert.Contains(t, text, want)
				}
				if plan.Rod != nil {
					assert.Contains(t, text, plan.Rod.Finding().Says(finding.English(job.Settings.Unit)))
				}
				if plan.Follow != nil {
					assert.Contains(t, text, plan.Follow.Finding().Says(finding.English(job.Settings.Unit)))
				}
			}
			rec, err := plot.RecordSheet(loc, record.New(loc), opt)
			require.NoError(t, err)
			text = write(t, name+"-record.pdf", rec)
			if text != "" {
				for _, want := range []string{"new ties from landmarks", "against the old sketch", "What this is not", "not a survey", "Reviewed by (licensed", "Readings used"} {
					assert.Contains(t, text, want)
				}
			}
			if solved.Doubtful == nil {
				spanish(t, name, loc, plan, opt)
			}
		})
	}
}

// spanish draws map and dig plan in Spanish: in feet and in metres, on the usual
// paper of both. Their texts have no English but the names of the job and the
// caution box in the other language.
func spanish(t *testing.T, name string, loc *locate.Location, plan *probe.Plan, opt plot.MapOptions) {
	opt.Language = language.Spanish
	loc.Job.Settings.Title = "Lote inventado" // names stay as they were typed, which here is in English
	for i := range loc.Outlines {
		loc.Outlines[i].Name = ""
	}
	for i := range loc.Job.Sketch.Parts {
		loc.Job.Sketch.Parts[i].Name = ""
	}
	for _, unit := range []geo.Unit{geo.Foot, geo.Metre} {
		opt.Unit = unit
		site, err := plot.Map(loc, plan, opt)
		require.NoError(t, err)
		text := write(t, name+"-mapa-"+string(unit)+".pdf", site)
		noEnglish(t, text)
		dig, err := plot.DigPlan(loc, plan, opt)
		require.NoError(t, err)
		if text = write(t, name+"-plan-"+string(unit)+".pdf", dig); text == "" {
			continue
		}
		for _, want := range []string{"Se busca caja", "SIGUIENTE HOYO", "PARE A", "nada hasta ahí: está vacío", "si los anteriores salieron vacíos", "Qué encontró", "4 de mayo de 2026", "Antes de que alguien excave", "llame al 811"} {
			assert.Contains(t, text, want)
		}
		before, box, found := strings.Cut(text, "Before anyone digs")
		require.True(t, found)
		box, after, found := strings.Cut(box, "Libreta:")
		require.True(t, found)
		assert.Contains(t, box, "Never enter a tank")
		noEnglish(t, before+after)
	}
}

var twoWords = regexp.MustCompile(`[a-z]{2,} [a-z]{2,}`)

// noEnglish looks in a text for what the English sentences say between their
// arguments, and for the commonest words.
func noEnglish(t *testing.T, text string) {
	t.Helper()
	english, err := os.ReadFile("../finding/english.txt")
	require.NoError(t, err)
	for line := range strings.Lines(string(english)) {
		_, says, sentence := strings.Cut(strings.TrimSpace(line), ": ")
		if !sentence || strings.HasPrefix(line, "#") {
			continue
		}
		for _, piece := range regexp.MustCompile(`\{[^}]*\}`).Split(says, -1) {
			if twoWords.MatchString(piece) {
				assert.NotContains(t, text, piece)
			}
		}
	}
	assert.NotRegexp(t, `(?i)\b(the|of|and|from|with|hole|holes|slot|depth|trench|tape|tapes|meet|met|dig|digging|landmark|reading|readings)\b`, text)
}

// write writes a document twice, keeps it where PAPERS says, and returns its
// text where poppler can read it.
func write(t *testing.T, name string, d *chart.Document) string {
	t.Helper()
	var a, b bytes.Buffer
	require.NoError(t, d.WritePDF(&a))
	require.NoError(t, d.WritePDF(&b))
	require.Equal(t, a.Bytes(), b.Bytes())
	dir := os.Getenv("PAPERS")
	if dir == "" {
		dir = t.TempDir()
	}
	path := filepath.Join(dir, name)
	require.NoError(t, os.WriteFile(path, a.Bytes(), 0o644))
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		return ""
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
