package main

import (
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"asfound/web/logbook"
)

func (s *session) salvage() *cli.Command {
	return &cli.Command{
		Name:      "salvage",
		Usage:     "save what can be read of a damaged store to a new one",
		UsageText: "asfound salvage [flags]",
		Description: `Saves every entry and file that can be read of the store --data to the new store
--out, and lists what is missing. Stop serve first, and keep the damaged store:
it is left as it is. Then start serve with the new store as --data. The lead gets
a new link; every phone has to join again, and then sends by itself what the
store lacks and the phone still has. So keep all phones, and let no browser clear
its data.

  asfound salvage --data asfound.db --out salvaged.db`,
		Flags: []cli.Flag{dataFlag(), &cli.StringFlag{Name: "out", Usage: "file of the new store; it must not exist yet"}},
		Action: func(c *cli.Context) error {
			out := c.String("out")
			switch {
			case c.NArg() > 0:
				return &usageError{"salvage takes no folder: asfound salvage --data FILE --out NEW", ""}
			case out == "":
				return &usageError{"salvage needs --out, the file of the new store", ""}
			}
			saved, err := logbook.Salvage(c.Context, c.String("data"), out)
			if err != nil {
				return err
			}
			listSaved(s.stdout, out, saved)
			if !saved.Whole() {
				return doubt("the new store may not have everything: see the list")
			}
			return nil
		},
	}
}

// listSaved says what was saved, and what was not.
func listSaved(w io.Writer, out string, saved *logbook.Salvaged) {
	fmt.Fprintf(w, "saved to %s: %d entries, %d files, the names of %d devices\n", out, saved.Entries, saved.Files, saved.Devices)
	spans(w, "missing", saved.Missing)
	spans(w, "not vouched for", saved.Unverified)
	for _, sum := range saved.MissingFiles {
		fmt.Fprintf(w, "missing: the file with the SHA-256 %s\n", sum)
	}
	if !saved.LastKnown {
		fmt.Fprintf(w, "entries after number %d may be missing too: the store does not say how many there were\n", saved.Last)
	}
}

func spans(w io.Writer, what string, all []logbook.Span) {
	for _, m := range all {
		switch {
		case m.First < m.Last:
			fmt.Fprintf(w, "%s: entries %d to %d\n", what, m.First, m.Last)
		case m.ID == "":
			fmt.Fprintf(w, "%s: entry %d\n", what, m.First)
		default:
			fmt.Fprintf(w, "%s: entry %d, %s\n", what, m.First, m.ID)
		}
	}
}
