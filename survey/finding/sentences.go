package finding

import (
	_ "embed" // the sentences
	"strings"
	"sync"

	"asfound/geo/language"
)

//go:embed english.txt
var englishText string

//go:embed spanish.txt
var spanishText string

// sentence is the wording of a finding.
type sentence struct {
	says    string
	settles string // what would settle it; empty: nothing is said
}

// The sentences of each language by code.
var (
	english = sync.OnceValue(func() map[Code]sentence { return sentencesOf(englishText) })
	spanish = sync.OnceValue(func() map[Code]sentence { return sentencesOf(spanishText) })
)

// table returns the sentences of a reader's language.
func (r Reader) table() map[Code]sentence {
	if r.Language == language.Spanish {
		return spanish()
	}
	return english()
}

// sentencesOf reads a file of sentences: code, colon, sentence; behind a tab what
// would settle the one above; # begins a remark.
func sentencesOf(text string) map[Code]sentence {
	all := map[Code]sentence{}
	last := Code("")
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if settles, ok := strings.CutPrefix(line, "\t"); ok {
			all[last] = sentence{all[last].says, settles}
			continue
		}
		code, says, ok := strings.Cut(line, ": ")
		if ok && !strings.HasPrefix(line, "#") {
			last = Code(code)
			all[last] = sentence{says: says}
		}
	}
	return all
}

// sources say where the safety sentences are from, in every language.
var sources = map[Code]string{
	Utilities:      "49 CFR 196.103, one-call before excavation; hand digging: the tolerance zone of state one-call laws (both from memory); private lines: common practice, no published source",
	NeverEnter:     "29 CFR 1910.146, permit-required confined spaces; NIOSH on hydrogen sulfide, that the sense of smell tires (both from memory)",
	UnprotectedCut: "29 CFR 1926.651(c)(2) and 1926.652(a)(1); asbuilt/practice has the numbers",
	Collapse:       "common practice, no published source",
	Disease:        "CDC guidance for workers who handle sewage (from memory); flames: methane, common practice, no published source",
	Estimates:      "the limits of this method; the record is not a boundary survey",
	SafetyInShort:  "the first three of these sentences and the last, for a small screen; every plan prints them in full",
	NotASurvey:     "state laws on land surveying; common practice, no published source",
	CoversToday:    "follows from the readings",
	CodeDecides:    "common practice, no published source",
	CaveIn:         "29 CFR 1926.652(a)(1), 5 ft, and 1926.651(c)(2)",
	WayOut:         "29 CFR 1926.651(c)(2), 4 ft and 25 ft; the job may set another depth",
	DepthUnknown:   "29 CFR 1926.651(c)(2), 4 ft and 25 ft; the job may set another depth",
	UtilityMet:     "29 CFR 1926.651(b)(1) to (3): utilities are located, and their owners asked, before digging on; from memory",
	RodPierces:     "common practice, no published source",
	NotTested:      "FGDC-STD-007.3-1998",
}
