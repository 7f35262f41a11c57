package web

import (
	"cmp"
	"context"
	"slices"
	"sync"
	"time"
)

// queue gives the engine's few places to requests: the small ones first, and one to a
// device at a time.
//
// A request stands in line by when it came and how much work it is: each second of work
// puts it behind what comes in the next few. So a small one overtakes a large one, but
// only for so long, and nobody waits for ever. One place at least is never given to
// heavy work, so that a small request does not have to wait until that is done.
//
// The second request of a device waits for its first. It does not take its place, not
// even where both ask the same: a page that no longer wants an answer ends its request,
// which frees the place at once, and two pages of one device both get their answers.
type queue struct {
	places int // for all
	heavy  int // of these, for heavy work

	mu      sync.Mutex
	now     func() time.Duration // since some time
	waiting []*ticket            // in the order in which they are served
	running map[string]*ticket   // by device
	came    uint64
}

// ticket is a request in the queue.
type ticket struct {
	device string
	heavy  bool
	due    time.Duration // the lowest is served first
	number uint64        // in the order in which they came
	served chan struct{} // closed once it has a place
}

const (
	heavyWork = time.Second // from which on a request is heavy: a crew notices that it waits
	behind    = 5           // seconds that each second of work puts a request behind
)

// newQueue returns a queue for so many processors. There are two places even with one:
// the processor is then shared with heavy work, which is better than to wait for it.
func newQueue(processors int) *queue {
	start := time.Now()
	places := max(2, processors)
	return &queue{places: places, heavy: places - 1, running: map[string]*ticket{}, now: func() time.Duration { return time.Since(start) }}
}

// enter waits for a place for so much work of a device. leave must be called where the
// error is nil: it gives the place back.
func (q *queue) enter(ctx context.Context, device string, work time.Duration) (leave func(), err error) {
	q.mu.Lock()
	t := q.line(device, work)
	q.serve()
	q.mu.Unlock()
	select {
	case <-t.served:
	case <-ctx.Done():
		q.leave(t) // it may have been served in the meantime
		return nil, ctx.Err()
	}
	return func() { q.leave(t) }, nil
}

// line puts a request in line.
func (q *queue) line(device string, work time.Duration) *ticket {
	q.came++
	t := &ticket{device: device, heavy: work >= heavyWork, due: q.now() + behind*work, number: q.came, served: make(chan struct{})}
	at, _ := slices.BinarySearchFunc(q.waiting, t, func(a, b *ticket) int {
		return cmp.Or(cmp.Compare(a.due, b.due), cmp.Compare(a.number, b.number))
	})
	q.waiting = slices.Insert(q.waiting, at, t)
	return t
}

// serve gives free places to those in line who may have them.
func (q *queue) serve() {
	busy := 0
	for _, t := range q.running {
		if t.heavy {
			busy++
		}
	}
	q.waiting = slices.DeleteFunc(q.waiting, func(t *ticket) bool {
		switch {
		case len(q.running) >= q.places, q.running[t.device] != nil, t.heavy && busy >= q.heavy:
			return false
		}
		if t.heavy {
			busy++
		}
		q.running[t.device] = t
		close(t.served)
		return true
	})
}

// leave takes a request out of the queue, and gives its place to the next.
func (q *queue) leave(t *ticket) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.running[t.device] == t {
		delete(q.running, t.device)
	}
	q.waiting = slices.DeleteFunc(q.waiting, func(w *ticket) bool { return w == t })
	q.serve()
}
