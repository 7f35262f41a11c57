package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// folder has the table, and the data that it was made from.
const folder = "testdata/measured"

// measured is one figure as it was measured.
type measured struct {
	Figure  string `json:"figure"`
	Day     string `json:"day"`     // on which it was measured
	Machine string `json:"machine"` // on which
}

func main() {
	long := flag.Bool("long", false, "also what takes more than some minutes")
	word := flag.String("run", "", "only what has this text in it, the long ones too")
	list := flag.Bool("list", false, "name what is measured, and by which command")
	flag.Parse()
	if err := run(*long, *word, *list); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func run(long bool, word string, list bool) error {
	known, err := read()
	if err != nil {
		return err
	}
	var failed error
	for _, f := range figures {
		wanted := !f.long || long
		if word != "" {
			wanted = strings.Contains(f.what, word)
		}
		switch {
		case list:
			fmt.Printf("%s\n    %s\n", f.what, f.command)
		case wanted:
			fmt.Fprintln(os.Stderr, f.what)
			c := exec.Command("bash", "-c", f.command)
			printed, err := c.CombinedOutput()
			text := ""
			if err == nil {
				text, err = f.read(string(printed))
			}
			if err != nil { // the others may still be measured
				failed = errors.Join(failed, fmt.Errorf("%s: %w\n%s", f.command, err, printed))
				continue
			}
			fmt.Fprintln(os.Stderr, "   ", text)
			known[f.what] = measured{text, time.Now().UTC().Format(time.DateOnly), fmt.Sprintf("%d cores, %s", runtime.NumCPU(), runtime.GOARCH)}
			if err := write(known); err != nil {
				return err
			}
		}
	}
	return failed
}

// read returns the stored figures, by the text of what was measured.
func read() (map[string]measured, error) {
	known := map[string]measured{}
	text, err := os.ReadFile(filepath.Join(folder, "figures.json"))
	if errors.Is(err, fs.ErrNotExist) {
		return known, nil
	}
	if err != nil {
		return nil, err
	}
	return known, json.Unmarshal(text, &known)
}

// write writes the table and its data, without figures that are no longer
// measured.
func write(known map[string]measured) error {
	kept := map[string]measured{}
	for _, f := range figures {
		if m, ok := known[f.what]; ok {
			kept[f.what] = m
		}
	}
	text, err := json.MarshalIndent(kept, "", "\t")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "figures.json"), append(text, '\n'), 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "README.md"), []byte(document(kept)), 0o644)
}

// document returns the table as Markdown; figures that are tables themselves
// follow it.
func document(known map[string]measured) string {
	var b, after strings.Builder
	b.WriteString("# What was measured\n\nWritten by `go run ./cmd/measure`, which runs the command of each line; nothing is typed in by hand.\n" +
		"Invented sites, fixed seeds. Times are the least of several runs.\n\n" +
		"| what | figure | aimed at | measured | command |\n|---|---|---|---|---|\n")
	for _, f := range figures {
		m, ok := known[f.what]
		if !ok {
			continue
		}
		figure := m.Figure
		if strings.HasPrefix(figure, "|") {
			figure = "below"
			fmt.Fprintf(&after, "\n%s:\n\n%s\n", strings.ToUpper(f.what[:1])+f.what[1:], m.Figure)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s, %s | `%s` |\n", f.what, figure, f.aim, m.Day, m.Machine, strings.ReplaceAll(f.command, "|", `\|`))
	}
	return b.String() + after.String()
}
