package language_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo/language"
)

func TestParse(t *testing.T) {
	for _, tag := range language.All {
		got, err := language.Parse(string(tag))
		require.NoError(t, err)
		assert.Equal(t, tag, got)
	}
	none, err := language.Parse("")
	require.NoError(t, err)
	assert.Equal(t, language.English, none)
	for _, unknown := range []string{"fr", "EN", "es-MX", "spanish", " es"} {
		_, err := language.Parse(unknown)
		assert.EqualError(t, err, `language "`+unknown+`"; want en or es`)
	}
}

// An unknown language of a request is refused by name.
func TestUnmarshal(t *testing.T) {
	var q struct{ Language language.Tag }
	require.NoError(t, json.Unmarshal([]byte(`{"language":"es"}`), &q))
	assert.Equal(t, language.Spanish, q.Language)
	assert.ErrorContains(t, json.Unmarshal([]byte(`{"language":"fr"}`), &q), `language "fr"; want en or es`)
}
