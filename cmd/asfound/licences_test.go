package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// accepted are the licences that ask no more than to be named (SPDX identifiers).
var accepted = []string{"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "ISC", "MIT", "MIT-0", "Zlib"}

// TestParts holds parts.json to the modules that the program is built from and to
// the lock file of the page.
func TestParts(t *testing.T) {
	all, err := parts()
	require.NoError(t, err)
	var modules []string
	for _, p := range all {
		if p.Kind == "go" && p.Name != "std" {
			modules = append(modules, p.Name+" "+p.Version)
		}
		for id := range strings.SplitSeq(p.Licence, " AND ") {
			assert.Contains(t, accepted, id, p.Name)
		}
		assert.Greater(t, len(p.Text), 50, p.Name)
	}
	var want []string
	for _, system := range []string{"linux", "windows", "darwin"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if .Version}}{{.Path}} {{.Version}}{{end}}{{end}}", ".")
		list.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+system)
		out, err := list.Output()
		require.NoError(t, err)
		want = append(want, strings.Split(strings.TrimSpace(string(out)), "\n")...)
	}
	slices.Sort(want)
	want = slices.DeleteFunc(slices.Compact(want), func(s string) bool { return s == "" })
	assert.ElementsMatch(t, want, modules, "go generate ./cmd/asfound writes it anew")

	b, err := os.ReadFile("../../web/app/package-lock.json")
	require.NoError(t, err)
	var lock struct {
		Packages map[string]struct{ Version string }
	}
	require.NoError(t, json.Unmarshal(b, &lock))
	var direct struct{ Dependencies map[string]string }
	b, err = os.ReadFile("../../web/app/package.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &direct))
	for _, p := range all {
		if p.Kind == "npm" {
			assert.Equal(t, lock.Packages["node_modules/"+p.Name].Version, p.Version, p.Name)
			delete(direct.Dependencies, p.Name)
		}
	}
	assert.Empty(t, direct.Dependencies, "packages of the page without a licence here")
}

// TestBill holds the bill of materials to the schema of its standard, which the
// library's module has: CycloneDX 1.6 (ECMA-424).
func TestBill(t *testing.T) {
	var out bytes.Buffer
	require.Equal(t, Done, Run(context.Background(), []string{"licences", "--format", "json"}, nil, &out, os.Stderr))
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/CycloneDX/cyclonedx-go").Output()
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	for _, name := range []string{"bom-1.6.schema.json", "spdx.schema.json", "jsf-0.82.schema.json"} {
		f, err := os.Open(filepath.Join(strings.TrimSpace(string(dir)), "schema", name))
		if os.IsNotExist(err) { // the signatures, which are not used, have another name there
			f, err = os.Open(filepath.Join(strings.TrimSpace(string(dir)), "schema", strings.Replace(name, ".schema.", ".schemax.", 1)))
		}
		require.NoError(t, err)
		defer f.Close()
		schema, err := jsonschema.UnmarshalJSON(f)
		require.NoError(t, err)
		require.NoError(t, c.AddResource("http://cyclonedx.org/schema/"+name, schema))
	}
	schema, err := c.Compile("http://cyclonedx.org/schema/bom-1.6.schema.json")
	require.NoError(t, err)
	bom, err := jsonschema.UnmarshalJSON(bytes.NewReader(out.Bytes()))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(bom))
	bom.(map[string]any)["components"].([]any)[0].(map[string]any)["type"] = "a thing"
	require.Error(t, schema.Validate(bom), "the schema refuses what is wrong")

	var again bytes.Buffer
	Run(context.Background(), []string{"licences", "--format", "json"}, nil, &again, os.Stderr)
	assert.Equal(t, out.String(), again.String())
	purl := regexp.MustCompile(`"purl": "(.*)"`)
	for _, m := range purl.FindAllStringSubmatch(out.String(), -1) {
		assert.Regexp(t, `^pkg:(golang|npm)/[a-zA-Z0-9%._/-]+@[a-zA-Z0-9._+() -]+$`, m[1])
	}
	assert.Contains(t, out.String(), "pkg:npm/%40petamoriken/float16@")
}

// TestLicences reads the text that people see.
func TestLicences(t *testing.T) {
	var out bytes.Buffer
	require.Equal(t, Done, Run(context.Background(), []string{"licences"}, nil, &out, os.Stderr))
	assert.Contains(t, out.String(), "github.com/ncruces/go-sqlite3")
	assert.Contains(t, out.String(), "THE SOFTWARE IS PROVIDED")
	assert.Equal(t, Misused, Run(context.Background(), []string{"licences", "--format", "pdf"}, nil, &out, &out))
}
