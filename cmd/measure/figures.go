package main

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// figure is one thing that is measured.
type figure struct {
	what    string                               // what is measured
	aim     string                               // what was aimed at, empty: nothing
	command string                               // a shell command, run in the folder of the module
	read    func(printed string) (string, error) // the figure in what the command prints
	long    bool                                 // takes more than some minutes
}

// figures are all that is measured, in the order of the table.
var figures = []figure{
	{what: "refit, 60 readings on a site of 6 laterals", aim: "1 ms", command: bench("./survey/simulate", "Refit"), read: perOperation("Refit")},
	{what: "covariances of every spot of it", command: bench("./survey/simulate", "Posterior"), read: perOperation("Posterior")},
	{what: "belief, 63 readings, 20 empty holes, 3 trenches of unknown name", aim: "20 ms", command: bench("./survey/belief", "Belief"), read: perOperation("Belief")},
	{what: "next hole, and a plan with its tree, after the belief", aim: "25 ms, 150 ms", command: bench("./survey/probe", "New"), read: perOperation("New")},
	{what: "a reading from each of 200 phones, acknowledged and synced to the disk", command: "go test ./web/logbook -run xxx -bench Phones/200 -benchtime 20000x", read: perOperation("Phones")},
	{what: "locate, whole process, bundled demo", aim: "35 ms", command: process("locate"), read: wall},
	{what: "digplan, whole process, bundled demo", aim: "250 ms", command: process("digplan"), read: wall},
	{what: "NIST StRD linear regressions, correct digits", command: "go test ./survey/adjust -count=1 -run NIST -v", read: lines(`(?m)^ +\S+: (\S+ .*digits.*)$`)},
	{what: "spots inside their 50, 80 and 95 % regions, clean jobs, sketches of another generator than the fit supposes", aim: "50, 80, 95 %",
		command: "go run ./cmd/coverage -sites 20 -part clean -json", read: coverage("clean"), long: true},
	{what: "the same with trenches of unknown name, empty holes, a blunder, all of them", aim: "50, 80, 95 %",
		command: "go run ./cmd/coverage -sites 4 -part mess -json", read: coverage("mess"), long: true},
	{what: "holes to expose the box: median / mean / 90th percentile (share of lots where it was found, where not all)",
		command: "go run ./cmd/digbench -players spiral,planner,directions,expected 2>/dev/null", read: table, long: true},
}

// bench returns the command that runs one benchmark five times.
func bench(folder, name string) string {
	return fmt.Sprintf("go test %s -run xxx -bench '^Benchmark%s$' -count 5", folder, name)
}

// process returns a command that times ten runs of a command of asfound, built
// as it is released.
func process(name string) string {
	return `d=$(mktemp -d) && go build -trimpath -o $d/asfound ./cmd/asfound && time -p (for i in 1 2 3 4 5 6 7 8 9 10; do $d/asfound ` +
		name + ` --format json testdata/sites/demo >$d/answer; done); rm -r $d`
}

var (
	operation = regexp.MustCompile(`(?m)^Benchmark(\S+?)(?:-\d+)?\s+\d+\s+([0-9.]+) ns/op`)
	real      = regexp.MustCompile(`(?m)^real\s+([0-9.]+)$`)
)

// perOperation reads the shortest time of each benchmark: the time that other
// work on the machine adds is not a property of the program.
func perOperation(name string) func(string) (string, error) {
	return func(printed string) (string, error) {
		var order []string
		best := map[string]float64{}
		for _, m := range operation.FindAllStringSubmatch(printed, -1) {
			ns, err := strconv.ParseFloat(m[2], 64)
			if err != nil || !strings.HasPrefix(m[1], name) {
				continue
			}
			if _, ok := best[m[1]]; !ok {
				order, best[m[1]] = append(order, m[1]), math.Inf(1)
			}
			best[m[1]] = min(best[m[1]], ns)
		}
		var all []string
		for _, n := range order {
			label := strings.Trim(strings.TrimPrefix(n, name), "/")
			all = append(all, strings.TrimSpace(label+" "+duration(best[n])))
		}
		if len(all) == 0 {
			return "", fmt.Errorf("no benchmark %s in what was printed", name)
		}
		return strings.Join(all, ", "), nil
	}
}

// duration writes nanoseconds with two or three digits.
func duration(ns float64) string {
	switch {
	case ns < 1e4:
		return fmt.Sprintf("%.2g µs", ns/1e3)
	case ns < 1e6:
		return fmt.Sprintf("%.0f µs", ns/1e3)
	case ns < 1e7:
		return fmt.Sprintf("%.1f ms", ns/1e6)
	case ns < 1e9:
		return fmt.Sprintf("%.0f ms", ns/1e6)
	}
	return fmt.Sprintf("%.1f s", ns/1e9)
}

// wall reads the time of ten runs.
func wall(printed string) (string, error) {
	m := real.FindStringSubmatch(printed)
	if m == nil {
		return "", fmt.Errorf("no time in what was printed")
	}
	s, err := strconv.ParseFloat(m[1], 64)
	return duration(s / 10 * 1e9), err
}

// lines reads the parts of lines that a pattern finds.
func lines(pattern string) func(string) (string, error) {
	p := regexp.MustCompile(pattern)
	return func(printed string) (string, error) {
		var all []string
		for _, m := range p.FindAllStringSubmatch(printed, -1) {
			all = append(all, strings.TrimSpace(m[1]))
		}
		if len(all) == 0 {
			return "", fmt.Errorf("nothing like %s in what was printed", pattern)
		}
		return strings.Join(all, ", "), nil
	}
}

// coverage reads the report of cmd/coverage: the mean over the cells of each
// level, and the lowest cell of the highest.
func coverage(part string) func(string) (string, error) {
	return func(printed string) (string, error) {
		var report map[string]json.RawMessage
		var cells []struct {
			Trust, Mix, Mess string
			Holes            int
			Spots            [3]struct{ Rate, Error float64 }
		}
		if err := json.Unmarshal([]byte(printed[max(0, strings.Index(printed, "{")):]), &report); err != nil {
			return "", err
		}
		if err := json.Unmarshal(report[part], &cells); err != nil || len(cells) == 0 {
			return "", fmt.Errorf("no part %s in the report: %w", part, err)
		}
		var mean [3]float64
		lowest := cells[0]
		for _, c := range cells {
			for i := range mean {
				mean[i] += 100 * c.Spots[i].Rate / float64(len(cells))
			}
			if c.Spots[2].Rate < lowest.Spots[2].Rate {
				lowest = c
			}
		}
		return fmt.Sprintf("%.1f, %.1f and %.1f %% over %d cells; the lowest cell of the last %.1f ± %.1f %% (%s)", mean[0], mean[1], mean[2], len(cells),
			100*lowest.Spots[2].Rate, 100*lowest.Spots[2].Error, strings.Join(strings.Fields(fmt.Sprint(lowest.Trust, " ", lowest.Mix, " ", lowest.Mess, " ", lowest.Holes, " holes")), " ")), nil
	}
}

// table reads a Markdown table.
func table(printed string) (string, error) {
	var rows []string
	for line := range strings.Lines(printed) {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "|") {
			rows = append(rows, line)
		} else if len(rows) > 0 {
			break
		}
	}
	if len(rows) < 3 {
		return "", fmt.Errorf("no table in what was printed")
	}
	return strings.Join(rows, "\n"), nil
}
