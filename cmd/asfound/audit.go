package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"asfound/web/logbook"
)

func (s *session) audit() *cli.Command {
	return &cli.Command{
		Name:      "audit",
		Usage:     "check the store of serve for damage, while it serves or not",
		UsageText: "asfound audit [flags]",
		Description: `Reads the whole store --data: its structure, and whether every entry and file
still has the content it arrived with. It changes nothing. serve does the same
every night, and checks the structure when it starts.

  asfound audit --data asfound.db`,
		Flags: []cli.Flag{dataFlag()},
		Action: func(c *cli.Context) error {
			if c.NArg() > 0 {
				return &usageError{"audit takes no folder: asfound audit --data FILE", ""}
			}
			store, err := logbook.OpenToRead(c.String("data"))
			if err != nil {
				return err
			}
			defer store.Close()
			if err := store.Check(c.Context); err != nil {
				return fmt.Errorf("%s: %w", c.String("data"), err)
			}
			state, err := store.State(c.Context)
			if err != nil {
				return err
			}
			fmt.Fprintf(s.stdout, "%s is sound; the last entry is number %d\n", c.String("data"), state.Last)
			return nil
		},
	}
}
