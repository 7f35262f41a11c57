package answer_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
)

// JSON has no NaN and no infinity (RFC 8259, section 6), and a length is not
// written more finely than it is known.
func TestNumbersInJSON(t *testing.T) {
	for want, v := range map[string]any{
		"0.305":       answer.Metres(0.3048),
		"0":           answer.Metres(-0.0001),
		"-3":          answer.Metres(-3),
		"12.1234":     answer.Turn(12.12341),
		"0.333333":    answer.Number(1.0 / 3),
		"-123.4":      answer.Degrees(-123.4),
		"1.123456789": answer.Degrees(1.1234567891),
		"null":        answer.Metres(math.NaN()),
		"[1.5,-2]":    answer.Vertex{1.5, -2},
	} {
		text, err := json.Marshal(v)
		require.NoError(t, err)
		assert.Equal(t, want, string(text))
	}
	assert.Nil(t, answer.Optional(answer.Number(math.Inf(1))), "left out")
	assert.Equal(t, answer.Number(2), *answer.Optional(answer.Number(2)))
}
