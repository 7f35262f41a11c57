package geojson

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// tree reads a whole value the way the decoder reads parts of it.
func tree(v value) any {
	switch v.kind() {
	case '{':
		m := map[string]any{}
		for e := range v.members() {
			m[e.name] = tree(e.value)
		}
		return m
	case '[':
		a := []any{}
		for _, item := range v.items() {
			a = append(a, tree(item))
		}
		return a
	case '"':
		return v.text()
	case '0':
		x, _ := v.number()
		return x
	case 't':
		return true
	case 'f':
		return false
	}
	return nil
}

// TestValue holds this reader of JSON against encoding/json, on any JSON and in
// either of two layouts.
func TestValue(t *testing.T) {
	leaf := rapid.OneOf(
		rapid.Just[any](nil), rapid.Map(rapid.Bool(), func(b bool) any { return b }),
		rapid.Map(rapid.Float64Range(-1e9, 1e9), func(x float64) any { return x }),
		rapid.Map(rapid.String(), func(s string) any { return s }),
		rapid.SampledFrom([]any{`]},:"\`, "\\", "a\"b", "{[", "é\u2028", ""}),
	)
	var nested func(depth int) *rapid.Generator[any]
	nested = func(depth int) *rapid.Generator[any] {
		if depth == 0 {
			return leaf
		}
		return rapid.OneOf(leaf,
			rapid.Map(rapid.SliceOfN(nested(depth-1), 0, 4), func(a []any) any { return a }),
			rapid.Map(rapid.MapOfN(rapid.String(), nested(depth-1), 0, 4), func(m map[string]any) any { return m }))
	}
	rapid.Check(t, func(t *rapid.T) {
		text, err := json.Marshal(nested(4).Draw(t, "value"))
		require.NoError(t, err)
		if rapid.Bool().Draw(t, "spread out") {
			var v any
			require.NoError(t, json.Unmarshal(text, &v))
			text, err = json.MarshalIndent(v, " \t\r\n", "\t")
			require.NoError(t, err)
		}
		var want any
		require.NoError(t, json.Unmarshal(text, &want))
		assert.Equal(t, want, tree(value(space(text))), "%s", text)
	})
}
