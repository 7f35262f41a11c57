package depth

import (
	"testing"

	"asfound/survey"
)

func BenchmarkSolve(b *testing.B) {
	f := newField(6, 25, 2.4, 0.61)
	for i := range 20 {
		id := []string{"L1", "L2", "L3", "L4", "L5", "L6"}[i%6]
		u := float64(i) / 20
		f.found(id, u, 0.9, survey.Crown)
		f.level(f.spot(id, u), 10)
	}
	for b.Loop() {
		if _, err := Solve(b.Context(), f.job, f); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAt(b *testing.B) {
	f := newField(6, 25, 2.4, 0.61)
	for i := range 20 {
		f.found("L1", float64(i)/20, 0.9, survey.Crown)
		f.level(f.spot("L1", float64(i)/20), 10)
	}
	m := solve(b, f)
	v := f.spot("L4", 0.3)
	for b.Loop() {
		m.At("L4", v, "")
	}
}
