package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
)

// patience is how long work may take before progress is shown.
const patience = 700 * time.Millisecond

// progress shows the progress of long work, on a terminal, and only if it takes
// longer than patience. It leaves nothing on the screen, and never writes into
// a pipe or a file. A nil progress shows nothing.
type progress struct {
	terminal io.Writer
	timer    *time.Timer
	steps    int

	mu    sync.Mutex
	begun int     // steps begun, including the current one
	of    float64 // how much of the current step is done, 0 to 1
	what  string
	shown string // what is on the terminal now
	shows bool   // the work takes longer than patience
	over  bool
}

// watch begins to show progress over a number of steps.
func watch(w io.Writer, steps int) *progress {
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	return show(f, steps, patience)
}

// show shows progress on a terminal, after a time.
func show(terminal io.Writer, steps int, after time.Duration) *progress {
	p := &progress{terminal: terminal, steps: steps}
	p.timer = time.AfterFunc(after, func() {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.shows = !p.over
		p.draw()
	})
	return p
}

// step reports that a step begins: those before it are done.
func (p *progress) step(what string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.begun++
	p.what, p.of = what, 0
	p.draw()
}

// share reports how much of the current step is done, 0 to 1.
func (p *progress) share(of float64) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.of = max(0, min(1, of))
	p.draw()
}

// draw brings the line on the terminal up to date.
func (p *progress) draw() {
	if !p.shows {
		return
	}
	const width = 30 // of the bar
	done := (float64(max(0, p.begun-1)) + p.of) / float64(p.steps)
	n := int(width * min(1, done))
	p.put(fmt.Sprintf("[%s%s] %3.0f %% %s", strings.Repeat("=", n), strings.Repeat(" ", width-n), 100*min(1, done), p.what))
}

// put writes a line over the current one. Spaces erase the rest, since
// terminals have no common sequence for that.
func (p *progress) put(line string) {
	if line == p.shown {
		return
	}
	rest := strings.Repeat(" ", max(0, len(p.shown)-len(line)))
	fmt.Fprint(p.terminal, "\r"+line+rest+"\r") // a closed terminal shows nothing
	p.shown = line
}

// done clears the line from the terminal. It may be called again.
func (p *progress) done() {
	if p == nil {
		return
	}
	p.timer.Stop()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.put("")
	p.shows, p.over = false, true
}
