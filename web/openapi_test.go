package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web"
	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/entry"
)

// described is what openapi.json says, as far as it is compared.
type described struct {
	OpenAPI string `json:"openapi"`
	Paths   map[string]map[string]struct {
		Roles       []string          `json:"x-roles"`
		Security    *[]map[string]any `json:"security"`
		RequestBody *struct {
			Content map[string]any `json:"content"`
		} `json:"requestBody"`
		Parameters []struct{ Name, In string } `json:"parameters"`
		Responses  map[string]any              `json:"responses"`
	} `json:"paths"`
	Components struct {
		Schemas map[string]any `json:"schemas"`
	} `json:"components"`
}

func description(t *testing.T) (d described) {
	t.Helper()
	text, err := os.ReadFile("openapi.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &d))
	return d
}

// TestEveryRouteIsDescribed checks the description against the table, both
// ways: who may use it, what body, which parameters.
func TestEveryRouteIsDescribed(t *testing.T) {
	d := description(t)
	assert.Equal(t, "3.1.0", d.OpenAPI)
	left := map[string]bool{}
	for path, ops := range d.Paths {
		for method := range ops {
			left[strings.ToUpper(method)+" "+path] = true
		}
	}
	for _, r := range web.Routes {
		if !strings.HasPrefix(r.Path, "/api/") {
			continue
		}
		key := r.Method + " " + r.Path
		if !assert.True(t, left[key], "%s is not described", key) {
			continue
		}
		delete(left, key)
		op := d.Paths[r.Path][strings.ToLower(r.Method)]
		var roles []string
		for _, role := range r.Roles() {
			roles = append(roles, string(role))
		}
		if r.Action == web.Public {
			roles = append(roles, "stranger")
			assert.NotNil(t, op.Security, "%s: a stranger may", key)
		}
		assert.ElementsMatch(t, roles, op.Roles, key)
		if r.Takes == "" {
			assert.Nil(t, op.RequestBody, key)
		} else if assert.NotNil(t, op.RequestBody, key) {
			assert.Equal(t, []string{r.Takes}, slices.Collect(maps.Keys(op.RequestBody.Content)), key)
		}
		for _, p := range op.Parameters {
			if p.In == "path" {
				assert.Contains(t, r.Path, "{"+p.Name+"}", key)
			}
		}
	}
	assert.Empty(t, left, "described, but not there")
	assert.ElementsMatch(t, slices.Collect(maps.Keys(api.Papers)), d.Components.Schemas["PaperName"].(map[string]any)["enum"])
}

// schemas checks values by the schemas of the description: JSON Schema 2020-12,
// by a validator that is not ours.
type schemas struct {
	t *testing.T
	c *jsonschema.Compiler
}

func newSchemas(t *testing.T) *schemas {
	t.Helper()
	text, err := os.ReadFile("openapi.json")
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	c.AssertFormat()
	require.NoError(t, c.AddResource("openapi.json", doc))
	return &schemas{t, c}
}

// hold checks a JSON text by the schema at a pointer into the description.
func (s *schemas) hold(pointer, what string, text []byte) {
	s.t.Helper()
	schema, err := s.c.Compile("openapi.json#" + pointer)
	require.NoError(s.t, err)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(s.t, err, "%s: %.200s", what, text)
	assert.NoError(s.t, schema.Validate(v), what)
}

func (s *schemas) named(name, what string, text []byte) {
	s.t.Helper()
	s.hold("/components/schemas/"+name, what, text)
}

// TestSchemasBite shows that the schemas reject what they must.
func TestSchemasBite(t *testing.T) {
	s := newSchemas(t)
	for name, text := range map[string]string{"Session": `{"name": "x", "role": "king", "server_time": "2026-05-04T00:00:00Z"}`, "Refusal": `{}`, "Created": `{"id": "short"}`} {
		schema, err := s.c.Compile("openapi.json#/components/schemas/" + name)
		require.NoError(t, err)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		require.NoError(t, err)
		assert.Error(t, schema.Validate(v), name)
	}
}

// TestAnswersAreAsDescribed calls every route of the interface, and checks the
// answers against the description: the status is one of those named, and the
// body has the form for that status.
func TestAnswersAreAsDescribed(t *testing.T) {
	w, s, d := newWorld(t), newSchemas(t), description(t)
	id := func(n byte) string { return entry.NewID(time.Now(), [10]byte{9: n}) }
	logged := fmt.Sprintf(`{"entries": [{"id": %q, "job": %q, "kind": "reading", "at": "2026-05-04T09:30:00.000Z", "by": "test", "body": {"kind": "tape", "from": "A", "to": "H9", "value": "20 ft"}}, {"id": "bad"}]}`, id(1), w.job)
	s.named("Entries", "request", fmt.Appendf(nil, `{"entries": [{"id": %q, "job": %q, "kind": "reading", "at": "2026-05-04T09:30:00.000Z", "by": "test", "body": {}}]}`, id(1), w.job))
	job, err := w.site.Store.Job(t.Context(), w.job)
	require.NoError(t, err)
	request := func(more string) string {
		text, err := json.Marshal(api.JobOf(job))
		require.NoError(t, err)
		return `{"job": ` + string(text) + more + `}`
	}
	stage := func(name string) string { return "/api/stage/" + name }
	_, token, err := w.site.Gate.Invite(t.Context(), access.Tech, "new", time.Hour)
	require.NoError(t, err)
	_, _, packed := w.ask(access.Lead, "GET", "/api/jobs/"+w.job+"/folder.zip", "", nil)
	called := map[string]bool{}
	for _, tt := range []struct {
		role               access.Role
		method, path, at   string
		kind, body, schema string
		status             int
	}{
		{"", "GET", "/api/openapi.json", "", "", "", "", 200},
		{"", "POST", "/api/session", "", web.JSON, `{"token": "` + token + `", "name": "Desk"}`, "Session", 200},
		{"", "POST", "/api/session", "", web.JSON, `{"token": "` + token + `"}`, "", 401},
		{"", "POST", "/api/session", "", web.JSON, `{`, "", 400},
		{"", "POST", "/api/session", "", "text/plain", `{}`, "", 415},
		{access.Tech, "GET", "/api/session", "", "", "", "Session", 200},
		{"", "GET", "/api/session", "", "", "", "", 401},
		{access.Lead, "GET", "/api/jobs", "", "", "", "", 200},
		{access.Office, "POST", "/api/jobs", "", web.Zip, string(packed), "Created", 201},
		{access.Office, "POST", "/api/jobs", "", web.Zip, "PK", "", 400},
		{access.Tech, "POST", "/api/jobs", "", web.Zip, string(packed), "", 403},
		{access.Tech, "GET", "/api/jobs/" + w.job + "/folder.zip", "/api/jobs/{job}/folder.zip", "", "", "", 200},
		{access.Tech, "GET", "/api/jobs/" + id(7) + "/folder.zip", "/api/jobs/{job}/folder.zip", "", "", "", 404},
		{access.Office, "GET", "/api/jobs/" + w.job + "/papers/map.svg?date=2026-05-04", "/api/jobs/{job}/papers/{name}", "", "", "", 200},
		{access.Office, "GET", "/api/jobs/" + w.job + "/papers/map.svg?language=es", "/api/jobs/{job}/papers/{name}", "", "", "", 200},
		{access.Office, "GET", "/api/jobs/" + w.job + "/papers/map.svg?language=fr", "/api/jobs/{job}/papers/{name}", "", "", "", 400},
		{access.Office, "GET", "/api/jobs/" + w.job + "/papers/map.svg?date=May", "/api/jobs/{job}/papers/{name}", "", "", "", 400},
		{access.Office, "GET", "/api/jobs/" + w.job + "/papers/map.png", "/api/jobs/{job}/papers/{name}", "", "", "", 404},
		{access.Tech, "POST", "/api/entries", "", web.JSON, logged, "Logged", 200},
		{access.Tech, "POST", "/api/entries", "", web.JSON, `[]`, "", 400},
		{access.Tech, "GET", "/api/entries", "", "", "", "Page", 200},
		{access.Tech, "GET", "/api/entries?after=x", "/api/entries", "", "", "", 400},
		{access.Tech, "POST", stage("check"), "/api/stage/{name}", web.JSON, request(""), "Check", 200},
		{access.Tech, "POST", stage("belief"), "/api/stage/{name}", web.JSON, request(`, "with": ["history", "plan"]`), "Belief", 200},
		{access.Tech, "POST", stage("preview"), "/api/stage/{name}", web.JSON, request(""), "Preview", 200},
		{access.Tech, "POST", stage("plan"), "/api/stage/{name}", web.JSON, request(`, "seek": "tank"`), "Plan", 200},
		{access.Tech, "POST", stage("without"), "/api/stage/{name}", web.JSON, request(`, "drop": ["r12"]`), "Without", 200},
		{access.Tech, "POST", stage("paper"), "/api/stage/{name}", web.JSON, request(`, "name": "spots.csv"`), "Paper", 200},
		{access.Tech, "POST", stage("length"), "/api/stage/{name}", web.JSON, `{"text": "3'", "unit": "ft"}`, "Length", 200},
		{access.Tech, "POST", stage("lonlat"), "/api/stage/{name}", web.JSON, `{"crs": "EPSG:32710", "places": [[470700, 4583500]]}`, "LonLats", 200},
		{access.Tech, "POST", stage("belief"), "/api/stage/{name}", web.JSON, `{"job": {}}`, "", 400},
		{access.Tech, "POST", stage("tea"), "/api/stage/{name}", web.JSON, `{}`, "", 404},
		{access.Lead, "POST", "/api/invites", "", web.JSON, `{"role": "tech", "name": "Phone 3", "hours": 2}`, "Invitation", 201},
		{access.Lead, "POST", "/api/invites", "", web.JSON, `{"role": "king"}`, "", 400},
		{access.Lead, "GET", "/api/invites", "", "", "", "", 200},
		{access.Lead, "DELETE", "/api/invites/none", "/api/invites/{id}", "", "", "", 404},
		{access.Lead, "GET", "/api/devices", "", "", "", "", 200},
		{access.Lead, "DELETE", "/api/devices/none", "/api/devices/{id}", "", "", "", 404},
		{access.Office, "GET", "/api/devices", "", "", "", "", 403},
		{access.Lead, "GET", "/api/backup", "", "", "", "", 200},
		{access.Lead, "GET", "/api/acts", "", "", "", "", 200},
		{access.Lead, "GET", "/api/acts.csv", "", "", "", "", 200},
		{access.Tech, "PUT", "/api/jobs/" + w.job + "/files/" + sum("note"), "/api/jobs/{job}/files/{sha256}", "text/plain", "note", "", 204},
		{access.Tech, "PUT", "/api/jobs/" + w.job + "/files/" + sum("other"), "/api/jobs/{job}/files/{sha256}", "text/plain", "note", "", 400},
		{access.Tech, "GET", "/api/jobs/" + w.job + "/files/" + sum("note"), "/api/jobs/{job}/files/{sha256}", "", "", "", 404},
		{access.Office, "DELETE", "/api/session", "", "", "", "", 204},
	} {
		path := tt.at
		if path == "" {
			path = tt.path
		}
		name := fmt.Sprintf("%s %s as %s: %d", tt.method, tt.path, tt.role, tt.status)
		t.Run(name, func(t *testing.T) {
			status, head, text := w.ask(tt.role, tt.method, tt.path, tt.kind, []byte(tt.body))
			require.Equal(t, tt.status, status, "%.300s", text)
			op := d.Paths[path][strings.ToLower(tt.method)]
			called[tt.method+" "+path] = true
			require.Contains(t, op.Responses, fmt.Sprint(status), "the status is not described")
			pointer := strings.NewReplacer("~", "~0", "/", "~1").Replace(path)
			switch {
			case status >= 400:
				s.named("Refusal", name, text)
			case status == http.StatusNoContent:
				assert.Empty(t, text)
			case head.Get("Content-Type") == web.JSON:
				s.hold(fmt.Sprintf("/paths/%s/%s/responses/%d/content/application~1json/schema", pointer, strings.ToLower(tt.method), status), name, text)
			}
			if tt.schema != "" {
				s.named(tt.schema, name, text)
			}
		})
	}
	for path, ops := range d.Paths {
		for method := range ops {
			assert.True(t, called[strings.ToUpper(method)+" "+path], "%s %s was not asked", method, path)
		}
	}
}
