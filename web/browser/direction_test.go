package browser

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// TestDirection logs a pipe that the sketch does not have and which way it runs:
// the row reaches the log with what was chosen, the engine takes it, and a hole
// that met nothing asks for no direction.
func TestDirection(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	b.settled()

	b.press("Log a hole")
	b.press("○ Nothing")
	assert.NotContains(t, b.text(), "12 o'clock")
	b.press("Back")
	b.settled()

	b.press("Log a hole")
	b.press("A pipe, not sure which")
	b.fill("The pipe runs toward", "2:30")
	b.fill("where 12 o'clock is", "B")
	b.fill("Water flows", "against")
	b.sees("Standing at the hole and facing B, it runs toward 2:30.")
	b.look("phone-direction")
	b.keys("3'2")
	b.press("Save")
	b.sees("Undo")
	b.settled()
	rows := b.logged("found")
	row := rows[len(rows)-1]
	require.Equal(t, "header", row["target"])
	assert.Equal(t, []string{"2:30", "B", "against"}, []string{row["runs"], row["facing"], row["flow"]})
	assert.NotContains(t, b.text(), "left out")
	assert.Empty(t, b.log, "exceptions")
}
