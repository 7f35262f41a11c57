package repotest

import (
	"encoding/csv"
	"go/ast"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// states are what a requirement may be.
var states = []string{"met", "partly", "not met"}

// requirements returns the numbers of the standard with their levels.
func requirements(t *testing.T) map[string]string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text(t, "testdata/reference/asvs.csv")))
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	levels := map[string]string{}
	for _, row := range rows[1:] {
		levels[row[0]] = row[1]
	}
	return levels
}

// number is that of a requirement, or how those of a section or chapter begin.
var number = regexp.MustCompile(`^[1-9]\d?(\.[1-9]\d?){0,2}$`)

// named is a test as the table has it: its package, from the root of the
// repository, and its name.
var named = regexp.MustCompile("^`([a-z/]+)\\.((?:Test|Fuzz)[A-Za-z0-9]+)`$")

// wrongRows returns what is wrong with the tables of a document on the standard:
// those of five columns have a requirement in each row, those of two the numbers
// of what does not apply. declared reports whether a package has a test.
func wrongRows(document string, levels map[string]string, declared func(folder, test string) bool) (wrong []string) {
	seen := map[string]bool{}
	take := func(begin, row string) {
		found := false
		for n := range levels {
			if n != begin && !strings.HasPrefix(n, begin+".") {
				continue
			}
			if found = true; seen[n] {
				wrong = append(wrong, n+" stands twice: "+row)
			}
			seen[n] = true
		}
		if !found {
			wrong = append(wrong, begin+" is not one of the standard's: "+row)
		}
	}
	for row := range strings.SplitSeq(document, "\n") {
		if !strings.HasPrefix(row, "|") {
			continue
		}
		cells := strings.Split(strings.Trim(row, "| "), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		numbers := strings.Split(cells[0], ", ")
		if !number.MatchString(numbers[0]) {
			continue
		}
		if len(cells) == 2 {
			for _, n := range numbers {
				take(n, row)
			}
			continue
		}
		if len(cells) != 5 || strings.Count(cells[0], ".") != 2 {
			wrong = append(wrong, "want number, what it asks, state, how, test: "+row)
			continue
		}
		take(cells[0], row)
		if !slices.Contains(states, cells[2]) {
			wrong = append(wrong, "want one of "+strings.Join(states, ", ")+": "+row)
		}
		if cells[4] == "no test" {
			continue
		}
		for name := range strings.SplitSeq(cells[4], ", ") {
			if m := named.FindStringSubmatch(name); m == nil || !declared(m[1], m[2]) {
				wrong = append(wrong, "there is no test "+name+": "+row)
			}
		}
	}
	for n := range levels {
		if !seen[n] {
			wrong = append(wrong, n+" has no row, nor is it among what does not apply")
		}
	}
	slices.Sort(wrong)
	return wrong
}

// TestSecurityTable holds the table of requirements to the standard's numbers
// and to tests that there are.
func TestSecurityTable(t *testing.T) {
	levels := requirements(t)
	counts := map[string]int{}
	for _, level := range levels {
		counts[level]++
	}
	// As the standard counts them: 70 of level 1, and 183 more for level 2.
	assert.Equal(t, map[string]int{"1": 70, "2": 183}, counts)
	sources := map[string]string{} // of the tests of a package
	declared := func(folder, test string) bool {
		if sources[folder] == "" {
			names, err := filepath.Glob(filepath.Join(root, folder, "*_test.go"))
			require.NoError(t, err)
			for _, name := range names {
				b, err := os.ReadFile(name)
				require.NoError(t, err)
				sources[folder] += string(b)
			}
		}
		return strings.Contains(sources[folder], "\nfunc "+test+"(")
	}
	for _, wrong := range wrongRows(text(t, "web/SECURITY.md"), levels, declared) {
		t.Error(wrong)
	}
}

// TestSecurityTableBites shows that each kind of fault is found.
func TestSecurityTableBites(t *testing.T) {
	levels := map[string]string{"1.1.1": "1", "1.1.2": "2", "9.1.1": "1"}
	declared := func(folder, test string) bool { return folder == "web" && test == "TestCookie" }
	const row = "| 1.1.1 | x | met | y | `web.TestCookie` |\n"
	const rest = "| 1.1.2 | x | not met | y | no test |\n| 9 | none here |\n"
	assert.Empty(t, wrongRows(row+rest, levels, declared))
	for want, document := range map[string]string{
		"1.1.1 stands twice":            row + row + rest,
		"9.1.1 stands twice":            row + rest + "| 9.1, 8 | x |\n",
		"1.1.3 is not one":              row + rest + strings.Replace(row, "1.1.1", "1.1.3", 1),
		"no test `web.TestCooky`":       strings.Replace(row, "Cookie", "Cooky", 1) + rest,
		"no test `web/api.TestCookie`":  strings.Replace(row, "web.", "web/api.", 1) + rest,
		"no test TestCookie":            strings.Replace(row, "`web.TestCookie`", "TestCookie", 1) + rest,
		"want one of":                   strings.Replace(row, "met", "done", 1) + rest,
		"want number, what it asks":     strings.Replace(row, "| x |", "|", 1) + rest,
		"1.1.1 has no row, nor is it a": rest,
	} {
		assert.Contains(t, strings.Join(wrongRows(document, levels, declared), "\n"), want)
	}
}

// asks are the selectors with which a program asks another machine.
var asks = map[string][]string{
	"net/http":   {"Get", "Post", "Head", "PostForm", "Client", "DefaultClient", "Transport", "DefaultTransport", "NewRequest", "NewRequestWithContext"},
	"net":        {"Dial", "DialTimeout", "DialTCP", "DialUDP", "Dialer", "LookupHost", "LookupIP", "LookupAddr", "DefaultResolver"},
	"crypto/tls": {"Dial", "DialWithDialer", "Dialer"},
}

// confined are imports that only these folders may have, since what they do is
// dangerous where a stranger has a say.
var confined = map[string][]string{
	"os/exec":                           {"web/app/build", "cmd/licences", "cmd/measure", "cmd/mutate", "testdata/long", "testdata/scans"},
	"golang.org/x/crypto/acme/autocert": {"cmd/asfound"},
	"net/http/pprof":                    nil,
	"expvar":                            nil,
	"plugin":                            nil,
	"text/template":                     nil,
	"html/template":                     nil,
}

// TestServerAsksNobody expects no code that asks other machines, nor that runs
// programs, but what fetches certificates and what builds the app.
func TestServerAsksNobody(t *testing.T) {
	seen := 0
	for _, s := range sources(t) {
		imports := s.imports()
		for _, p := range imports {
			if folders, ok := confined[p]; ok {
				seen++
				assert.Contains(t, folders, s.folder, "%s imports %s", s.name, p)
			}
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if n, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := n.X.(*ast.Ident); ok && x.Obj == nil {
					assert.NotContains(t, asks[imports[x.Name]], n.Sel.Name, "%s: %s.%s", s.name, x.Name, n.Sel.Name)
				}
			}
			return true
		})
	}
	assert.Greater(t, seen, 2, "the imports were not found")
}
