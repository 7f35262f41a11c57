package main

import (
	"fmt"
	"io/fs"

	"github.com/urfave/cli/v2"

	"asfound/testdata/sites"
)

// bundled is the invented site of the demo.
const bundled = "demo"

func (s *session) demo() *cli.Command {
	return &cli.Command{
		Name:      "demo",
		Usage:     "run the whole job on an invented lot",
		UsageText: "asfound demo [flags]",
		Description: `Lays an invented job out as a folder, runs check, fit, locate, digplan and
record on it, and writes everything that they write. The lot was filled after
the system was built, one tape was misread by a foot, and one hole met nothing
where the sheet shows the box. See how asfound deals with that.

  asfound demo
  asfound demo --out try --unit m
  asfound locate try/job        the same job, as your own would be`,
		Flags: []cli.Flag{unitFlag(), languageFlag(), outFlag()},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return &usageError{"demo brings its own job and takes no folder; for yours: asfound locate JOB", ""}
			}
			fsys, err := fs.Sub(sites.Folders, bundled)
			if err != nil {
				return err
			}
			job, err := read(c, fsys)
			if err != nil {
				return err
			}
			to, err := readerOf(c, job)
			if err != nil {
				return err
			}
			p := watch(s.stderr, steps)
			defer p.done()
			loc, err := locateJob(c.Context, job, p)
			if err != nil {
				return err
			}
			plan, err := planHoles(c.Context, loc, p)
			if err != nil {
				return err
			}
			p.step("drawing")
			a := &answer{format: "text", fit: loc.Fit, to: to, progress: p, files: &outbox{dir: c.String("out")}}
			w := &a.text
			fmt.Fprintf(w, "%s (invented)\n\n", heading(job))
			saySought(w, to, loc)
			fmt.Fprintln(w)
			sayHoles(w, to, loc, plan, 3)
			fmt.Fprintln(w)
			sayParts(w, to, loc)
			saySuspects(w, to, loc.Fit)
			sayDepthSuspects(w, to, loc)
			sayPlanCautions(w, to, job, plan)
			addLocation(a.files, to, loc, plan)
			addPlan(a.files, to, loc, plan)
			addRecord(c.Context, a.files, loc)
			addJob(a.files, fsys)
			return s.deliver(c, a)
		},
	}
}
