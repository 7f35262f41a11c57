package finding

import (
	"fmt"

	"asfound/geo"
)

// Code names what a finding is about. Programs read codes, so they do not
// change.
type Code string

// Finding is one thing that a person should know.
type Finding struct {
	Code     Code
	Parts    []string           // ids of the parts and landmarks concerned, or kinds
	Readings []string           // ids of the readings concerned
	Numbers  map[string]float64 // by name: metres, degrees, shares of one, counts
	Words    map[string]string  // by name: holes, files, what is written on sheet or tape
	Of       *Finding           // the finding that this one is about
}

// Key returns a text that equal findings share: for maps, not for people.
func (f Finding) Key() string {
	key := fmt.Sprintf("%s %q %q %v %q", f.Code, f.Parts, f.Readings, f.Numbers, f.Words)
	if f.Of != nil {
		key += " of " + f.Of.Key()
	}
	return key
}

// With returns the findings that have one of the codes.
func With(all []Finding, codes ...Code) []Finding {
	return filter(all, codes, true)
}

// Without returns the findings that have none of the codes.
func Without(all []Finding, codes ...Code) []Finding {
	return filter(all, codes, false)
}

func filter(all []Finding, codes []Code, want bool) (some []Finding) {
	for _, f := range all {
		has := false
		for _, c := range codes {
			has = has || f.Code == c
		}
		if has == want {
			some = append(some, f)
		}
	}
	return some
}

// Shared returns the findings of the first list that are in every list.
func Shared(lists ...[]Finding) (common []Finding) {
	in := map[string]int{}
	for _, list := range lists {
		seen := map[string]bool{}
		for _, f := range list {
			if k := f.Key(); !seen[k] {
				seen[k] = true
				in[k]++
			}
		}
	}
	if len(lists) > 0 {
		for _, f := range lists[0] {
			if in[f.Key()] == len(lists) {
				common = append(common, f)
			}
		}
	}
	return common
}

// Except returns the findings that are not among others.
func Except(all, others []Finding) (rest []Finding) {
	not := map[string]bool{}
	for _, f := range others {
		not[f.Key()] = true
	}
	for _, f := range all {
		if !not[f.Key()] {
			rest = append(rest, f)
		}
	}
	return rest
}

// Refusal is a finding that is returned as an error: nothing could be worked
// out.
type Refusal struct {
	Finding
	Cause error // nil: the finding says it all
}

// Refuse returns a finding as an error.
func Refuse(f Finding, cause error) *Refusal { return &Refusal{f, cause} }

// Error returns the sentence of the finding in English, lengths in metres, and
// its cause.
func (r *Refusal) Error() string { return r.For(English(geo.Metre)) }

// For returns the sentence of the finding for a reader, and its cause, which is
// for whoever mends it and in English.
func (r *Refusal) For(to Reader) string {
	if r.Cause != nil {
		return r.Says(to) + ": " + r.Cause.Error()
	}
	return r.Says(to)
}

// Unwrap returns the cause.
func (r *Refusal) Unwrap() error { return r.Cause }
