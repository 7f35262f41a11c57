package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
)

// TestTruths writes the table of two digs by hand: the first is promised 0.2 and then
// 0.8, and ends with its second hole; the second follows a line, as promised.
func TestTruths(t *testing.T) {
	c := &cell{trust: asbuilt.Roughly, mix: tapes}
	c.said.add([]promise{{chance: 0.2, expected: 3}, {chance: 0.8, kept: true, expected: 1, dug: 1}}, 2)
	c.said.add([]promise{{chance: 1, follow: true, kept: true, expected: 2}}, 1)
	var b strings.Builder
	truths(&b, []*cell{c})
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	// Brier scores: (0.2² + 0.2² + 0²)/3 = 0.027, and of 2/3 always (2/3)(1/3) = 0.222.
	assert.Regexp(t, `^\| roughly, tapes \(3\) \|.*\| 0\.027 / 0\.222 \| 2\.5 / 1\.5 \| 2\.0 / 1\.3 \|$`, lines[len(lines)-3])
	assert.Contains(t, lines[len(lines)-2], "roughly, tapes: holes (2)")
	assert.Contains(t, lines[len(lines)-2], "0.20 / 0.00")
	assert.Contains(t, lines[len(lines)-2], "0.80 / 1.00")
	assert.Contains(t, lines[len(lines)-1], "roughly, tapes: lines followed (1)")
}
