package main

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// Whatever the depth from which a job asks for cautions and whatever its unit,
// each hole and slot of the plan and of its tree that may be dug that deep has
// the caution, and paper and terminal print its sentence with each: on the
// first page, on every card, in the list of holes and in that of steps. From 5
// ft (29 CFR 1926.652(a)(1)) it is that of protection, whatever the job asks.
func TestDeepHolesCarryTheirCaution(t *testing.T) {
	few(t, 20) // a plan with its tree takes most of a second
	shallow, deep, protected := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		loc, plan := deepPlan(t)
		entry := loc.Job.Settings.EntryDepth
		caution := func(h *probe.Proposal) (says string) {
			var want finding.Code
			switch d := max(h.StopDepth, h.Depth.Mean); {
			case d <= 0:
				want = finding.DepthUnknown
			case d >= 5*0.3048:
				want = finding.CaveIn
				protected++
			case d >= entry:
				want = finding.WayOut
				deep++
			default:
				shallow++
			}
			for _, c := range finding.With(h.Cautions, finding.DepthUnknown, finding.CaveIn, finding.WayOut) {
				if c.Code != want || says != "" {
					t.Fatalf("%s at %.2f m, entry %.2f m; want %q", c.Code, h.StopDepth, entry, want)
				}
				says = c.Says(finding.English(loc.Job.Settings.Unit))
			}
			if says == "" && want != "" {
				t.Fatalf("no caution at %.2f m, entry %.2f m", h.StopDepth, entry)
			}
			return says
		}
		holes, steps := map[string]int{}, map[string]int{}
		for i := range plan.Holes {
			holes[caution(&plan.Holes[i])]++
		}
		walk(plan.Tree, func(s *probe.Step) { steps[caution(&s.Hole)]++ })
		delete(holes, "")
		delete(steps, "")

		follow := "" // the line that is followed first has the caution of what is opened at its end
		if plan.Follow != nil {
			for _, c := range finding.With(plan.Follow.Cautions, finding.DepthUnknown, finding.CaveIn, finding.WayOut) {
				follow = c.Says(finding.English(loc.Job.Settings.Unit))
			}
		}

		onTerminal(t, "holes", holes, follow, len(plan.Holes), func(w io.Writer) { sayHoles(w, finding.English(loc.Job.Settings.Unit), loc, plan, len(plan.Holes)) })
		count := 0
		walk(plan.Tree, func(*probe.Step) { count++ })
		onTerminal(t, "steps", steps, "", count, func(w io.Writer) { sayTree(w, finding.English(loc.Job.Settings.Unit), loc, plan) })

		d, err := plot.DigPlan(loc, plan, plot.MapOptions{})
		if err != nil {
			t.Fatal(err)
		}
		paper := onPaper(t, d)
		all := map[string]int{} // once on every card, once in the notes of the table
		for says, n := range steps {
			all[says] += n
		}
		for says := range holes {
			all[says]++
		}
		all[caution(&plan.Holes[0])]++ // the first page
		all[follow]++                  // over it
		delete(all, "")
		for says, n := range all {
			if got := strings.Count(paper, says); got != n {
				t.Fatalf("paper says %d times, not %d: %s\n%s", got, n, says, paper)
			}
		}
	})
	if !testing.Short() && (shallow == 0 || deep == 0 || protected == 0) { // a few jobs need not cover all cases
		t.Fatalf("%d shallow, %d deep, %d protected: not every case was tried", shallow, deep, protected)
	}
}

// few has rapid try so many jobs, unless its flag asks for a number other than
// the default.
func few(t *testing.T, checks int) {
	f := flag.Lookup("rapid.checks")
	if f == nil || f.Value.String() != f.DefValue {
		return
	}
	if err := f.Value.Set(strconv.Itoa(checks)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Value.Set(f.DefValue) })
}

// deepPlan plans an invented job.
func deepPlan(t *rapid.T) (*locate.Location, *probe.Plan) {
	s := simulate.Invent(simulate.Order{Seed: rapid.Uint64Range(1, 400).Draw(t, "seed"), Trust: asbuilt.Roughly, Mix: simulate.Tapes, Holes: rapid.IntRange(0, 2).Draw(t, "holes")})
	set := &s.Job.Settings
	set.EntryDepth = rapid.OneOf(rapid.Float64Range(0.1, 2), rapid.Float64Range(0.1, 30), rapid.Just(1.2192)).Draw(t, "entry")
	set.Unit = rapid.SampledFrom([]geo.Unit{geo.Foot, geo.Metre}).Draw(t, "unit")
	if rapid.Bool().Draw(t, "machine") {
		machine, _ := survey.ToolNamed("excavator")
		set.Tools = []survey.Tool{machine}
	}
	if rapid.Bool().Draw(t, "deep") {
		for i := range s.Job.Sketch.Parts {
			s.Job.Sketch.Parts[i].Cover = &geo.Length{Metres: 1.5, Unit: geo.Metre}
		}
	}
	solved, err := fit.Solve(t.Context(), s.Job)
	if err != nil {
		t.Fatal(err)
	}
	solved.Doubtful = nil // a doubtful plan shows no hole
	loc, err := locate.Locate(t.Context(), s.Job, solved)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := probe.Options{Holes: 3, Levels: 3}.Plan(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 150)))
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Holes) == 0 || plan.Tree == nil {
		t.Skip("no hole is proposed")
	}
	return loc, plan
}

func walk(s *probe.Step, do func(*probe.Step)) {
	if s == nil {
		return
	}
	do(s)
	for _, b := range s.Branches {
		walk(b.Next, do)
	}
}

// onTerminal holds what is printed to have each caution once with every hole
// that has it and with the line that is followed first, or once for all of them.
func onTerminal(t *rapid.T, what string, want map[string]int, follow string, all int, write func(w io.Writer)) {
	var b bytes.Buffer
	write(&b)
	printed := strings.Join(strings.Fields(b.String()), " ")
	for says, n := range want {
		switch {
		case n == all:
			n = 1
		case says == follow:
			n++
		}
		if got := strings.Count(printed, says); got != n {
			t.Fatalf("%s: printed %d times, not %d: %s\n%s", what, got, n, says, b.String())
		}
	}
}

// onPaper returns the words of a document in the order in which they are drawn.
func onPaper(t interface{ Fatal(args ...any) }, d *chart.Document) string {
	var words []string
	for _, page := range d.Pages {
		var b bytes.Buffer
		if err := page.WriteSVG(&b); err != nil {
			t.Fatal(err)
		}
		x := xml.NewDecoder(&b)
		text := false
		for {
			token, err := x.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(fmt.Errorf("page: %w", err))
			}
			switch e := token.(type) {
			case xml.StartElement:
				text = e.Name.Local == "text" || text && e.Name.Local == "tspan"
			case xml.CharData:
				if text {
					words = append(words, strings.Fields(string(e))...)
				}
			}
		}
	}
	return strings.Join(words, " ")
}
