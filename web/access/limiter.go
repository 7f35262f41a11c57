package access

import (
	"sync"
	"time"
)

// Limiter is a rate limiter with a token bucket for each client. The number of
// buckets is bounded: when there are more clients at one time, the rest share
// one.
type Limiter struct {
	every time.Duration // the cost of a pass: passes are counted in the time they take to accrue
	burst time.Duration
	most  int

	mu      sync.Mutex
	buckets map[string]*bucket
	others  bucket
	swept   time.Time
}

// bucket is what was left for passes, and when.
type bucket struct {
	left time.Duration
	at   time.Time
}

// NewLimiter returns a limiter that gives each client burst passes at once and
// one more every so often, and distinguishes at most so many clients.
func NewLimiter(every time.Duration, burst, askers int) *Limiter {
	return &Limiter{every: every, burst: every * time.Duration(burst), most: askers, buckets: map[string]*bucket{}}
}

// Allow reports whether the client who may pass now, and if not, after how
// long.
func (l *Limiter) Allow(who string, now time.Time) (ok bool, wait time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	b := l.buckets[who]
	if b == nil {
		// Not at each request, since an attacker may have many addresses.
		if len(l.buckets) >= l.most && now.Sub(l.swept) >= l.every {
			l.swept = now
			l.forget(now)
		}
		if b = &l.others; len(l.buckets) < l.most {
			// A client that shared a bucket until now does not get a new full
			// one.
			b = &bucket{left: l.filled(b, now), at: now}
			l.buckets[who] = b
		}
	}
	b.left = l.filled(b, now)
	b.at = now
	if b.left >= l.every {
		b.left -= l.every
		return true, 0
	}
	return false, l.every - b.left
}

// filled returns what is in a bucket now; a new one is full.
func (l *Limiter) filled(b *bucket, now time.Time) time.Duration {
	if b.at.IsZero() {
		return l.burst
	}
	return min(l.burst, b.left+min(l.burst, max(0, now.Sub(b.at))))
}

// forget drops the buckets that are full again, which equal new ones.
func (l *Limiter) forget(now time.Time) {
	for who, b := range l.buckets {
		if l.filled(b, now) >= l.burst {
			delete(l.buckets, who)
		}
	}
}
