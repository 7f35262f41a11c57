package build

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said is a property whose text people read or hear: text between tags is the
// property children in what esbuild makes of it.
var said = regexp.MustCompile(`(?:^|[\s{,("])(children|"aria-label"|title|alt|placeholder|label|hint|says|text|done|end|yes|no|name)"?: *\[?$`)

// notRead is what stands before a text that nobody reads, though it may have a space.
var notRead = regexp.MustCompile(`(?:class|className|style|d|viewBox|autocomplete|accept|transform|points|font)"?: *(?:[^,{}]*\? *(?:"[^"]*" *: *)?)?$|(?:querySelector(?:All)?(?:<[^>]*>)?|matches|matchMedia|closest|startsWith|getContext|import|from)\(?(?:\?\.)?\(? *$`)

// prose is two words beside each other.
var prose = regexp.MustCompile(`\pL{2,}[,.:;]? +\(?\pL{2,}`)

// word is a word, or the beginning of one.
var word = regexp.MustCompile(`\pL{2,}`)

// languageFree is what may stand outside the tables of messages, each with its reason.
var languageFree = map[string]string{
	"English": "each language is listed by its own name", "Español": "the same",
	"asfound":   "the name of the program",
	"ft":        "a unit's sign, as the log has it",
	"take over": "a message to the service worker", "keep the rest": "the same",
	"measured again": "a code in the log, shown by noteText", "as set out": "the same", "could not be read": "the same",
	"in doubt": "the same", "in doubt: everything else fits without it": "the same", " outlets": "the same", "outlets": "the same", "outlet": "the same",
	"mean of ": "the same", " fixes in ": "the same", " seen": "the same", "undone": "the same", "withdrawn": "the same", "corrected": "the same", "photos": "the same",
	"laid again": "the same", " laid on ": "the same", " laid by ": "the same", "read in the picture ": "the same", "the plan of this job": "the same",
	"SQLite format 3":           "how a file begins",
	"scale note on the sheet: ": "a note of the sketch, which is data of the job and stays in English",
	"drawing's picture ":        "where the device keeps it",
	"Letter, 8½ × 11 in":        "an id that the device keeps, shown by words.sheet.papers", "Legal, 8½ × 14 in": "the same", "Ledger, 11 × 17 in": "the same", "A4, 210 × 297 mm": "the same", "A3, 297 × 420 mm": "the same",
	"trace-trust":              "the name of a group of keys",
	"px system-ui, sans-serif": "a font",
	"id kind point from to target spot value offset rise north lon lat accuracy depth feature stopped runs facing flow radius sigma unit time by note": "columns of the log",
	"what is replaced": "an id that no row has",
	"survey/US foot":   "a unit",
	"us ft":            "a unit as it is typed",
}

// literal is a text in a program: of a template, one piece between its gaps.
type literal struct {
	before string // what stands before it
	text   string
	line   int
}

// literals returns the texts of a program that esbuild wrote.
func literals(js string) []literal {
	var out []literal
	var depth []int // of braces, in each template that is open
	braces, line := 0, 1
	piece := func(i int, end string) int { // from i to an end that is not escaped
		from := i
		for i < len(js) && !strings.HasPrefix(js[i:], end) && !(end == "`" && strings.HasPrefix(js[i:], "${")) {
			if js[i] == '\\' {
				i++
			}
			if i < len(js) && js[i] == '\n' {
				line++
			}
			i++
		}
		out = append(out, literal{js[max(0, from-100) : from-1], js[from:min(i, len(js))], line})
		return i
	}
	for i := 0; i < len(js); i++ {
		switch c := js[i]; {
		case c == '\n':
			line++
		case strings.HasPrefix(js[i:], "//"):
			i += strings.IndexByte(js[i:]+"\n", '\n') - 1
		case strings.HasPrefix(js[i:], "/*"):
			n := strings.Index(js[i:], "*/")
			line += strings.Count(js[i:i+n], "\n")
			i += n + 1
		case c == '/' && strings.ContainsAny(lastOf(js[:i]), "(=,:?!&|[{;\n>") && !strings.HasPrefix(js[i:], "/>"):
			for set := false; ; {
				if i++; js[i] == '\\' {
					i++
				} else if js[i] == '[' {
					set = true
				} else if js[i] == ']' {
					set = false
				} else if js[i] == '/' && !set {
					break
				}
			}
		case c == '"' || c == '\'':
			i = piece(i+1, string(c))
		case c == '`':
			if i = piece(i+1, "`"); strings.HasPrefix(js[i:], "${") {
				depth = append(depth, braces)
				i++
			}
		case c == '{':
			braces++
		case c == '}' && len(depth) > 0 && depth[len(depth)-1] == braces:
			if i = piece(i+1, "`"); strings.HasPrefix(js[i:], "${") {
				i++
			} else {
				depth = depth[:len(depth)-1]
			}
		case c == '}':
			braces--
		}
	}
	return out
}

// lastOf returns the last character that is no space.
func lastOf(s string) string {
	s = strings.TrimRightFunc(s, unicode.IsSpace)
	return s[max(0, len(s)-1):]
}

// hardCoded returns the texts of a program that people read and no table has.
func hardCoded(js string) []literal {
	var out []literal
	for _, l := range literals(js) {
		if languageFree[l.text] != "" || notRead.MatchString(l.before) {
			continue
		}
		if prose.MatchString(l.text) || said.MatchString(l.before) && word.MatchString(l.text) {
			out = append(out, l)
		}
	}
	return out
}

// TestWordsAreInTables holds the page to its tables of messages: no text that
// people read stands elsewhere, so that a language is whole once its table is.
func TestWordsAreInTables(t *testing.T) {
	root := Root()
	var sources []string
	for _, pattern := range []string{"source/*.ts", "source/*.tsx", "trace/*.ts", "trace/*.tsx", "picture/*.ts", "picture/*.tsx"} {
		found, err := filepath.Glob(filepath.Join(root, "web", "app", pattern))
		require.NoError(t, err)
		for _, name := range found {
			if filepath.Base(name) != "answer.ts" { // generated: the engine's types
				sources = append(sources, name)
			}
		}
	}
	require.Greater(t, len(sources), 60)
	dir := t.TempDir()
	// Without the types, and with JSX as calls: what is between tags is a text like any other.
	esbuild := exec.Command("go", append([]string{"tool", "-modfile=" + tools(root), "esbuild", "--log-level=warning", "--charset=utf8", "--jsx=automatic", "--tsconfig-raw={}", "--outbase=" + root, "--outdir=" + dir}, sources...)...)
	esbuild.Dir, esbuild.Env = root, append(os.Environ(), "GOFLAGS=")
	text, err := esbuild.CombinedOutput()
	require.NoError(t, err, "%s", text)
	checked := 0
	for _, name := range sources {
		rel, err := filepath.Rel(root, name)
		require.NoError(t, err)
		js, err := os.ReadFile(filepath.Join(dir, strings.TrimSuffix(rel, filepath.Ext(rel))+".js"))
		require.NoError(t, err)
		checked += len(literals(string(js)))
		for _, l := range hardCoded(string(js)) {
			assert.Fail(t, "a text outside the tables of messages", "%s: %q after %q; put it into words/en and words/es", rel, l.text, l.before[max(0, len(l.before)-40):])
		}
	}
	assert.Greater(t, checked, 1000, "the texts were not found")
}

// TestHardCodedIsNoticed shows that the check finds what it is meant to find, and
// leaves in peace what nobody reads.
func TestHardCodedIsNoticed(t *testing.T) {
	for _, bad := range []string{
		`jsx("p", { children: "Save" })`, `jsxs("p", { class: "hint", children: ["Holes", " ", n] })`, `jsx("button", { "aria-label": "Close", onClick })`,
		"say(`My position: within ${x} m`)", `say(ready ? "the hole" : w.other)`, `jsx(Pick, { label: "From", value })`, "name = `far end of ${p.id}`",
		"f(/[`\"]/, `${a ? `${b} not sent` : c}`)",
	} {
		assert.Len(t, hardCoded(bad), 1, bad)
	}
	for _, good := range []string{
		`jsx("p", { class: "go wide", children: words.common.save })`, `document.querySelector("main .strip")`, `jsx("path", { d: "M4 12h16M12 4v16" })`,
		`jsx("p", { class: on ? "sent waiting" : "sent", children: "✓" })`, "db.get(`belief ${id}`)", "// a remark of two words\n/* and more of them */",
	} {
		assert.Empty(t, hardCoded(good), good)
	}
}
