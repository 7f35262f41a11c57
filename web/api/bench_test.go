package api_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/web/api"
)

// BenchmarkStage measures what a phone waits for, on the demo site.
func BenchmarkStage(b *testing.B) {
	for _, bb := range []struct {
		name, stage string
		more        map[string]any
	}{
		{"check", "check", nil},
		{"belief", "belief", nil},
		{"belief with plan", "belief", map[string]any{"with": []string{"plan"}}},
		{"belief with history", "belief", map[string]any{"with": []string{"history"}}},
		{"dig plan on paper", "paper", map[string]any{"name": "digplan.pdf"}},
		{"record on paper", "paper", map[string]any{"name": "record.pdf"}},
	} {
		q := request(b, "demo", bb.more)
		b.Run(bb.name, func(b *testing.B) {
			for b.Loop() {
				_, err := api.Run(b.Context(), bb.stage, q)
				require.NoError(b, err)
			}
		})
	}
}
