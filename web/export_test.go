package web

import "fmt"

// Occupy takes all places of the engine until release is called.
func (s *Site) Occupy() (release func()) {
	s.queue.mu.Lock()
	defer s.queue.mu.Unlock()
	for i := range s.queue.places {
		t := &ticket{device: fmt.Sprint("occupied ", i)}
		s.queue.running[t.device] = t
	}
	return func() {
		for i := range s.queue.places {
			s.queue.leave(s.queue.running[fmt.Sprint("occupied ", i)])
		}
	}
}

// Running returns how many requests the engine works at.
func (s *Site) Running() int {
	s.queue.mu.Lock()
	defer s.queue.mu.Unlock()
	return len(s.queue.running)
}
