package web

// Occupy takes all places for heavy work until release is called.
func (s *Site) Occupy() (release func()) {
	for range cap(s.workshop) {
		s.workshop <- struct{}{}
	}
	return func() {
		for range cap(s.workshop) {
			<-s.workshop
		}
	}
}
