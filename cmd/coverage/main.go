package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"sync"

	"asfound/survey/simulate"
)

func main() {
	if err := run(os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "coverage:", err)
		os.Exit(1)
	}
}

// parts are the parts of a run, in the order printed.
var parts = []string{"clean", "mess", "blunder", "sheet"}

// study is one run.
type study struct {
	sites, workers int
	parts          []string
	progress       io.Writer
}

func run(args []string, out, progress io.Writer) error {
	set := flag.NewFlagSet("coverage", flag.ContinueOnError)
	set.SetOutput(progress)
	sites := set.Int("sites", 40, "lots in each cell")
	part := set.String("part", strings.Join(parts, ","), "parts to run, with commas between")
	workers := set.Int("workers", 1, "cells tried at once")
	asJSON := set.Bool("json", false, "write the numbers as JSON")
	if err := set.Parse(args); err != nil {
		return err
	}
	s := study{sites: *sites, workers: max(1, *workers), progress: progress, parts: strings.Split(*part, ",")}
	if *sites < 2 {
		return fmt.Errorf("-sites %d: at least 2, so that there is a standard error", *sites)
	}
	for _, p := range s.parts {
		if !slices.Contains(parts, p) {
			return fmt.Errorf("-part %q: no such part; the parts are %s", p, strings.Join(parts, ", "))
		}
	}
	if *asJSON {
		r, err := s.report()
		if err != nil {
			return err
		}
		e := json.NewEncoder(out)
		e.SetIndent("", "\t")
		return e.Encode(r)
	}
	p := &printer{w: out}
	p.say("%d lots in each cell\n", s.sites)
	for _, part := range s.parts { // each as soon as it is known, since they take long
		one := s
		one.parts = []string{part}
		r, err := one.report()
		if err != nil {
			return err
		}
		r.print(p)
	}
	return p.err
}

func (s *study) wants(part string) bool { return slices.Contains(s.parts, part) }

// report tries everything that a run asks for.
func (s *study) report() (r report, err error) {
	r.Sites = s.sites
	if s.wants("clean") {
		if r.Clean, err = s.cover("clean", simulate.Clean()); err != nil {
			return r, err
		}
	}
	if s.wants("mess") {
		if r.Mess, err = s.cover("mess", simulate.Messy()); err != nil {
			return r, err
		}
		r.odds()
	}
	if s.wants("blunder") {
		n := len(simulate.Blunders) * len(simulate.Trusts)
		r.Blunders, err = each(s, "blunder", n, func(i int) (simulate.Exposure, error) {
			b := simulate.Blunders[i/len(simulate.Trusts)]
			return simulate.Expose(b.Blunder, b.Mix, simulate.Trusts[i%len(simulate.Trusts)], s.sites)
		})
		if err != nil {
			return r, err
		}
	}
	if s.wants("sheet") {
		n := len(simulate.Wrongs) * len(simulate.Trusts)
		r.Sheets, err = each(s, "sheet", n, func(i int) (simulate.Recognition, error) {
			w := simulate.Wrongs[i/len(simulate.Trusts)]
			return simulate.Recognise(w.Wrong, w.Mix, simulate.Trusts[i%len(simulate.Trusts)], s.sites)
		})
	}
	return r, err
}

// cover tries cells.
func (s *study) cover(what string, cells []simulate.Cell) ([]row, error) {
	return each(s, what, len(cells), func(i int) (row, error) {
		t, err := cells[i].Cover(s.sites)
		return rowOf(cells[i], t), err
	})
}

// each does a job n times, as many at once as there are workers, and returns
// the results in order.
func each[T any](s *study, what string, n int, do func(i int) (T, error)) ([]T, error) {
	out, errs := make([]T, n), make([]error, n)
	next, done := 0, 0
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range s.workers {
		wg.Go(func() {
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= n {
					return
				}
				out[i], errs[i] = do(i)
				mu.Lock()
				done++
				fmt.Fprintf(s.progress, "\r%-8s %3d of %d ", what, done, n)
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	fmt.Fprintln(s.progress)
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}
