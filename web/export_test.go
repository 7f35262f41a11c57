package web

import (
	"fmt"
	"maps"
)

// Occupy takes all places of the engine until release is called.
func (s *Site) Occupy() (release func()) {
	s.queue.mu.Lock()
	defer s.queue.mu.Unlock()
	for i := range s.queue.places {
		t := &ticket{device: fmt.Sprint("occupied ", i)}
		s.queue.running[t.device] = t
	}
	taken := maps.Clone(s.queue.running)
	return func() {
		for _, t := range taken {
			s.queue.leave(t)
		}
	}
}

// Running returns how many requests the engine works at.
func (s *Site) Running() int {
	s.queue.mu.Lock()
	defer s.queue.mu.Unlock()
	return len(s.queue.running)
}

// Waiting returns how many requests wait for the engine.
func (s *Site) Waiting() int {
	s.queue.mu.Lock()
	defer s.queue.mu.Unlock()
	return len(s.queue.waiting)
}
