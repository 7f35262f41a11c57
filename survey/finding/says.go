package finding

import (
	"fmt"
	"strconv"
	"strings"

	"asfound/geo"
	"asfound/geo/language"
)

// Reader is whom a sentence is written for: the unit of its lengths and depths,
// and its language.
type Reader struct {
	Unit     geo.Unit
	Language language.Tag
}

// English returns the reader of English with lengths in u: of files that an
// office or a program reads, which are in English for everybody.
func English(u geo.Unit) Reader { return Reader{u, language.English} }

// Says writes the sentence of a finding for a reader. A code without a sentence
// is written as it is.
func (f Finding) Says(to Reader) string {
	s, ok := to.table()[f.Code]
	if !ok {
		return string(f.Code)
	}
	return f.fill(s.says, to)
}

// In writes the sentence of a finding in a language, lengths in metres.
func (f Finding) In(l language.Tag) string { return f.Says(Reader{geo.Metre, l}) }

// Settles writes what would settle a finding; empty where its code has no such
// text.
func (f Finding) Settles(to Reader) string { return f.fill(to.table()[f.Code].settles, to) }

// Source returns where a safety sentence is from, empty for other findings.
func (f Finding) Source() string { return sources[f.Code] }

// Sentences writes the sentences of findings.
//
//go:noinline
func Sentences(all []Finding, to Reader) []string {
	list := make([]string, 0, len(all))
	for _, f := range all {
		list = append(list, f.Says(to))
	}
	return list
}

// Says writes a finding that may be missing: empty where it is.
func Says(f *Finding, to Reader) string {
	if f == nil {
		return ""
	}
	return f.Says(to)
}

// fill puts the arguments of a finding into a sentence. An argument stands in
// braces, {name} for a word and {name:form} for a number:
//
//	{part} {part2} {parts} {parts:and} {parts:odds}   its parts: the first, the second, all of them; with the share of each
//	{reading} {readings:and}                          its readings
//	{of} {of:settles}                                 the finding that it is about
//	{part:the} {part:of} {part:to} {part:a} {x:name}  in Spanish, a kind of part or a word with its article
//	{n:hole/holes}                                    the word for one, and for more
//	{x:length} {x:depth} {x:percent} {x:count} {x:degrees} {x:factor} …
func (f Finding) fill(s string, to Reader) string {
	var b strings.Builder
	for {
		before, rest, ok := strings.Cut(s, "{")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		argument, after, _ := strings.Cut(rest, "}")
		name, form, _ := strings.Cut(argument, ":")
		b.WriteString(f.argument(name, form, to))
		s = after
	}
}

// argument writes one argument, ? where the finding does not have it.
func (f Finding) argument(name, form string, to Reader) string {
	switch name {
	case "part":
		return put(nth(f.Parts, 0), form)
	case "part2":
		return put(nth(f.Parts, 1), form)
	case "reading":
		return nth(f.Readings, 0)
	case "readings":
		return to.join(f.Readings, form, f.Numbers)
	case "parts":
		return to.join(f.Parts, form, f.Numbers)
	case "of":
		switch {
		case f.Of == nil:
			return "?"
		case form == "settles":
			return f.Of.Settles(to)
		}
		return f.Of.Says(to)
	}
	one, other, plural := strings.Cut(form, "/")
	if v, ok := f.Numbers[name]; plural && ok {
		if v == 1 {
			return one
		}
		return other
	}
	write, number := forms[form]
	if !number {
		if w, ok := f.Words[name]; ok {
			return put(w, form)
		}
		return "?"
	}
	v, ok := f.Numbers[name]
	if !ok {
		return "?"
	}
	return write(v, to)
}

// forms are the ways to write a number.
var forms = map[string]func(v float64, to Reader) string{
	"length":   func(v float64, to Reader) string { return geo.FormatLength(v, to.Unit) },
	"depth":    func(v float64, to Reader) string { return geo.FormatDepth(v, to.Unit) },
	"decimals": decimals,
	"accuracy": accuracy,
	"percent":  func(v float64, to Reader) string { return Percent(v, to.Language) },
	"count":    func(v float64, _ Reader) string { return strconv.FormatFloat(v, 'f', 0, 64) },
	"degrees":  func(v float64, _ Reader) string { return fmt.Sprintf("%.0f°", v) },
	"degrees2": func(v float64, _ Reader) string { return fmt.Sprintf("%.2f°", v) },
	"degrees7": func(v float64, _ Reader) string { return fmt.Sprintf("%.7f", v) },
	"tenth":    func(v float64, _ Reader) string { return fmt.Sprintf("%.1f", v) },
	"whole":    func(v float64, _ Reader) string { return fmt.Sprintf("%.0f %%", 100*v) },
	"degrees1": func(v float64, _ Reader) string { return fmt.Sprintf("%.1f°", v) },
	"factor":   func(v float64, _ Reader) string { return fmt.Sprintf("%.2f", v) },
	"plain":    func(v float64, _ Reader) string { return fmt.Sprintf("%.4g", v) },
	"one":      func(v float64, _ Reader) string { return fmt.Sprintf("%.1g", v) },
}

// in chooses between the words of two languages.
//
//go:noinline
func in(l language.Tag, english, spanish string) string {
	if l == language.Spanish {
		return spanish
	}
	return english
}

// decimals writes metres, or feet, to the hundredth.
func decimals(m float64, to Reader) string {
	if per, ok := to.Unit.Metres(); ok && to.Unit == geo.Foot {
		return strconv.FormatFloat(m/per, 'f', 2, 64) + in(to.Language, " ft", " pies")
	}
	return strconv.FormatFloat(m, 'f', 2, 64) + " m"
}

// Percent writes a probability for people so that rounding never suggests
// certainty: 7 %, under 1 %, over 99 %.
func Percent(p float64, l language.Tag) string {
	switch {
	case p > 0 && p < 0.01:
		return in(l, "under 1 %", "menos de 1 %")
	case p > 0.99:
		return in(l, "over 99 %", "más de 99 %")
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
//
//go:noinline
func (r Reader) join(list []string, form string, odds map[string]float64) string {
	word := ""
	switch form {
	case "and":
		word = in(r.Language, "and", "y")
	case "odds", "each":
		all := make([]string, 0, len(list))
		for _, name := range list {
			all = append(all, fmt.Sprintf("%s (%s)", name, Percent(odds[name], r.Language)))
		}
		if list = all; form == "odds" {
			word = in(r.Language, "or", "o")
		}
	}
	n := len(list)
	if word == "" || n < 2 {
		return strings.Join(list, ", ")
	}
	between := ", "
	if form == "odds" {
		between = " " + word + " "
	}
	return strings.Join(list[:n-1], between) + " " + before(word, list[n-1]) + " " + list[n-1]
}

// before returns Spanish y or o as it is before a word that begins with its
// sound: e, u.
//
//go:noinline
func before(word, next string) string {
	next = strings.TrimPrefix(strings.ToLower(next), "h")
	switch {
	case word == "y" && strings.HasPrefix(next, "i"):
		return "e"
	case word == "o" && strings.HasPrefix(next, "o"):
		return "u"
	}
	return word
}

// accuracy writes a radius in the words of the National Standard for Spatial
// Data Accuracy: metres or feet.
func accuracy(m float64, to Reader) string {
	if per, ok := to.Unit.Metres(); ok && to.Unit == geo.Foot {
		return fmt.Sprintf("%.1f ", m/per) + in(to.Language, "feet", "pies")
	}
	return fmt.Sprintf("%.2f ", m) + in(to.Language, "metres", "metros")
}
