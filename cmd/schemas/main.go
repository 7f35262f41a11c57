// Command schemas writes what is generated from the types of answers and
// requests: the schemas of web/openapi.json and the TypeScript types of the
// page. It is for developers:
//
//	go generate ./web
//
// A test of this package fails where the files differ from what it would write.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
)

// The files, from the root of the module.
const (
	description = "web/openapi.json"
	script      = "web/app/source/answer.ts"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "schemas:", err)
		os.Exit(1)
	}
}

// run writes the files. It starts in the folder web, where go generate does.
func run() error {
	if err := os.Chdir(".."); err != nil {
		return err
	}
	files, err := generate()
	if err != nil {
		return err
	}
	for name, text := range files {
		if err := os.WriteFile(name, text, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// generate returns the files by name. It reads the comments of the source, so
// it has to be at the root of the module.
func generate() (map[string][]byte, error) {
	all, err := reflected()
	if err != nil {
		return nil, err
	}
	old, err := os.ReadFile(description)
	if err != nil {
		return nil, err
	}
	described, err := describe(old, all)
	if err != nil {
		return nil, err
	}
	return map[string][]byte{description: described, script: typeScript(all)}, nil
}

// document is openapi.json. Its hand-written parts are left unchanged.
type document struct {
	OpenAPI    string          `json:"openapi"`
	Info       json.RawMessage `json:"info"`
	Servers    json.RawMessage `json:"servers"`
	Security   json.RawMessage `json:"security"`
	Paths      json.RawMessage `json:"paths"`
	Components struct {
		SecuritySchemes json.RawMessage `json:"securitySchemes"`
		Responses       json.RawMessage `json:"responses"`
		Schemas         json.RawMessage `json:"schemas"`
	} `json:"components"`
}

// describe puts the schemas into the description.
func describe(old []byte, all definitions) ([]byte, error) {
	var d document
	r := json.NewDecoder(bytes.NewReader(old))
	r.DisallowUnknownFields() // they would be lost
	if err := r.Decode(&d); err != nil {
		return nil, fmt.Errorf("%s: %w", description, err)
	}
	text, err := encode(all)
	if err != nil {
		return nil, err
	}
	d.Components.Schemas = bytes.ReplaceAll(text, []byte(local), []byte("#/components/schemas/"))
	if text, err = encode(d); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = json.Indent(&out, text, "", " ")
	return out.Bytes(), err
}

// encode returns JSON with <, > and & as they are.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}
