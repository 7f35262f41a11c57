package finding

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/language"
)

var write = flag.Bool("write", false, "rewrite testdata/english.txt and spanish.txt: read every sentence aloud before you commit it")

// example returns a finding with something for every argument of its sentence.
func example(c Code) Finding {
	f := Finding{Code: c, Numbers: map[string]float64{}, Words: map[string]string{}}
	samples := map[string]float64{"length": 3.048, "depth": 1.524, "decimals": 0.6096, "accuracy": 0.762, "percent": 0.12, "count": 3, "degrees": 24,
		"degrees1": 12.3, "degrees2": 1.25, "degrees7": 45.5, "tenth": 3.1, "whole": 0.4, "factor": 1.5, "plain": 0.02, "one": 2e-5}
	for _, a := range Arguments(c) {
		name, form, _ := strings.Cut(a, ":")
		switch {
		case strings.HasPrefix(name, "part"):
			f.Parts = []string{"L3", "L4"}
			f.Numbers["L3"], f.Numbers["L4"] = 0.7, 0.3
		case strings.HasPrefix(name, "reading"):
			f.Readings = []string{"r7"}
		case name == "of":
			of := SheetMirrored.New()
			switch c {
			case OnSide, FarEndOnSide, SlotEnd, RodFrom, RodTo:
				of = RightOf.New(Parts("A", "B"))
			case Suspect, OfOffset, NotConvergedBy:
				of = FootLong.New()
			}
			f.Of = &of
		case strings.Contains(form, "/"):
			f.Numbers[name] = 3
		case form == "":
			f.Words[name] = "<" + name + ">"
		default:
			f.Numbers[name] = samples[form]
		}
	}
	return f
}

// Every sentence in each language, as it is said in feet and in metres, to be
// read in one place. No argument is missing, and a length is written in one unit
// alone.
func TestSentences(t *testing.T) {
	for _, l := range language.All {
		t.Run(string(l), func(t *testing.T) { said(t, l) })
	}
}

func said(t *testing.T, l language.Tag) {
	var b strings.Builder
	inFeet, inMetres := Reader{geo.Foot, l}, Reader{geo.Metre, l}
	for _, c := range Codes() {
		f := example(c)
		feet, metres := f.Says(inFeet), f.Says(inMetres)
		fmt.Fprintf(&b, "%s\n    %s\n", c, feet)
		if metres != feet {
			fmt.Fprintf(&b, "    %s\n", metres)
		}
		if s := f.Settles(inFeet); s != "" {
			fmt.Fprintf(&b, "    > %s\n", s)
		}
		for _, says := range []string{feet, metres, f.Settles(inFeet)} {
			assert.NotContains(t, says, "{", c)
			assert.NotContains(t, strings.ReplaceAll(says, "? ", ""), "(?", c)
			assert.Equal(t, strings.Join(strings.Fields(says), " "), says, "%s: spaces", c)
			assert.Equal(t, strings.Count(says, "¿") == strings.Count(says, "?"), l == language.Spanish || !strings.Contains(says, "?"), "%s: a question opens in Spanish alone: %s", c, says)
		}
		for _, a := range Arguments(c) {
			if _, form, _ := strings.Cut(a, ":"); form == "length" || form == "depth" || form == "decimals" || form == "accuracy" {
				assert.NotEqual(t, feet, metres, "%s is said in the job's unit", c)
				assert.NotRegexp(t, `\d'|\d"| ft| feet| pies`, metres, c)
			}
		}
		assert.Equal(t, string(c), strings.ToLower(strings.ReplaceAll(string(c), " ", "-")), "a code is lower case words with hyphens")
	}
	name := map[language.Tag]string{language.English: "testdata/english.txt", language.Spanish: "testdata/spanish.txt"}[l]
	if *write {
		require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

var letters = regexp.MustCompile(`[a-z]{2}`)

// Both languages have every code, the same gaps in every sentence, and the same
// form of every number.
func TestLanguagesMatch(t *testing.T) {
	gaps := func(s string) (all []string) {
		for _, m := range argument.FindAllStringSubmatch(s, -1) {
			name, form, _ := strings.Cut(m[1], ":")
			if strings.Contains(form, "/") { // the plural of a number that has its own gap
				continue
			}
			if _, number := forms[form]; number || name == "parts" || name == "of" {
				name = m[1]
			}
			all = append(all, name)
		}
		slices.Sort(all)
		return slices.Compact(all)
	}
	require.Len(t, spanish(), len(english()))
	for c, s := range english() {
		es, ok := spanish()[c]
		require.True(t, ok, c)
		assert.NotEqual(t, s.says, "", c)
		assert.NotEqual(t, es.says, "", c)
		assert.Equal(t, gaps(s.says), gaps(es.says), c)
		assert.Equal(t, gaps(s.settles), gaps(es.settles), c)
		assert.Equal(t, s.settles == "", es.settles == "", c)
		if words := argument.ReplaceAllString(s.says, ""); letters.MatchString(words) {
			assert.NotEqual(t, words, argument.ReplaceAllString(es.says, ""), "%s is not translated", c)
		}
		for _, m := range argument.FindAllStringSubmatch(es.says+es.settles, -1) {
			_, form, has := strings.Cut(m[1], ":")
			_, number := forms[form]
			_, article := articles[form]
			if strings.Contains(form, "/") {
				continue
			}
			assert.True(t, !has || number || article || slices.Contains([]string{"and", "odds", "each", "settles", "name"}, form), "%s: no form %s", c, form)
		}
	}
}

// A word stands in the singular after one, and in the plural after any other number.
func TestPlural(t *testing.T) {
	for n, want := range map[float64][2]string{0: {"0 readings", "0 lecturas"}, 1: {"1 reading", "1 lectura"}, 2: {"2 readings", "2 lecturas"}} {
		f := PaperReadings.New(Number("n", n))
		assert.Equal(t, want, [2]string{f.Says(English(geo.Foot)), f.Says(Reader{geo.Foot, language.Spanish})})
	}
}

// Articles and what they merge with, a list before i and o, and ids as they are.
// Source: Real Academia Española, Ortografía and Gramática: del, al; e before i-,
// u before o- (from memory).
func TestSpanishGrammar(t *testing.T) {
	es := Reader{geo.Foot, language.Spanish}
	push := func(from, to string) string {
		return PushCable.New(Parts(from, to), Number("minutes", 75), Number("chance", 0.85)).Says(es)
	}
	assert.Contains(t, push("tank", "box"), "Primero abra el tanque, meta una guía por su salida hasta la caja")
	assert.Contains(t, push("tank", "box"), "el tubo que sale del tanque")
	assert.Contains(t, push("T2", "D1"), "Primero abra T2, meta una guía por su salida hasta D1")
	assert.Contains(t, push("T2", "D1"), "el tubo que sale de T2")
	assert.Equal(t, "de la caja", put("box", "of"))
	assert.Equal(t, "al tanque", put("tank", "to"))
	assert.Equal(t, "una zanja", put("lateral", "a"))
	assert.Equal(t, "a L3", put("L3", "to"))
	odds := map[string]float64{"L3": 0.7, "O2": 0.3}
	assert.Equal(t, "H1 (r16) es L3 (70 %) u O2 (30 %)", MetOneOf.New(Word("hole", "H1"), Readings("r16"), Odds([]string{"L3", "O2"}, odds)).Says(es))
	assert.Contains(t, TapeBlocked.New(Parts("A", "I2")).Says(es), "desde A e I2:")
	assert.Contains(t, TapeBlocked.New(Parts("A", "B", "C")).Says(es), "desde A, B y C:")
	assert.Equal(t, []string{"menos de 1 %", "más de 99 %", "7 %"}, []string{Percent(0.001, language.Spanish), Percent(0.999, language.Spanish), Percent(0.07, language.Spanish)})
}

// Every kind of part that a finding may name is a noun in Spanish. asbuilt has
// the kinds; this package knows no drawing, so they are written out here.
func TestNouns(t *testing.T) {
	for _, kind := range []string{"building", "landmark", "tank", "box", "header", "lateral", "port", "well", "boundary", "water", "driveway", "utility", "no-dig",
		"trench", "pipe", "camera", "cable", "crown", "top", "invert", "bottom"} {
		assert.NotEqual(t, kind, put(kind, "name"), kind)
	}
}

// The safety sentences name their source.
func TestSafetyHasItsSource(t *testing.T) {
	all := append(Safety(1.2192, 1.524, 7.62), CaveIn.New(), WayOut.New(), DepthUnknown.New(), SafetyInShort.New(), NotASurvey.New(), CoversToday.New(), CodeDecides.New())
	for _, f := range all {
		assert.NotEmpty(t, f.Source(), f.Code)
	}
	said := strings.Join(Sentences(Safety(1.2192, 1.524, 7.62), English(geo.Foot)), " ")
	for _, want := range []string{"call 811", "Never enter", `4' 0" deep`, `within 25' 0"`, `5' 0" deep or more needs protection`, "not a survey"} { // 29 CFR 1926.651(c)(2), 652(a)(1)
		assert.Contains(t, said, want)
	}
	assert.Contains(t, UnprotectedCut.New(Number("entry", 1.2192), Number("protect", 1.524), Number("reach", 7.62)).Says(English(geo.Metre)), "A trench 1.22 m deep")
}

// What is missing is said to be, and nothing fails on it.
func TestMissing(t *testing.T) {
	assert.Equal(t, "no-such-code", Code("no-such-code").New().Says(English(geo.Foot)))
	assert.Equal(t, "Near the well ?: keep the ground around it clean.", NearWell.New().Says(English(geo.Foot)))
	assert.Equal(t, "The tapes cross at ?: a small error in one moves the hole a lot; use the third tape.", FlatCrossing.New().Says(English(geo.Foot)))
	assert.Equal(t, "No accuracy is stated: ?.", NoAccuracy.New().Says(English(geo.Foot)))
	assert.Empty(t, Says(nil, English(geo.Foot)))
	assert.Empty(t, NearWell.New().Settles(English(geo.Foot)))
}

func TestLists(t *testing.T) {
	a, b, c := NearWell.New(Parts("W")), NearWell.New(Parts("V")), WayOut.New(Number("entry", 1), Number("reach", 2))
	assert.NotEqual(t, a.Key(), b.Key())
	assert.Equal(t, []Finding{c}, Shared([]Finding{a, c}, []Finding{c, b}))
	assert.Empty(t, Shared())
	assert.Equal(t, []Finding{a}, Except([]Finding{a, c}, []Finding{c, b}))
	assert.Equal(t, []Finding{a, b}, With([]Finding{a, c, b}, NearWell))
	assert.Equal(t, []Finding{c}, Without([]Finding{a, c, b}, NearWell))
	assert.Equal(t, "H1 (r16) is L3 (70 %) or L2 (30 %)",
		MetOneOf.New(Word("hole", "H1"), Readings("r16"), Odds([]string{"L3", "L2"}, map[string]float64{"L3": 0.7, "L2": 0.3})).Says(English(geo.Foot)))
	assert.Equal(t, []string{"7 %", "under 1 %", "over 99 %", "0 %"}, []string{Percent(0.07, language.English), Percent(0.001, language.English), Percent(0.999, language.English), Percent(0, language.English)})
}

func TestRefusal(t *testing.T) {
	cause := errors.New("singular")
	err := error(Refuse(CannotFit.New(), cause))
	assert.ErrorIs(t, err, cause)
	assert.Equal(t, "the readings cannot be fitted: singular", err.Error())
	var r *Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, CannotFit, r.Code)
}
