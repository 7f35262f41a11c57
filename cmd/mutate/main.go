package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// settings say what is tried and how.
type settings struct {
	n       int
	seed    uint64
	tests   string // which tests are run, as go test -run has it
	short   bool
	slower  float64 // times their usual processor time that tests may take
	list    bool
	verbose bool
}

func run(args []string, out io.Writer) error {
	set := flag.NewFlagSet("mutate", flag.ContinueOnError)
	var s settings
	set.IntVar(&s.n, "n", 20, "changes tried in each argument; 0: all")
	set.Uint64Var(&s.seed, "seed", 1, "which ones")
	set.StringVar(&s.tests, "run", "", "run only the tests whose names match")
	set.BoolVar(&s.short, "short", true, "tell the tests to be short")
	set.Float64Var(&s.slower, "slower", 4, "times their usual processor time that tests may take, 5 s at least")
	set.BoolVar(&s.list, "list", false, "only list the changes that would be tried")
	set.BoolVar(&s.verbose, "v", false, "print what is killed too")
	if err := set.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil
		}
		return err
	}
	if set.NArg() == 0 {
		return errors.New("name the folder of a package, or one file of it")
	}
	scratch, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	var killed, tried int
	for _, arg := range set.Args() {
		k, n, err := s.try(arg, scratch, out)
		if err != nil {
			return fmt.Errorf("%s: %w", arg, err)
		}
		killed, tried = killed+k, tried+n
	}
	if !s.list {
		fmt.Fprintf(out, "together: %s\n", share(killed, tried))
	}
	return nil
}

// try tries the changes of one argument and returns how many were noticed, of
// how many that compiled.
func (s settings) try(arg, scratch string, out io.Writer) (killed, tried int, err error) {
	name, err := filepath.Abs(arg)
	if err != nil {
		return 0, 0, err
	}
	folder := name
	var files []string
	if strings.HasSuffix(name, ".go") {
		folder, files = filepath.Dir(name), []string{name}
	} else if files, err = sources(folder); err != nil {
		return 0, 0, err
	}
	all, err := mutants(files)
	if err != nil {
		return 0, 0, err
	}
	all = choose(all, s.n, s.seed)
	b := bench{settings: s, folder: folder, scratch: scratch}
	if !s.list {
		if err := b.usual(); err != nil {
			return 0, 0, err
		}
	}
	for _, m := range all {
		place := fmt.Sprintf("%s:%d:%d: %s", filepath.Join(trim(arg), filepath.Base(m.file)), m.line, m.column, m.what)
		if s.list {
			fmt.Fprintln(out, place)
			continue
		}
		verdict, err := b.judge(m)
		if err != nil {
			return killed, tried, err
		}
		switch verdict {
		case noticed:
			killed, tried = killed+1, tried+1
		case survived:
			tried++
		}
		if verdict == survived || s.verbose {
			fmt.Fprintln(out, verdict, place)
		}
	}
	if !s.list {
		fmt.Fprintf(out, "%s: %s, tests take %v\n", arg, share(killed, tried), b.time.Round(10*time.Millisecond))
	}
	return killed, tried, nil
}

// trim returns the folder of an argument.
func trim(arg string) string {
	if strings.HasSuffix(arg, ".go") {
		return filepath.Dir(arg)
	}
	return arg
}

func share(killed, tried int) string {
	if tried == 0 {
		return "nothing to change"
	}
	return fmt.Sprintf("%d of %d noticed (%.0f %%)", killed, tried, 100*float64(killed)/float64(tried))
}

// sources returns the Go files of a package that tests can reach.
func sources(folder string) (files []string, err error) {
	all, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	for _, f := range all {
		if !strings.HasSuffix(f, "_test.go") && !strings.HasSuffix(f, "_wasm.go") {
			files = append(files, f)
		}
	}
	if len(files) == 0 {
		return nil, errors.New("no Go files there")
	}
	return files, nil
}
