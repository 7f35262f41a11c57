package api_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/web/api"
)

// spoken are the members of answers that hold sentences.
var spoken = []string{"note", "says", "cautions", "learnt", "warnings", "doubtful", "remark", "settles", "then", "side"}

// TestLanguageChangesWordsAlone holds every number, code and place of an answer to
// being the same in both languages, in the order of the lists, and every sentence to
// being another one.
func TestLanguageChangesWordsAlone(t *testing.T) {
	said := map[string]int{} // sentences of each stage
	for _, site := range bundled {
		var m api.Memory // one for both: what is kept must not be in a language
		for _, stage := range []string{"belief", "plan", "preview", "check", "question"} {
			t.Run(site+" "+stage, func(t *testing.T) {
				job := jobOf(t, site)
				in := func(tag string) (v any) {
					text, err := m.Run(t.Context(), stage, encode(t, map[string]any{"job": job, "language": tag, "with": []string{"history"},
						"rows": []any{map[string]string{"id": "q1", "kind": "tape", "from": "A", "to": "B", "value": "3000 ft"}}}))
					require.NoError(t, err)
					require.NoError(t, json.Unmarshal(text, &v))
					return v
				}
				n := 0
				sameBut(t, "", in("en"), in("es"), &n)
				said[stage] += n
			})
		}
	}
	for stage, least := range map[string]int{"belief": 10, "plan": 20, "question": 2} {
		assert.GreaterOrEqual(t, said[stage], least, stage)
	}
}

// sameBut compares two answers. Members that hold sentences have to differ.
func sameBut(t *testing.T, at string, en, es any, said *int) {
	t.Helper()
	switch en := en.(type) {
	case map[string]any:
		other, ok := es.(map[string]any)
		require.True(t, ok, at)
		require.Equal(t, slices.Sorted(maps.Keys(en)), slices.Sorted(maps.Keys(other)), at)
		for k, v := range en {
			sameBut(t, at+"."+k, v, other[k], said)
		}
	case []any:
		other, ok := es.([]any)
		require.True(t, ok && len(other) == len(en), at)
		for i, v := range en {
			sameBut(t, fmt.Sprintf("%s[%d]", at, i), v, other[i], said)
		}
	case string:
		parts := strings.Split(at, ".")
		name, _, _ := strings.Cut(parts[len(parts)-1], "[")
		if !slices.Contains(spoken, name) {
			assert.Equal(t, any(en), es, at)
			return
		}
		*said++
		if en != "" {
			assert.NotEqual(t, any(en), es, "%s is in English in both", at)
		}
	default:
		assert.Equal(t, en, es, at)
	}
}

// A refusal is in the language that was asked for, and an unknown language is
// refused by name.
func TestRefusedInALanguage(t *testing.T) {
	for tag, says := range map[string]string{"en": "the job cannot be read", "es": "el trabajo no se puede leer"} {
		_, err := api.Run(t.Context(), "belief", []byte(`{"job":{"sketch":{"type":"nothing"}},"language":"`+tag+`"}`))
		require.Error(t, err)
		assert.Contains(t, err.Error(), says)
	}
	_, err := api.Run(t.Context(), "belief", []byte(`{"job":{"sketch":null},"language":"fr"}`))
	assert.ErrorContains(t, err, `language "fr"; want en or es`)
}

// A row that is left out is said to be in the language that was asked for, with what
// would be right.
func TestLeftOutInALanguage(t *testing.T) {
	job := jobOf(t, "demo")
	job.Rows = append(job.Rows, map[string]string{"id": "v9", "kind": "void", "target": "nope"})
	for tag, says := range map[string]string{
		"en": `readings.csv, reading "v9", target: found "nope"; want the id of a reading; a row without one is called r and its row number`,
		"es": `readings.csv, lectura "v9", target: dice "nope"; se necesita: el id de una lectura; una fila sin id se llama r y su número de fila`,
	} {
		text, err := api.Run(t.Context(), "belief", encode(t, map[string]any{"job": job, "language": tag}))
		require.NoError(t, err)
		var b answer.Belief
		require.NoError(t, json.Unmarshal(text, &b))
		require.Len(t, b.Problems, 1)
		assert.Equal(t, says, b.Problems[0].Says)
	}
}
