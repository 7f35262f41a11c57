package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	"github.com/urfave/cli/v2"

	"asfound/survey"
	"asfound/survey/fieldbook"
	"asfound/survey/folder"
	"asfound/survey/learn"
)

// draftingName is the file that learn writes.
const draftingName = "drafting.json"

func (s *session) learn() *cli.Command {
	return &cli.Command{
		Name:      "learn",
		Usage:     "learn from finished jobs how far such sheets err",
		UsageText: "asfound learn [flags] FOLDER ...",
		Description: `Each FOLDER is a finished job, or a folder of such jobs. Says how far their
sheets were off, against what is usual, for each trust, and within it for each
drafter ("by" of the sketch) and decade ("drawn") with three jobs or more; and
writes it to the file drafting.json in the folder --out. A new job uses it where that
file lies in its folder and job.json says {"drafting": "drafting.json"}; every
answer then says so. What does not make the jobs' own readings likelier, each
judged by what the others say, is not used.

Give it all jobs, also those on which the box was not found: the ones that went
well say only how good good sheets are.

  asfound learn jobs/2026
  asfound learn jobs/2025 jobs/2026 --out lot7`,
		Flags: []cli.Flag{formatFlag("text", "json"), outFlag()},
		Action: func(c *cli.Context) error {
			format, err := formatOf(c, "text", "json")
			if err != nil {
				return err
			}
			if c.NArg() == 0 {
				return &usageError{"learn needs folders of finished jobs: asfound learn FOLDER ...", ""}
			}
			names, err := jobsIn(c.Args().Slice())
			if err != nil {
				return err
			}
			p := watch(s.stderr, len(names))
			cases, left := casesOf(c.Context, names, p)
			p.done()
			if err := c.Context.Err(); err != nil {
				return err
			}
			for _, l := range left {
				fmt.Fprintln(s.stderr, "asfound: left out:", l)
			}
			drafting, err := learn.Drafting(c.Context, cases)
			if err != nil {
				return err
			}
			a := &answer{format: format, progress: p}
			if writes(c, format) {
				a.files = &outbox{dir: c.String("out")}
				a.files.add(draftingName, func(w io.Writer) error { return fieldbook.EncodeDrafting(w, drafting) })
			}
			if len(drafting.Groups) == 0 {
				return fmt.Errorf("%s with a sheet of one trust: three are needed to learn from, nothing was written", count(len(cases), "job", "jobs"))
			}
			if format == "json" {
				err = fieldbook.EncodeDrafting(&a.text, drafting)
			} else {
				sayDrafting(&a.text, drafting, len(cases))
			}
			return errors.Join(err, s.deliver(c, a))
		},
	}
}

// jobsIn returns the job folders among folders and directly within them.
func jobsIn(folders []string) (names []string, err error) {
	isJob := func(dir string) bool {
		_, err := os.Stat(filepath.Join(dir, folder.Sketch))
		return err == nil
	}
	for _, dir := range folders {
		if isJob(dir) {
			names = append(names, dir)
			continue
		}
		entries, err := os.ReadDir(dir)
		if err != nil {
			return nil, err
		}
		some := false
		for _, e := range entries {
			if sub := filepath.Join(dir, e.Name()); e.IsDir() && isJob(sub) {
				names, some = append(names, sub), true
			}
		}
		if !some {
			return nil, fmt.Errorf("no job in %s: a job is a folder with %s in it", dir, folder.Sketch)
		}
	}
	return names, nil
}

// casesOf fits each job, several at the same time. left says which were left out,
// and why.
func casesOf(ctx context.Context, names []string, p *progress) (cases []*learn.Case, left []string) {
	all, why := make([]*learn.Case, len(names)), make([]error, len(names))
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.NumCPU(), len(names)) {
		wait.Go(func() {
			for i := range next {
				all[i], why[i] = caseOf(ctx, names[i])
			}
		})
	}
	for i, name := range names {
		if ctx.Err() != nil {
			break
		}
		p.step("fitting " + name)
		next <- i
	}
	close(next)
	wait.Wait()
	for i, name := range names {
		switch {
		case all[i] != nil:
			cases = append(cases, all[i])
		case why[i] != nil:
			left = append(left, fmt.Sprintf("%s: %s", name, strings.ReplaceAll(why[i].Error(), "\n", "; ")))
		}
	}
	return cases, left
}

// caseOf reads a job and fits it under every factor.
func caseOf(ctx context.Context, name string) (*learn.Case, error) {
	job, problems := folder.Read(os.DirFS(name))
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return learn.NewCase(ctx, job)
}

// sayDrafting prints what was learned.
func sayDrafting(w io.Writer, d *survey.Drafting, jobs int) {
	fmt.Fprintf(w, "Learned from %s.\n\n", count(jobs, "job", "jobs"))
	rows := [][]string{{"sheets", "jobs", "scale", "field", "detail", "gain", ""}}
	for _, g := range d.Groups {
		name := string(g.Trust)
		switch {
		case g.By != "":
			name += ", by " + g.By
		case g.Decade != "":
			name += ", " + g.Decade
		}
		used := ""
		if g.Gain <= 0 {
			used = "not used"
		}
		rows = append(rows, []string{name, fmt.Sprint(g.Jobs), fmt.Sprintf("%.2f", g.Scale), fmt.Sprintf("%.2f", g.Field), fmt.Sprintf("%.2f", g.Detail), fmt.Sprintf("%+.1f", g.Gain), used})
	}
	table(w, rows)
	fmt.Fprintf(w, `
scale, field, detail: how many times as far off as usual the sheet's scale, the
  field as one, and everything else that is drawn
gain: how much likelier the readings of each job are by what the others say,
  as a logarithm, summed, less its standard error; a group without gain is not used

To use it, put %s into a job's folder and say so in its job.json:
  {"drafting": "%s"}
`, draftingName, draftingName)
}
