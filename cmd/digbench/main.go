package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"asfound/asbuilt"
	"asfound/survey"
)

// directions is the planner, with a crew that logs which way a pipe or trench runs.
const directions = "directions"

// rodded is the planner with a crew that has a probe rod too, and logs which way a pipe
// or trench runs.
const rodded = "rod"

// The columns of the table that are no players.
const (
	floor    = "all laterals known" // then the likeliest cells first
	least    = "least mean"         // of any plan
	expected = "expected"           // mean of what the planner expects before the first hole
)

var trusts = []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}

// columns are what a run may have, in the order of the table.
var columns = []string{"practice", "spiral", "swung", "greedy", "planner", directions, rodded, cabled, camera, expected, floor, least}

// options say what is played.
type options struct {
	lots    int
	first   uint64
	trusts  []asbuilt.Trust
	mixes   []mix
	players []string
	jobs    int
	worst   int
	limit   time.Duration // for each cell, 0: none
	prior   bool          // no digs: what is believed before the first hole
}

func main() {
	o, err := parse(os.Args[1:], os.Stderr)
	if err != nil {
		os.Exit(2)
	}
	start := time.Now()
	if o.prior {
		if err := priors(o, os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, "digbench:", err)
			os.Exit(1)
		}
		return
	}
	fmt.Printf("Holes to expose the box: median / mean / 90th percentile (share of lots on which it was found within %d holes, where not all).\n\n", most)
	cells := run(o, os.Stdout, os.Stderr)
	fmt.Println()
	ratios(os.Stdout, cells)
	fmt.Println()
	truths(os.Stdout, cells)
	failed := false
	for _, c := range cells {
		for _, d := range c.worst {
			fmt.Println()
			d.write(os.Stdout)
		}
		for _, err := range c.failed {
			fmt.Fprintln(os.Stderr, "digbench:", err)
			failed = true
		}
	}
	fmt.Fprintf(os.Stderr, "took %s\n", time.Since(start).Round(time.Second))
	if failed {
		os.Exit(1)
	}
}

// parse reads the command line.
func parse(args []string, stderr io.Writer) (o options, err error) {
	f := flag.NewFlagSet("digbench", flag.ContinueOnError)
	f.SetOutput(stderr)
	trust := f.String("trust", "", "drawing quality: scale, roughly, nts; several with commas; default all")
	mixed := f.String("mix", "", "readings before the first hole: tapes, fixes, ties; default all")
	players := f.String("players", "", "of "+strings.Join(columns, ", ")+"; default all")
	f.IntVar(&o.lots, "lots", 40, "lots in each cell")
	f.Uint64Var(&o.first, "first", 1, "seed of the first lot")
	f.IntVar(&o.jobs, "jobs", runtime.NumCPU(), "digs at the same time")
	f.DurationVar(&o.limit, "for", 0, "begin no lot of a cell after so long, such as 10m; 0: play them all")
	f.BoolVar(&o.prior, "prior", false, "no digs: score what is believed before the first hole")
	f.IntVar(&o.worst, "worst", 0, "print so many of the planner's longest digs in each cell")
	if err := f.Parse(args); err != nil {
		return o, err
	}
	short := map[string]asbuilt.Trust{"scale": asbuilt.ToScale, "roughly": asbuilt.Roughly, "nts": asbuilt.NotToScale}
	for _, w := range words(*trust, []string{"scale", "roughly", "nts"}) {
		o.trusts = append(o.trusts, cmp.Or(short[w], asbuilt.Trust(w)))
	}
	for _, w := range words(*mixed, []string{string(tapes), string(fixes), string(ties)}) {
		o.mixes = append(o.mixes, mix(w))
	}
	o.players = words(*players, columns)
	for _, ok := range []bool{
		!slices.ContainsFunc(o.trusts, func(t asbuilt.Trust) bool { return !slices.Contains(trusts, t) }),
		!slices.ContainsFunc(o.mixes, func(m mix) bool { return !slices.Contains(mixes, m) }),
		!slices.ContainsFunc(o.players, func(p string) bool { return !slices.Contains(columns, p) }),
		o.lots > 0 && o.jobs > 0,
	} {
		if !ok {
			f.Usage()
			return o, fmt.Errorf("wrong usage")
		}
	}
	return o, nil
}

func words(list string, all []string) []string {
	if list == "" {
		return all
	}
	return strings.Split(list, ",")
}

// run plays every cell, and writes the table as it goes.
func run(o options, w, progress io.Writer) (all []*cell) {
	head(w, o.players)
	for _, t := range o.trusts {
		for _, m := range o.mixes {
			c := &cell{trust: t, mix: m, tally: map[string]*tally{}}
			begun := time.Now()
			c.play(o, progress)
			c.row(w, o.players)
			fmt.Fprintf(progress, "%s, %s: %s\n", t, m, time.Since(begun).Round(time.Second))
			all = append(all, c)
		}
	}
	return all
}

// outcome is one lot played by everyone.
type outcome struct {
	holes    map[string]int
	minutes  map[string]float64
	found    map[string]bool
	least    float64
	expected float64
	diary    *diary
	err      error
}

// play plays the lots of a cell, some at the same time, and reports each as it
// is done.
func (c *cell) play(o options, progress io.Writer) {
	outcomes := make([]outcome, o.lots)
	var wg sync.WaitGroup
	var mu sync.Mutex
	gate := make(chan struct{}, o.jobs)
	begun, n := time.Now(), 0
	for i := range outcomes {
		gate <- struct{}{}
		if o.limit > 0 && time.Since(begun) > o.limit {
			break
		}
		n++
		wg.Go(func() {
			outcomes[i] = playLot(o.first+uint64(i), c.trust, c.mix, o.players)
			mu.Lock()
			fmt.Fprintf(progress, "%s, %s, lot %d: %s\n", c.trust, c.mix, o.first+uint64(i), outcomes[i].says(o.players))
			mu.Unlock()
			<-gate
		})
	}
	wg.Wait()
	outcomes, c.lots = outcomes[:n], n
	var diaries []*diary
	for _, out := range outcomes {
		if out.err != nil {
			c.failed = append(c.failed, out.err)
			continue
		}
		for _, p := range o.players {
			n, ok := out.holes[p]
			if !ok {
				continue
			}
			if c.tally[p] == nil {
				c.tally[p] = &tally{}
			}
			c.tally[p].add(n, out.found[p], out.minutes[p])
		}
		c.least += out.least / float64(c.lots)
		c.expected += out.expected / float64(c.lots)
		if out.diary != nil {
			c.said.add(out.diary.steps, len(out.diary.game.holes))
			diaries = append(diaries, out.diary)
		}
	}
	slices.SortStableFunc(diaries, func(a, b *diary) int { return cmp.Compare(len(b.game.holes), len(a.game.holes)) })
	c.worst = diaries[:min(o.worst, len(diaries))]
}

// says returns how many holes each player dug.
func (o outcome) says(players []string) string {
	var all []string
	for _, p := range players {
		if n, ok := o.holes[p]; ok {
			all = append(all, fmt.Sprintf("%s %d", p, n))
			if !o.found[p] {
				all[len(all)-1] += " in vain"
			}
		}
	}
	return strings.Join(all, ", ")
}

// playLot plays one lot with every player.
func playLot(seed uint64, trust asbuilt.Trust, m mix, players []string) (out outcome) {
	out.holes, out.found, out.minutes = map[string]int{}, map[string]bool{}, map[string]float64{}
	if slices.Contains(players, floor) || slices.Contains(players, least) {
		var n int
		if out.least, n, out.err = bounds(invent(seed, trust, m)); out.err != nil {
			return out
		}
		out.holes[floor], out.found[floor] = n, true
	}
	for _, p := range players {
		s := invent(seed, trust, m)
		g := newGame(s)
		switch p {
		case "practice":
			practice(s, g)
		case "spiral":
			spiral(s, g)
		case "swung":
			if m != ties {
				continue
			}
			swung(s, g)
		case "greedy", "planner", directions, rodded, cabled, camera:
			f, err := newFitted(s, g)
			if err != nil {
				out.err = err
				return out
			}
			switch p {
			case "greedy":
				f.plan = byChance
			case directions:
				f.directions = true
			case cabled, camera:
				f.directions, f.job.Settings.Pushing = true, pushes(p)
			case rodded:
				f.directions = true
				f.job.Settings.Tools = []survey.Tool{tool("rod"), tool("shovel")}
			default:
				out.diary = &diary{site: s, game: g}
				f.note = out.diary.keep
			}
			if err := f.play(); err != nil {
				out.err = err
				return out
			}
			if p == "planner" {
				out.diary.finish()
				out.expected = out.diary.expected
			}
		default:
			continue
		}
		out.holes[p], out.found[p], out.minutes[p] = len(g.holes), g.found, g.minutes
	}
	return out
}
