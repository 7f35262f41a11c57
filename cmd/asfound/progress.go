package main

import (
	"io"
	"os"
	"sync"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// patience is how long work may take before progress is shown.
const patience = 700 * time.Millisecond

// progress shows how far long work has come: on a terminal, and only where it
// takes longer than patience. Nothing of it stays on the screen, and nothing
// is ever written into a pipe or a file. A nil progress shows nothing.
type progress struct {
	timer *time.Timer
	total int64

	mu   sync.Mutex
	at   int64
	what string
	all  *mpb.Progress // nil until patience is over
	bar  *mpb.Bar
	over bool
}

// watch begins to show progress over a number of steps.
func watch(w io.Writer, steps int) *progress {
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	p := &progress{total: int64(steps)}
	p.timer = time.AfterFunc(patience, func() { p.show(f) })
	return p
}

// show puts the bar on the terminal; mpb shows nothing where f is none.
func (p *progress) show(f *os.File) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.over {
		return
	}
	p.all = mpb.New(mpb.WithOutput(f), mpb.WithWidth(30))
	p.bar = p.all.AddBar(whole*p.total, mpb.AppendDecorators(decor.Any(func(decor.Statistics) string {
		p.mu.Lock()
		defer p.mu.Unlock()
		return " " + p.what
	})))
	p.bar.SetCurrent(whole * p.at)
}

// step says that a step begins: those before it are done.
func (p *progress) step(what string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	bar := p.bar
	if p.what != "" {
		p.at++
	}
	p.what = what
	at := p.at
	p.mu.Unlock()
	if bar != nil { // not under the lock: mpb may be asking for what
		bar.SetCurrent(whole * at)
	}
}

// whole is what a step counts on the bar.
const whole = 1000

// share says how much of the step at hand is done, 0 to 1.
func (p *progress) share(of float64) {
	if p == nil {
		return
	}
	p.mu.Lock()
	bar, at := p.bar, p.at
	p.mu.Unlock()
	if bar != nil {
		bar.SetCurrent(whole*at + int64(whole*max(0, min(1, of))))
	}
}

// done takes the bar from the terminal. It may be called again.
func (p *progress) done() {
	if p == nil {
		return
	}
	p.timer.Stop()
	p.mu.Lock()
	p.over = true
	all, bar := p.all, p.bar
	p.all, p.bar = nil, nil
	p.mu.Unlock()
	if bar != nil {
		bar.Abort(true)
		all.Wait()
	}
}
