package repotest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	module = "asfound"
	root   = "../.."
)

// source is one Go file of the product, tests left out.
type source struct {
	name   string // from the root of the repository, with slashes
	folder string
	set    *token.FileSet
	file   *ast.File
	lines  int
}

// imports returns the import paths of the file by the name that it uses.
func (s source) imports() map[string]string {
	m := map[string]string{}
	for _, i := range s.file.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		name := path.Base(p)
		if name == "v2" {
			name = path.Base(path.Dir(p))
		}
		if i.Name != nil {
			name = i.Name.Name
		}
		m[name] = p
	}
	return m
}

// sources parses every Go file that is built into something.
func sources(t *testing.T) (all []source) {
	t.Helper()
	for _, name := range files(t, ".go") {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, filepath.Join(root, name), nil, parser.ParseComments)
		require.NoError(t, err)
		if slices.ContainsFunc(f.Comments, func(c *ast.CommentGroup) bool {
			return c.Pos() < f.Package && strings.Contains(c.List[0].Text, "go:build ignore")
		}) {
			continue
		}
		all = append(all, source{name, path.Dir(name), set, f, set.File(f.Pos()).LineCount()})
	}
	require.Greater(t, len(all), 50, "the tree was not found")
	return all
}

// foreign are folders with files that are not ours: files stored by tests,
// packages fetched for the type check of the page, and the built app.
var foreign = []string{"rapid", "fuzz", "node_modules", ".built"}

// files lists the files with an ending, from the root, with slashes.
func files(t *testing.T, ext string) (names []string) {
	t.Helper()
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		switch {
		case d.IsDir() && (rel == ".git" || rel == "out" || slices.Contains(foreign, d.Name())):
			return filepath.SkipDir
		case !d.IsDir() && strings.HasSuffix(rel, ext):
			names = append(names, rel)
		}
		return nil
	})
	require.NoError(t, err)
	return names
}

func text(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(root, name))
	require.NoError(t, err)
	return string(b)
}
