package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"asfound/web/logbook"
)

func (s *session) backup() *cli.Command {
	return &cli.Command{
		Name:      "backup",
		Usage:     "copy the store of serve while it serves",
		UsageText: "asfound backup [flags]",
		Description: `Writes a whole and consistent copy of the store --data to the new file --out,
even while asfound serve is using it. A copy made by hand may miss the latest
entries. To go back to a copy, stop serve and start it with the copy as --data.

  asfound backup --data asfound.db --out 2026-05-04.db`,
		Flags: []cli.Flag{dataFlag(), &cli.StringFlag{Name: "out", Usage: "file that the copy is written to; it must not exist yet"}},
		Action: func(c *cli.Context) error {
			out := c.String("out")
			switch {
			case c.NArg() > 0:
				return &usageError{"backup takes no folder: asfound backup --data FILE --out COPY", ""}
			case out == "":
				return &usageError{"backup needs --out, the file that the copy is written to", ""}
			}
			store, err := logbook.OpenToRead(c.String("data"))
			if err != nil {
				return err
			}
			defer store.Close()
			if err := store.Backup(c.Context, out); err != nil {
				return err
			}
			fmt.Fprintf(s.stdout, "copied to %s\n", out)
			return nil
		},
	}
}
