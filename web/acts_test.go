package web_test

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
)

// TestActsAreKept does each thing that is kept, and reads it as the lead. No act
// can be changed or removed, and a name that a spreadsheet would take for a
// formula is text in the table.
func TestActsAreKept(t *testing.T) {
	w := newWorld(t)
	ask := func(role access.Role, want int, method, path, kind, body string) string {
		t.Helper()
		status, _, text := w.ask(role, method, path, kind, []byte(body))
		require.Equal(t, want, status, "%s", text)
		return string(text)
	}
	const formula = `=HYPERLINK("http://127.0.0.1/","x")`
	invitation := ask(access.Lead, 201, "POST", "/api/invites", web.JSON, `{"role": "tech", "name": "+1 phone", "hours": 1}`)
	token := invitation[strings.Index(invitation, "#join=")+len("#join="):]
	token = token[:strings.IndexByte(token, '"')]
	ask("", 200, "POST", "/api/session", web.JSON, `{"token": "`+token+`", "name": `+quoted(formula)+`}`)
	ask("", 401, "POST", "/api/session", web.JSON, `{"token": "`+token+`"}`)
	ask(access.Tech, 403, "GET", "/api/devices", "", "")
	ask(access.Office, 200, "GET", "/api/jobs/"+w.job+"/folder.zip", "", "")
	ask(access.Office, 204, "DELETE", "/api/session", "", "")
	ask(access.Lead, 200, "GET", "/api/backup", "", "")
	var devices []access.Device
	w.get(access.Lead, "/api/devices", &devices)
	ask(access.Lead, 204, "DELETE", "/api/devices/"+devices[len(devices)-1].ID, "", "")

	var acts []access.Act
	w.get(access.Lead, "/api/acts", &acts)
	var got [][3]string
	for _, a := range acts {
		assert.Equal(t, "127.0.0.1", a.Address)
		assert.False(t, a.At.IsZero())
		got = append(got, [3]string{a.Name, string(a.Act), a.About})
	}
	assert.Equal(t, [][3]string{
		{"lead", "revoked", formula + ", tech"},
		{"lead", "backed up", ""},
		{"office", "left", ""},
		{"office", "exported", w.job},
		{"tech", "refused", "GET /api/devices: this is not for the role tech; ask the lead"},
		{"", "refused", "POST /api/session: this link was used already, and works only once: ask the lead for a new one"},
		{formula, "joined", "tech"},
		{"lead", "invited", "+1 phone, tech"},
	}, got)

	rows, err := csv.NewReader(strings.NewReader(ask(access.Lead, 200, "GET", "/api/acts.csv", "", ""))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(acts)+1)
	assert.Equal(t, "exported", rows[1][2], "to take the table is one of them")
	cells := map[string]bool{}
	for _, row := range rows {
		for _, cell := range row {
			cells[cell] = true
			assert.False(t, strings.HasPrefix(cell, "=") || strings.HasPrefix(cell, "+"), "%s", cell)
		}
	}
	assert.True(t, cells["'"+formula] && cells["'+1 phone, tech"])

	for range 30 {
		ask(access.Tech, http.StatusForbidden, "GET", "/api/devices", "", "")
	}
	w.get(access.Lead, "/api/acts", &acts)
	assert.Less(t, len(acts), 15, "who asks again and again fills some lines, not the disk")
}

// quoted returns s as JSON has it.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `\"`) + `"` }
