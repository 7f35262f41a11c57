package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/geo/spelling"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/folder"
	"asfound/survey/observe"
)

// formatFlag returns --format; the formats are those of one command.
func formatFlag(formats ...string) cli.Flag {
	return &cli.StringFlag{Name: "format", Value: "text", Usage: "what to print: " + strings.Join(formats, ", "), Category: ""}
}

func unitFlag() cli.Flag {
	return &cli.StringFlag{Name: "unit", Usage: "unit of what is printed and drawn, ft or m; the files keep theirs", DefaultText: "the job's"}
}

func languageFlag() cli.Flag {
	return &cli.StringFlag{Name: "language", Usage: "of papers, findings and cautions, en or es", DefaultText: "en"}
}

// readerOf returns whom the findings of a job are for, by --language.
func readerOf(c *cli.Context, job *survey.Job) (to finding.Reader, err error) {
	l, err := language.Parse(c.String("language"))
	if err != nil {
		return to, &usageError{"--" + err.Error(), ""}
	}
	return finding.Reader{Unit: job.Settings.Unit, Language: l}, nil
}

func seekFlag() cli.Flag {
	return &cli.StringFlag{Name: "seek", Usage: "what is sought: a part's id or a kind", DefaultText: "the job's, else box"}
}

func outFlag() cli.Flag {
	return &cli.StringFlag{Name: "out", Value: "out", Usage: "folder that files are written to"}
}

// formatOf returns the value of --format, which must be one of formats.
func formatOf(c *cli.Context, formats ...string) (string, error) {
	f := c.String("format")
	if !slices.Contains(formats, f) {
		return "", &usageError{fmt.Sprintf("--format %q; want %s", f, spelling.OneOf(f, formats)), ""}
	}
	return f, nil
}

// open reads and checks the job that the command line names, and applies the
// flags that affect it.
func (s *session) open(c *cli.Context) (*survey.Job, error) {
	name, err := jobName(c)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(name)
	switch {
	case err != nil && os.IsNotExist(err):
		return nil, fmt.Errorf("no folder %s; a job is a folder with %s in it", name, folder.Sketch)
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, fmt.Errorf("%s is a file; a job is the folder that holds %s, here perhaps %s", name, folder.Sketch, filepath.Dir(name))
	}
	return read(c, os.DirFS(name))
}

// jobName returns the one folder that the command line must name.
func jobName(c *cli.Context) (string, error) {
	switch names := c.Args().Slice(); {
	case len(names) == 0 || names[0] == "":
		return "", &usageError{c.Command.Name + " needs the folder of a job: asfound " + c.Command.Name + " JOB", ""}
	case len(names) > 1:
		return "", &usageError{fmt.Sprintf("%s takes one folder, found %d: %s", c.Command.Name, len(names), strings.Join(names, " ")), ""}
	default:
		return names[0], nil
	}
}

// read reads the job in fsys and applies --unit and --seek.
func read(c *cli.Context, fsys fs.FS) (*survey.Job, error) {
	unit := c.String("unit")
	u, err := geo.ParseUnit(unit)
	if unit != "" && (err != nil || u != geo.Foot && u != geo.Metre) {
		return nil, &usageError{fmt.Sprintf("--unit %q; want ft or m", unit), ""}
	}
	job, problems := folder.Read(fsys)
	if err := problems.Err(); err != nil {
		return nil, refusal(problems)
	}
	if unit != "" {
		job.Settings.Unit = u
	}
	if seek := c.String("seek"); seek != "" {
		job.Settings.Seek = seek
		for _, p := range observe.Check(job) {
			if p.Field == "seek" {
				return nil, &usageError{fmt.Sprintf("--seek %q; want %s", seek, p.Want), ""}
			}
		}
	}
	return job, nil
}

// refusal is the error for a job with problems: a line each, and how many.
func refusal(ps asbuilt.Problems) error {
	n := "1 problem"
	if len(ps) > 1 {
		n = fmt.Sprintf("%d problems", len(ps))
	}
	return fmt.Errorf("%s, nothing was computed or written\n%w", n, ps)
}
