package observe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/observe"
)

// What a tired person writes wrong about a probe rod.
func TestRodThatCannotBe(t *testing.T) {
	one := func(point, target string, depth float64) survey.Reading {
		return survey.Reading{Point: point, Target: target, Depth: &geo.Length{Metres: depth, Written: "as written", Unit: geo.Metre}}
	}
	line := func(from, to string, n int) survey.Reading {
		r := one("", "none", 1)
		r.From, r.To, r.Stabs = from, to, n
		return r
	}
	bare := one("H0", "none", 1)
	bare.Depth = nil
	for _, tt := range []struct {
		name string
		r    survey.Reading
		want string
	}{
		{"nothing felt", one("H0", "none", 0.9), ""},
		{"something hard", one("H0", "contact", 0.9), ""},
		{"a kind", one("H0", "lateral", 0.9), ""},
		{"a part", one("H0", "L1", 0.9), ""},
		{"a kind that the sketch does not have", one("H0", "header", 0.9), ""},
		{"a line", line("H0", "H1", 5), ""},
		{"a line from a landmark", line("A", "H1", 5), ""},
		{"a word misspelt", one("H0", "contct", 0.9), `target: found "contct"; want none (nothing), contact (something hard), a part of the sketch (box, L1, L2) or a kind (box, lateral, header); did you mean contact?`},
		{"a part misspelt", one("H0", "l2", 0.9), "did you mean L2?"},
		{"an end of a part", one("H0", "L1.start", 0.9), "target"},
		{"a landmark", one("H0", "A", 0.9), `target: found "A"`},
		{"no depth", bare, "depth: found nothing; want how deep the rod went"},
		{"no depth to speak of", one("H0", "none", 0), "above 0 and at most 3 m"},
		{"a rod of 3.2 m", one("H0", "none", 3.2), `depth: found "as written"; want how deep the rod went: above 0 and at most 3 m`},
		{"from where it goes to", line("H0", "H0", 5), "from, to and value of a line of stabs"},
		{"one stab on a line", line("H0", "H1", 1), "from, to and value of a line of stabs"},
		{"a stab nowhere", one("H7", "none", 1), `point: found "H7"; want a landmark, a hole or a stake that a row of the log places`},
		{"a line to nowhere", line("H0", "h1", 4), `to: found "h1"; want a landmark, a hole or a stake that a row of the log places, such as a tape; did you mean H1?`},
		{"a stab at a line of the sketch", one("L1", "none", 1), "L1 is a lateral, which is no single point"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := directed()
			tt.r.ID, tt.r.Kind = "y", survey.Rod
			j.Readings = append(j.Readings, tt.r)
			problems := observe.Check(j)
			if tt.want == "" {
				assert.Empty(t, problems)
				return
			}
			assert.Len(t, problems, 1)
			assert.Contains(t, problems.Error(), tt.want)
		})
	}
}
