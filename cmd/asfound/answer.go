package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"asfound/survey/finding"
	"asfound/survey/fit"
)

// answer is what a command prints and writes.
type answer struct {
	format string       // of text
	text   bytes.Buffer // for stdout
	files  *outbox      // nil: writes no files
	fit    *fit.Fit     // what it rests on; nil: nothing to doubt
	to     finding.Reader

	progress *progress // to be cleared from the terminal before anything is printed
}

// deliver writes the files, then the text. Files are named under the text
// where that is for people, and on stderr where it is for machines.
func (s *session) deliver(c *cli.Context, a *answer) error {
	a.progress.done()
	if err := c.Context.Err(); err != nil {
		return err
	}
	if a.files != nil {
		if err := a.files.send(); err != nil {
			return err
		}
		if a.format == "text" {
			fmt.Fprintf(&a.text, "\n%s\n", a.files.names())
		} else {
			fmt.Fprintln(s.stderr, a.files.names())
		}
	}
	if _, err := s.stdout.Write(a.text.Bytes()); err != nil {
		return fmt.Errorf("the answer could not be printed: %w", err)
	}
	if a.fit != nil && a.fit.Doubtful != nil {
		return doubt(a.fit.Doubtful.Says(a.to))
	}
	return nil
}

// table writes rows in columns, the first row being the head.
func table(w io.Writer, rows [][]string) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(t, strings.TrimRight(strings.Join(r, "\t"), "\t"))
	}
	t.Flush() // to a buffer: cannot fail
}

// list writes sentences, each behind a dash and folded to a terminal's width.
func list(w io.Writer, sentences []string) {
	for _, s := range sentences {
		fmt.Fprintln(w, fold("- "+s, 78, "  "))
	}
}

// fold breaks a sentence at spaces so that no line is longer than width runes
// where that is possible; lines after the first begin with indent.
func fold(s string, width int, indent string) string {
	var b strings.Builder
	line := 0
	for i, word := range words(s) {
		n := len([]rune(word))
		switch {
		case i == 0:
		case line+1+n > width:
			b.WriteString("\n" + indent)
			line = len(indent)
		default:
			b.WriteByte(' ')
			line++
		}
		b.WriteString(word)
		line += n
	}
	return b.String()
}

// words returns the words of a text, with those that form one figure kept
// together: 8 %, 43' 11".
func words(s string) (all []string) {
	for word := range strings.FieldsSeq(s) {
		if n := len(all); n > 0 && (strings.HasPrefix(word, "%") || strings.HasSuffix(all[n-1], "'") && word[0] >= '0' && word[0] <= '9') {
			all[n-1] += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}
