package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"

	"asfound/survey/answer"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// local is what a reference among the definitions begins with.
const local = "#/$defs/"

type definitions = map[string]*jsonschema.Schema

// files are the answers that exist only in files and on the terminal; the
// stages declare their own answers.
var files = []any{answer.FitAnswer{}, answer.Location{}, answer.Rehearsal{}, answer.Collection{}, answer.AsBuilt{}, answer.AsBuiltSpot{},
	answer.SpotProperties{}, answer.RegionProperties{}, answer.HoleProperties{}, answer.TieProperties{}}

// exchanged is what phones, desk and server exchange besides the stages.
var exchanged = []any{answer.Refusal{}, web.Session{}, web.Join{}, web.Invitation{}, web.NewInvite{}, web.Created{}, web.Page{}, web.Entries{}, web.Logged{},
	access.Invite{}, access.Device{}, access.Act{}, logbook.JobSummary{}, entry.Entry{}}

// folders have the source of all these types.
var folders = []string{"geo/language", "survey/answer", "web", "web/access", "web/api", "web/entry", "web/logbook"}

// reflected returns the schema of every type, by name.
func reflected() (definitions, error) {
	words, err := wordsOf(folders)
	if err != nil {
		return nil, err
	}
	words["asfound/web/api.PaperName"] = words["asfound/web/api.PaperName"].or(slices.Sorted(maps.Keys(api.Papers)))
	all := definitions{}
	packages := map[string]string{}
	r := &jsonschema.Reflector{Anonymous: true}
	for _, f := range folders {
		if err := r.AddGoComments("asfound", f, jsonschema.WithFullComment()); err != nil {
			return nil, err
		}
	}
	for name, text := range r.CommentMap {
		r.CommentMap[name] = strings.Join(strings.Fields(text), " ")
	}
	r.Namer = func(t reflect.Type) string {
		name := t.Name()
		if name == "wire" {
			name = "Entry" // its form in JSON
		}
		if was := packages[name]; was != "" && was != t.PkgPath() {
			err = fmt.Errorf("two types are called %s: of %s and of %s", name, was, t.PkgPath())
		}
		packages[name] = t.PkgPath()
		return name
	}
	r.Mapper = func(t reflect.Type) *jsonschema.Schema {
		name := t.PkgPath() + "." + t.Name()
		w, ok := words[name]
		if !ok {
			return nil
		}
		all[t.Name()] = &jsonschema.Schema{Type: "string", Enum: w.values, Description: strings.TrimSpace(r.CommentMap[name] + " " + w.says())}
		return &jsonschema.Schema{Ref: local + t.Name()}
	}
	roots := slices.Concat(files, exchanged)
	for _, f := range api.Forms {
		roots = append(roots, f.Request, f.Answer)
	}
	for _, v := range roots {
		maps.Copy(all, r.Reflect(v).Definitions)
	}
	for _, s := range all {
		tidy(s)
	}
	return all, err
}

// tidy moves the description of a nullable member out of the case in which it
// is not null.
func tidy(s *jsonschema.Schema) {
	if s.Properties == nil {
		return
	}
	for p := s.Properties.Oldest(); p != nil; p = p.Next() {
		if one, ok := nullable(p.Value); ok {
			p.Value.Description, one.Description = one.Description, ""
		}
	}
}

// nullable returns the schema of a nullable member in the case that it is not
// null.
func nullable(s *jsonschema.Schema) (one *jsonschema.Schema, ok bool) {
	if len(s.OneOf) != 2 || s.OneOf[1].Type != "null" {
		return nil, false
	}
	return s.OneOf[0], true
}

// vocabulary is the values that a type of text has, with what each means.
type vocabulary struct {
	values []any
	means  []string
}

// or returns the vocabulary, with these values if it has none.
func (v vocabulary) or(values []string) vocabulary {
	for _, s := range values {
		v.values, v.means = append(v.values, s), append(v.means, "")
	}
	return v
}

func (v vocabulary) says() string {
	var all []string
	for i, m := range v.means {
		if m != "" {
			all = append(all, fmt.Sprintf("%s: %s", v.values[i], m))
		}
	}
	if all == nil {
		return ""
	}
	return strings.Join(all, "; ") + "."
}

// wordsOf reads the constants of types of text, by the full name of the type.
func wordsOf(folders []string) (map[string]vocabulary, error) {
	all := map[string]vocabulary{}
	for _, folder := range folders {
		names, err := fs.Glob(os.DirFS(folder), "*.go")
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			f, err := parser.ParseFile(token.NewFileSet(), path.Join(folder, name), nil, parser.ParseComments)
			if err != nil {
				return nil, err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				c, ok := n.(*ast.ValueSpec)
				if !ok || len(c.Values) != 1 {
					return true
				}
				kind, named := c.Type.(*ast.Ident)
				value, text := c.Values[0].(*ast.BasicLit)
				if !named || !text || value.Kind != token.STRING || kind.Name == "string" {
					return true
				}
				s, err := strconv.Unquote(value.Value)
				if err != nil {
					return true
				}
				key := "asfound/" + folder + "." + kind.Name
				w := all[key]
				w.values, w.means = append(w.values, s), append(w.means, strings.Join(strings.Fields(c.Comment.Text()), " "))
				all[key] = w
				return true
			})
		}
	}
	return all, nil
}
