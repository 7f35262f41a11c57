package web

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// clock is a queue whose time stands still until it is moved.
func clock(q *queue) (now *time.Duration) {
	now = new(time.Duration)
	q.now = func() time.Duration { return *now }
	return now
}

// isServed reports whether a request has been given a place.
func isServed(t *ticket) bool {
	select {
	case <-t.served:
		return true
	default:
		return false
	}
}

// The order in which requests are served, one place being given back after another.
func TestQueueOrder(t *testing.T) {
	type one struct {
		at     float64 // seconds
		device string
		work   float64 // seconds
	}
	for _, tt := range []struct {
		name  string
		asked []one
		want  []int // as they stand in line
	}{
		{"as they come", []one{{0, "a", 0.1}, {1, "b", 0.1}, {2, "c", 0.1}}, []int{0, 1, 2}},
		{"at once, as they come", []one{{0, "a", 0.1}, {0, "b", 0.1}}, []int{0, 1}},
		{"the small ones first", []one{{0, "a", 4}, {0, "b", 0.4}, {1, "c", 0.1}}, []int{2, 1, 0}},
		{"a small one overtakes", []one{{0, "a", 2}, {9, "b", 0.1}}, []int{1, 0}},
		{"only for so long", []one{{0, "a", 2}, {10, "b", 0.1}}, []int{0, 1}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			q := newQueue(1)
			now := clock(q)
			var all []*ticket
			for _, a := range tt.asked {
				*now = time.Duration(a.at * float64(time.Second))
				all = append(all, q.line(a.device, time.Duration(a.work*float64(time.Second))))
			}
			var got []int
			for _, w := range q.waiting {
				got = append(got, slices.Index(all, w))
			}
			assert.Equal(t, tt.want, got)
		})
	}
}

// What has a place, of what was asked for at once.
func TestQueuePlaces(t *testing.T) {
	const small, large = 100 * time.Millisecond, 3 * time.Second
	for _, tt := range []struct {
		name       string
		processors int
		devices    string // a letter each; a capital asks for heavy work
		want       string
	}{
		{"a place each", 2, "ab", "ab"},
		{"no more than there are", 2, "abc", "ab"},
		{"one place is kept from heavy work", 2, "AB", "A"},
		{"and given to small work", 2, "ABc", "Ac"},
		{"with one processor too", 1, "ABc", "Ac"},
		{"three of four for heavy work", 4, "ABCDE", "ABC"},
		{"one to a device", 4, "aaa", "a"},
		{"the second of a device keeps nobody else waiting", 2, "aab", "ab"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			q := newQueue(tt.processors)
			clock(q)
			var all []*ticket
			for _, d := range tt.devices {
				work, device := small, string(d)
				if d < 'a' {
					work = large
				}
				all = append(all, q.line(device, work))
			}
			q.serve()
			var got strings.Builder
			for i, a := range all {
				if isServed(a) {
					got.WriteString(tt.devices[i : i+1])
				}
			}
			assert.Equal(t, tt.want, got.String())
		})
	}
}

// Whatever comes and goes: no more places are given than there are, nor to heavy work
// than it may have, nor to a device than one; a place does not stand empty while
// somebody may have it; and whoever has a place was before all who wait and could
// have had it. Everybody is served in the end, and none later than after what came
// within the time by which its work puts it behind.
func TestQueueIsFair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := newQueue(rapid.IntRange(1, 4).Draw(t, "processors"))
		now := clock(q)
		var here []*ticket
		came := map[*ticket]time.Duration{}
		check := func() {
			heavy := 0
			for device, r := range q.running {
				require.Equal(t, device, r.device)
				require.True(t, isServed(r))
				if r.heavy {
					heavy++
				}
			}
			require.LessOrEqual(t, len(q.running), q.places)
			require.LessOrEqual(t, heavy, q.heavy)
			for _, w := range q.waiting {
				require.False(t, isServed(w))
				if len(q.running) < q.places && q.running[w.device] == nil {
					require.True(t, w.heavy && heavy == q.heavy, "a place stands empty")
				}
			}
			require.True(t, slices.IsSortedFunc(q.waiting, func(a, b *ticket) int { return int(a.due - b.due) }))
			require.Len(t, here, len(q.running)+len(q.waiting))
		}
		t.Repeat(map[string]func(*rapid.T){
			"": func(*rapid.T) { check() },
			"come": func(t *rapid.T) {
				device := fmt.Sprint(rapid.IntRange(0, 5).Draw(t, "device"))
				work := time.Duration(rapid.IntRange(1, 8000).Draw(t, "ms")) * time.Millisecond
				one := q.line(device, work)
				came[one] = *now
				here = append(here, one)
				before := slices.Clone(q.waiting)
				q.serve()
				for _, o := range before { // who was served before an earlier one that could have been as well?
					if isServed(o) {
						for _, w := range q.waiting {
							require.False(t, w.due < o.due && w.device != o.device && w.heavy == o.heavy && q.running[w.device] == nil, "out of turn")
						}
					}
				}
			},
			"go": func(t *rapid.T) {
				if len(here) == 0 {
					t.Skip("nobody is here")
				}
				i := rapid.IntRange(0, len(here)-1).Draw(t, "who")
				q.leave(here[i])
				here = slices.Delete(here, i, i+1)
			},
			"later": func(t *rapid.T) { *now += time.Duration(rapid.IntRange(1, 3000).Draw(t, "ms")) * time.Millisecond },
		})
		for _, w := range q.waiting { // whoever comes after that long comes after it
			late := q.line("late", 0)
			late.due += w.due - came[w]
			require.LessOrEqual(t, w.due-came[w], behind*8*time.Second)
			q.leave(late)
		}
		for n := len(here); n > 0; n-- { // nobody more comes: one after the other leaves, and each is served
			require.NotEmpty(t, q.running, "somebody waits and nobody is served")
			for _, r := range q.running {
				q.leave(r)
				break
			}
		}
		require.Empty(t, q.waiting)
		for _, h := range here {
			require.True(t, isServed(h))
		}
	})
}

// While small requests come without end, heavy work is served as soon as they no
// longer come before it.
func TestQueueStarvesNobody(t *testing.T) {
	q := newQueue(1)
	now := clock(q)
	q.heavy = 2 // as if there were nothing but the order
	first, second := q.line("x", 100*time.Millisecond), q.line("y", 100*time.Millisecond)
	q.serve()
	large := q.line("large", 4*time.Second)
	running := []*ticket{first, second}
	for i := 0; !isServed(large); i++ {
		require.Less(t, *now, 2*behind*4*time.Second, "it is never served")
		*now += 100 * time.Millisecond
		next := q.line(fmt.Sprint(i), 100*time.Millisecond)
		q.leave(running[0])
		if running = running[1:]; !isServed(large) {
			require.True(t, isServed(next) || len(running) > 0)
			running = append(running, next)
		}
	}
	assert.InDelta(t, (behind * 4 * time.Second).Seconds(), now.Seconds(), 1)
}

// Who waits and leaves, or is told to, frees its place for the next.
func TestQueueLeaving(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		q := newQueue(1)
		leave, err := q.enter(t.Context(), "a", time.Second)
		require.NoError(t, err)
		ctx, stop := context.WithTimeout(t.Context(), 3*time.Second)
		defer stop()
		_, err = q.enter(ctx, "b", time.Second)
		require.ErrorIs(t, err, context.DeadlineExceeded)
		assert.Empty(t, q.waiting)
		done := false
		go func() {
			leave, err := q.enter(t.Context(), "b", time.Second)
			assert.NoError(t, err)
			done = true
			leave()
		}()
		synctest.Wait()
		assert.False(t, done)
		leave()
		synctest.Wait()
		assert.True(t, done)
		leave() // once more does nothing
		assert.Empty(t, q.running)
	})
}
