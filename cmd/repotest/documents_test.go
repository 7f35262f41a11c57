package repotest

import (
	"go/ast"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestEveryPackageHasOneDoc expects one package comment in each package,
// beginning as go doc expects.
func TestEveryPackageHasOneDoc(t *testing.T) {
	docs, named := map[string]int{}, map[string]string{}
	for _, s := range sources(t) {
		named[s.folder] = s.file.Name.Name
		if s.file.Doc == nil {
			continue
		}
		docs[s.folder]++
		begin := "Package " + s.file.Name.Name + " "
		if s.file.Name.Name == "main" {
			begin = "Command " + filepath.Base(s.folder) + " "
		}
		assert.True(t, strings.HasPrefix(s.file.Doc.Text(), begin), "%s: the package comment begins with %q", s.name, begin)
	}
	for folder := range named {
		assert.Equal(t, 1, docs[folder], "%s: package comments", folder)
	}
}

// TestEveryExportIsDocumented expects a comment on everything that is exported.
func TestEveryExportIsDocumented(t *testing.T) {
	for _, s := range sources(t) {
		for _, d := range s.file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && exportedReceiver(d) {
					assert.NotEmpty(t, d.Doc.Text(), "%s: %s has no comment", s.name, d.Name.Name)
				}
			case *ast.GenDecl:
				for _, spec := range d.Specs {
					documented(t, s, d, spec)
				}
			}
		}
	}
}

func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	x := d.Recv.List[0].Type
	if p, ok := x.(*ast.StarExpr); ok {
		x = p.X
	}
	id, ok := x.(*ast.Ident)
	return ok && id.IsExported()
}

func documented(t *testing.T, s source, d *ast.GenDecl, spec ast.Spec) {
	t.Helper()
	switch spec := spec.(type) {
	case *ast.TypeSpec:
		if spec.Name.IsExported() {
			assert.NotEmpty(t, d.Doc.Text()+spec.Doc.Text()+spec.Comment.Text(), "%s: type %s has no comment", s.name, spec.Name.Name)
		}
	case *ast.ValueSpec:
		for _, n := range spec.Names {
			if n.IsExported() {
				assert.NotEmpty(t, d.Doc.Text()+spec.Doc.Text()+spec.Comment.Text(), "%s: %s has no comment", s.name, n.Name)
			}
		}
	}
}

// TestFilesAreShort keeps files to one subject, by their length.
func TestFilesAreShort(t *testing.T) {
	for _, s := range sources(t) {
		assert.LessOrEqual(t, s.lines, mostLines, "%s: split it by subject", s.name)
	}
	pages := 0
	for _, name := range slices.Concat(files(t, ".ts"), files(t, ".tsx")) {
		if !strings.HasPrefix(name, "web/app/source/") && !strings.HasPrefix(name, "web/app/trace/") && !strings.HasPrefix(name, "web/app/picture/") {
			continue // fetched
		}
		if strings.HasPrefix(text(t, name), "// Code generated") {
			continue
		}
		pages++
		assert.LessOrEqual(t, strings.Count(text(t, name), "\n"), mostLines, "%s: split it by subject", name)
	}
	assert.Greater(t, pages, 20, "the page was not found")
}

// mostLines is how many lines a file may have, of Go or of the page.
const mostLines = 600

// link is a Markdown link or picture.
var link = regexp.MustCompile(`\]\(([^)\s]+)\)`)

// heading is a Markdown heading.
var heading = regexp.MustCompile(`(?m)^#+ (.+)$`)

// TestLinksResolve expects every relative link of the documents to lead to a
// file, and every one with # to a heading.
func TestLinksResolve(t *testing.T) {
	for _, doc := range files(t, ".md") {
		body := text(t, doc)
		anchors := map[string]bool{}
		for _, h := range heading.FindAllStringSubmatch(body, -1) {
			anchors[anchor(h[1])] = true
		}
		for _, m := range link.FindAllStringSubmatch(body, -1) {
			switch to := m[1]; {
			case strings.HasPrefix(to, "http"):
			case strings.HasPrefix(to, "#"):
				assert.True(t, anchors[to[1:]], "%s: no heading for %s", doc, to)
			default:
				to, _, _ = strings.Cut(to, "#")
				_, err := os.Stat(filepath.Join(root, filepath.Dir(doc), to))
				assert.NoError(t, err, "%s", doc)
			}
		}
	}
}

// anchor returns the name that a heading gets in a rendered document.
func anchor(h string) string {
	h = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(h), " ", "-"))
	return regexp.MustCompile(`[^\p{L}\p{N}_-]`).ReplaceAllString(h, "")
}

// TestNoMachinePaths allows nothing in the tree that is true on one machine
// only.
func TestNoMachinePaths(t *testing.T) {
	for _, name := range files(t, "") {
		switch filepath.Ext(name) {
		case ".go", ".md", ".json", ".geojson", ".csv", ".txtar", ".mod", "":
		default:
			continue
		}
		for _, path := range []string{"/" + "work/", "/" + "root/", "/" + "home/"} {
			assert.NotContains(t, text(t, name), path, "%s", name)
		}
	}
}

// TestTopLevel expects the folders at the top level and no others.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root)
	assert.NoError(t, err)
	known := " .git .ci .gitignore .gitattributes LICENSE Makefile README.md DEVELOPERS.md go.mod go.sum cmd geo asbuilt survey web testdata out "
	for _, e := range entries {
		assert.Contains(t, known, " "+e.Name()+" ", "the top level is fixed")
	}
}
