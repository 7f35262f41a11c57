package finding

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
)

var write = flag.Bool("write", false, "rewrite testdata/english.txt: read every sentence aloud before you commit it")

// example returns a finding with something for every argument of its sentence.
func example(c Code) Finding {
	f := Finding{Code: c, Numbers: map[string]float64{}, Words: map[string]string{}}
	samples := map[string]float64{"length": 3.048, "depth": 1.524, "decimals": 0.6096, "accuracy": 0.762, "percent": 0.12, "count": 3, "degrees": 24,
		"degrees1": 12.3, "factor": 1.5, "plain": 0.02, "one": 2e-5}
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
		case form == "":
			f.Words[name] = "<" + name + ">"
		default:
			f.Numbers[name] = samples[form]
		}
	}
	return f
}

// Every sentence as it is said in feet and in metres, to be read in one place.
// No argument is missing, and a length is written in one unit alone.
func TestEnglish(t *testing.T) {
	var b strings.Builder
	for _, c := range Codes() {
		f := example(c)
		feet, metres := f.Says(geo.Foot), f.Says(geo.Metre)
		fmt.Fprintf(&b, "%s\n    %s\n", c, feet)
		if metres != feet {
			fmt.Fprintf(&b, "    %s\n", metres)
		}
		if s := f.Settles(geo.Foot); s != "" {
			fmt.Fprintf(&b, "    > %s\n", s)
		}
		for _, says := range []string{feet, metres, f.Settles(geo.Foot)} {
			assert.NotContains(t, says, "{", c)
			assert.NotContains(t, strings.ReplaceAll(says, "? ", ""), "(?", c)
			assert.Equal(t, strings.Join(strings.Fields(says), " "), says, "%s: spaces", c)
		}
		for _, a := range Arguments(c) {
			if _, form, _ := strings.Cut(a, ":"); form == "length" || form == "depth" || form == "decimals" || form == "accuracy" {
				assert.NotEqual(t, feet, metres, "%s is said in the job's unit", c)
				assert.NotRegexp(t, `\d'|\d"| ft| feet`, metres, c)
			}
		}
		assert.Equal(t, string(c), strings.ToLower(strings.ReplaceAll(string(c), " ", "-")), "a code is lower case words with hyphens")
	}
	if *write {
		require.NoError(t, os.WriteFile("testdata/english.txt", []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile("testdata/english.txt")
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

// The safety sentences name their source.
func TestSafetyHasItsSource(t *testing.T) {
	all := append(Safety(1.2192, 1.524, 7.62), CaveIn.New(), WayOut.New(), DepthUnknown.New(), SafetyInShort.New(), NotASurvey.New(), CoversToday.New(), CodeDecides.New())
	for _, f := range all {
		assert.NotEmpty(t, f.Source(), f.Code)
	}
	said := strings.Join(Sentences(Safety(1.2192, 1.524, 7.62), geo.Foot), " ")
	for _, want := range []string{"call 811", "Never enter", `4' 0" deep`, `within 25' 0"`, `5' 0" deep or more needs protection`, "not a survey"} { // 29 CFR 1926.651(c)(2), 652(a)(1)
		assert.Contains(t, said, want)
	}
	assert.Contains(t, UnprotectedCut.New(Number("entry", 1.2192), Number("protect", 1.524), Number("reach", 7.62)).Says(geo.Metre), "A trench 1.22 m deep")
}

// What is missing is said to be, and nothing fails on it.
func TestMissing(t *testing.T) {
	assert.Equal(t, "no-such-code", Code("no-such-code").New().Says(geo.Foot))
	assert.Equal(t, "Near the well ?: keep the ground around it clean.", NearWell.New().Says(geo.Foot))
	assert.Equal(t, "The tapes cross at ?: a small error in one moves the hole a lot; use the third tape.", FlatCrossing.New().Says(geo.Foot))
	assert.Equal(t, "No accuracy is stated: ?.", NoAccuracy.New().Says(geo.Foot))
	assert.Empty(t, Says(nil, geo.Foot))
	assert.Empty(t, NearWell.New().Settles(geo.Foot))
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
		MetOneOf.New(Word("hole", "H1"), Readings("r16"), Odds([]string{"L3", "L2"}, map[string]float64{"L3": 0.7, "L2": 0.3})).Says(geo.Foot))
	assert.Equal(t, []string{"7 %", "under 1 %", "over 99 %", "0 %"}, []string{Percent(0.07), Percent(0.001), Percent(0.999), Percent(0)})
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
