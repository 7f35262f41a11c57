package finding

import (
	"regexp"
	"slices"
)

var argument = regexp.MustCompile(`\{([^}]*)\}`)

// Safety returns what is printed before every dig. entry is the job's depth
// from which a trench needs a way out, protect the depth from which it needs
// protection against cave-in, reach how far away the way out may be, all in
// metres.
func Safety(entry, protect, reach float64) []Finding {
	return []Finding{
		Utilities.New(), NeverEnter.New(),
		UnprotectedCut.New(Number("entry", entry), Number("protect", protect), Number("reach", reach)),
		Collapse.New(), Disease.New(), Estimates.New(),
	}
}

// Codes returns every code that has a sentence, in the order of the alphabet.
func Codes() (all []Code) {
	for c := range english() {
		all = append(all, c)
	}
	slices.Sort(all)
	return all
}

// Arguments returns what the sentences of a code name: {part}, {parts},
// {reading}, {of}, words and numbers, each with its form behind a colon.
func Arguments(c Code) (all []string) {
	s := english()[c]
	for _, text := range []string{s.says, s.settles} {
		for _, m := range argument.FindAllStringSubmatch(text, -1) {
			all = append(all, m[1])
		}
	}
	return all
}
