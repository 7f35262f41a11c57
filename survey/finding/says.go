package finding

import (
	"fmt"
	"strconv"
	"strings"

	"asfound/geo"
)

// sentence is the wording of a finding.
type sentence struct {
	says    string
	settles string // what would settle it; empty: nothing is said
	source  string // of a safety sentence: its source
}

// Says writes the sentence of a finding, lengths and depths in the given unit.
// A code without a sentence is written as it is.
func (f Finding) Says(u geo.Unit) string {
	s, ok := english[f.Code]
	if !ok {
		return string(f.Code)
	}
	return f.fill(s.says, u)
}

// Settles writes what would settle a finding; empty where its code has no such
// text.
func (f Finding) Settles(u geo.Unit) string { return f.fill(english[f.Code].settles, u) }

// Source returns where a safety sentence is from, empty for other findings.
func (f Finding) Source() string { return english[f.Code].source }

// Sentences writes the sentences of findings.
func Sentences(all []Finding, u geo.Unit) []string {
	list := make([]string, 0, len(all))
	for _, f := range all {
		list = append(list, f.Says(u))
	}
	return list
}

// Says writes a finding that may be missing: empty where it is.
func Says(f *Finding, u geo.Unit) string {
	if f == nil {
		return ""
	}
	return f.Says(u)
}

// fill puts the arguments of a finding into a sentence. An argument stands in
// braces, {name} for a word and {name:form} for a number:
//
//	{part} {part2} {parts} {parts:and} {parts:odds}   its parts: the first, the second, all of them; with the share of each
//	{reading} {readings:and}                          its readings
//	{of} {of:settles}                                 the finding that it is about
//	{x:length} {x:depth} {x:percent} {x:count} {x:degrees} {x:factor} …
func (f Finding) fill(s string, u geo.Unit) string {
	var b strings.Builder
	for {
		before, rest, ok := strings.Cut(s, "{")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		argument, after, _ := strings.Cut(rest, "}")
		name, form, _ := strings.Cut(argument, ":")
		b.WriteString(f.argument(name, form, u))
		s = after
	}
}

// argument writes one argument, ? where the finding does not have it.
func (f Finding) argument(name, form string, u geo.Unit) string {
	switch name {
	case "part":
		return nth(f.Parts, 0)
	case "part2":
		return nth(f.Parts, 1)
	case "reading":
		return nth(f.Readings, 0)
	case "readings":
		return join(f.Readings, form, f.Numbers)
	case "parts":
		return join(f.Parts, form, f.Numbers)
	case "of":
		switch {
		case f.Of == nil:
			return "?"
		case form == "settles":
			return f.Of.Settles(u)
		}
		return f.Of.Says(u)
	}
	if form == "" {
		if w, ok := f.Words[name]; ok {
			return w
		}
		return "?"
	}
	v, ok := f.Numbers[name]
	write, known := forms[form]
	if !ok || !known {
		return "?"
	}
	return write(v, u)
}

// forms are the ways to write a number.
var forms = map[string]func(v float64, u geo.Unit) string{
	"length":   geo.FormatLength,
	"depth":    geo.FormatDepth,
	"decimals": func(v float64, u geo.Unit) string { return decimals(v, u) },
	"accuracy": accuracy,
	"percent":  func(v float64, _ geo.Unit) string { return Percent(v) },
	"count":    func(v float64, _ geo.Unit) string { return strconv.FormatFloat(v, 'f', 0, 64) },
	"degrees":  func(v float64, _ geo.Unit) string { return fmt.Sprintf("%.0f°", v) },
	"degrees1": func(v float64, _ geo.Unit) string { return fmt.Sprintf("%.1f°", v) },
	"factor":   func(v float64, _ geo.Unit) string { return fmt.Sprintf("%.2f", v) },
	"plain":    func(v float64, _ geo.Unit) string { return fmt.Sprintf("%.4g", v) },
	"one":      func(v float64, _ geo.Unit) string { return fmt.Sprintf("%.1g", v) },
}

// decimals writes metres, or feet, to the hundredth.
func decimals(m float64, u geo.Unit) string {
	if u == geo.Foot {
		per, _ := u.Metres()
		return strconv.FormatFloat(m/per, 'f', 2, 64) + " ft"
	}
	return strconv.FormatFloat(m, 'f', 2, 64) + " m"
}

// Percent writes a probability for people so that rounding never suggests
// certainty: 7 %, under 1 %, over 99 %.
func Percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1 %"
	case p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func nth(list []string, n int) string {
	if n < len(list) {
		return list[n]
	}
	return "?"
}

// join writes a list: a, b, c; with the form "and" a, b and c; with the form
// "odds" a (60 %) or b (40 %); with "each" a (60 %), b (40 %).
func join(list []string, form string, odds map[string]float64) string {
	switch form {
	case "and":
		if n := len(list); n > 1 {
			return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
		}
	case "odds", "each":
		all := make([]string, 0, len(list))
		for _, name := range list {
			all = append(all, fmt.Sprintf("%s (%s)", name, Percent(odds[name])))
		}
		if form == "each" {
			return strings.Join(all, ", ")
		}
		return strings.Join(all, " or ")
	}
	return strings.Join(list, ", ")
}

// accuracy writes a radius in the words of the National Standard for Spatial
// Data Accuracy: metres or feet.
func accuracy(m float64, u geo.Unit) string {
	if per, ok := u.Metres(); ok && u == geo.Foot {
		return fmt.Sprintf("%.1f feet", m/per)
	}
	return fmt.Sprintf("%.2f metres", m)
}
