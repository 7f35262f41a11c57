package repotest

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/finding"
)

// writers are the packages that write sentences for people. All others return
// findings, so that there is no text to parse.
var writers = []string{"survey/finding", "survey/export", "survey/answer", "survey/plot"}

// writes are the other functions of the engine that write a sentence, each with
// its reason.
var writes = map[string]string{
	"survey/setout Says":  "a side is a word of its own where it is printed",
	"survey/setout Brief": "the same",
	"survey/setout Short": "the same",
	"survey Note":         "how a frame is fixed is a list of findings, written where the frame is printed",
	"survey/record note":  "the note in the sketch that the next crew reads",
}

// TestEngineReturnsFindings holds the engine to returning findings: no struct
// field is a sentence, by its name, and sentences are written only at the edge.
func TestEngineReturnsFindings(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t) {
		if !engine(s.folder) || slices.Contains(writers, s.folder) {
			continue
		}
		for _, d := range s.file.Decls {
			ast.Inspect(d, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.StructType:
					for _, f := range n.Fields.List {
						for _, name := range f.Names {
							assert.False(t, spoken(name.Name) && isText(f.Type), "%s: the field %s is text; keep a finding", s.name, name.Name)
						}
					}
				case *ast.CallExpr:
					if f, ok := d.(*ast.FuncDecl); ok && exportedCall(n) {
						key := s.folder + " " + f.Name.Name
						seen[key] = true
						assert.Contains(t, writes, key, "%s writes a sentence: return the finding", s.name)
					}
				}
				return true
			})
		}
	}
	for key := range writes {
		assert.True(t, seen[key], "%s is excused for nothing", key)
	}
}

// spoken reports whether a name is that of a text for people.
func spoken(name string) bool {
	return slices.Contains([]string{"says", "settles", "cautions", "warnings", "doubtful", "doubts", "remark", "learnt", "limits"}, strings.ToLower(name))
}

func isText(t ast.Expr) bool {
	if a, ok := t.(*ast.ArrayType); ok {
		t = a.Elt
	}
	id, ok := t.(*ast.Ident)
	return ok && id.Name == "string"
}

// exportedCall reports whether a call is one of package finding that writes
// sentences.
func exportedCall(c *ast.CallExpr) bool {
	f, ok := c.Fun.(*ast.SelectorExpr)
	return ok && slices.Contains([]string{"Says", "Settles", "Sentences"}, f.Sel.Name)
}

// sentenceCall reports whether a call writes a finding as a sentence.
func sentenceCall(c *ast.CallExpr) bool {
	switch f := c.Fun.(type) {
	case *ast.SelectorExpr:
		return slices.Contains([]string{"Says", "Settles", "Sentences", "says"}, f.Sel.Name)
	case *ast.Ident:
		return slices.Contains([]string{"Says", "Sentences", "says"}, f.Name)
	}
	return false
}

// layout are functions that break any text into lines and words.
var layout = []string{"cmd/asfound words", "geo/chart Wrap", "geo/chart wrapLine", "geo/chart Cut", "geo/chart printable", "survey/finding fill", "survey/finding Arguments", "cmd/schemas reflected"}

// TestNobodyReadsASentenceBack follows texts for people through each function
// and into those of ours that receive them: a text may be printed, joined and
// measured, but never searched, cut, compared or looked up.
func TestNobodyReadsASentenceBack(t *testing.T) {
	for _, fault := range readBack(sources(t)) {
		t.Error(fault)
	}
}

// TestReadingBackIsNoticed shows that the rule finds what it is meant to find.
func TestReadingBackIsNoticed(t *testing.T) {
	for _, body := range []string{
		`_ = strings.HasPrefix(h.Says("m"), "A slot ")`,
		`for _, c := range finding.Sentences(all, "m") { if c == "It lies left." { return } }`,
		`says := h.Says("m"); _, says, _ = strings.Cut(says, ". ")`,
		`list := []string{}; list = append(list, x.Cautions...); _ = slices.Contains(list, "dig")`,
		`m := x.Doubtful; _ = pattern.MatchString(strings.Join([]string{m}, ""))`,
		`switch x.Says { case "a": }`,
		`_ = seen[x.Remark]`,
		`name, _ := strconv.Unquote(p.Says); _ = name`,
		`look(x.Says)`,
	} {
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, "bad.go", "package bad\nfunc look(text string) bool { return strings.Contains(text, \"foot\") }\nfunc bad() { "+body+" }", 0)
		require.NoError(t, err)
		assert.NotEmpty(t, readBack([]source{{name: "bad.go", folder: "bad", set: set, file: f}}), body)
	}
	for _, body := range []string{
		`fmt.Fprintln(w, strings.Join(finding.Sentences(all, "m"), " "))`,
		`if x.Says != "" { print(x.Says) }`,
		`_ = strings.HasPrefix(name, "x")`,
	} {
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, "good.go", "package good\nfunc good() { "+body+" }", 0)
		require.NoError(t, err)
		assert.Empty(t, readBack([]source{{name: "good.go", folder: "good", set: set, file: f}}), body)
	}
}

// reader follows sentences through one package after another.
type reader struct {
	handed map[string]map[int]bool // parameters, by package and function, that receive a sentence
	grew   bool
	faults []string
}

// readBack returns where a sentence is parsed.
func readBack(all []source) []string {
	r := &reader{handed: map[string]map[int]bool{}}
	for r.grew = true; r.grew; {
		r.grew, r.faults = false, nil
		for _, s := range all {
			imports := s.imports()
			for _, d := range s.file.Decls {
				if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil && !slices.Contains(layout, s.folder+" "+f.Name.Name) {
					r.function(s, imports, f)
				}
			}
		}
	}
	return r.faults
}

// flow is what is known within one function: the variables that hold sentences.
type flow struct {
	said map[string]bool
}

func (r *reader) function(s source, imports map[string]string, f *ast.FuncDecl) {
	fl := &flow{said: map[string]bool{}}
	n := 0
	for _, p := range f.Type.Params.List {
		for _, name := range p.Names {
			if r.handed[s.folder+" "+f.Name.Name][n] && isText(p.Type) {
				fl.said[name.Name] = true
			}
			n++
		}
	}
	for before := -1; before != len(fl.said); {
		before = len(fl.said)
		ast.Inspect(f.Body, fl.assign)
	}
	ast.Inspect(f.Body, func(n ast.Node) bool {
		at := func(what string) {
			r.faults = append(r.faults, fmt.Sprintf("%s:%d: a sentence is %s: ask the finding for its code", s.name, s.set.Position(n.Pos()).Line, what))
		}
		switch n := n.(type) {
		case *ast.CallExpr:
			if sink(n) && slices.ContainsFunc(n.Args, fl.sentence) {
				at("searched or cut")
			}
			r.hand(s, imports, n, fl)
		case *ast.BinaryExpr:
			if (n.Op == token.EQL || n.Op == token.NEQ) && (fl.sentence(n.X) && !empty(n.Y) || fl.sentence(n.Y) && !empty(n.X)) {
				at("compared")
			}
		case *ast.SwitchStmt:
			if n.Tag != nil && fl.sentence(n.Tag) {
				at("compared")
			}
		case *ast.IndexExpr:
			if fl.sentence(n.Index) {
				at("looked up")
			}
		}
		return true
	})
}

// hand notes which of our functions receive a sentence from a call.
func (r *reader) hand(s source, imports map[string]string, c *ast.CallExpr, fl *flow) {
	key := ""
	switch f := c.Fun.(type) {
	case *ast.Ident:
		key = s.folder + " " + f.Name
	case *ast.SelectorExpr:
		key = s.folder + " " + f.Sel.Name // a method of this package, or of another by the same name: stricter than necessary
		if x, ok := f.X.(*ast.Ident); ok {
			if p, ok := strings.CutPrefix(imports[x.Name], module+"/"); ok {
				key = p + " " + f.Sel.Name
			}
		}
	}
	for i, a := range c.Args {
		if fl.sentence(a) && key != "" && !r.handed[key][i] {
			if r.handed[key] == nil {
				r.handed[key] = map[int]bool{}
			}
			r.handed[key][i], r.grew = true, true
		}
	}
}

// assign notes the variables to which a statement assigns a sentence.
func (fl *flow) assign(n ast.Node) bool {
	name := func(e ast.Expr) {
		if id, ok := e.(*ast.Ident); ok && id.Name != "_" {
			fl.said[id.Name] = true
		}
	}
	switch n := n.(type) {
	case *ast.AssignStmt:
		for i, e := range n.Rhs {
			if fl.sentence(e) && len(n.Lhs) == len(n.Rhs) {
				name(n.Lhs[i])
			}
		}
	case *ast.RangeStmt:
		if fl.sentence(n.X) && n.Value != nil {
			name(n.Value)
		}
	case *ast.ValueSpec:
		for i, e := range n.Values {
			if fl.sentence(e) {
				name(n.Names[i])
			}
		}
	}
	return true
}

// sentence reports whether an expression is a sentence or made of one.
func (fl *flow) sentence(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Ident:
		return fl.said[e.Name]
	case *ast.SelectorExpr:
		return spoken(e.Sel.Name) && e.Sel.Name != "Limits"
	case *ast.ParenExpr:
		return fl.sentence(e.X)
	case *ast.IndexExpr:
		return fl.sentence(e.X)
	case *ast.SliceExpr:
		return fl.sentence(e.X)
	case *ast.BinaryExpr:
		return e.Op == token.ADD && (fl.sentence(e.X) || fl.sentence(e.Y))
	case *ast.CompositeLit:
		return slices.ContainsFunc(e.Elts, fl.sentence)
	case *ast.CallExpr:
		if sentenceCall(e) {
			return true
		}
		switch f := e.Fun.(type) {
		case *ast.Ident:
			return (f.Name == "append" || f.Name == "string") && slices.ContainsFunc(e.Args, fl.sentence)
		case *ast.SelectorExpr:
			x, ok := f.X.(*ast.Ident)
			return ok && slices.Contains([]string{"strings", "fmt", "slices"}, x.Name) && slices.ContainsFunc(e.Args, fl.sentence)
		}
	}
	return false
}

// sink reports whether a call looks into the text that it gets.
func sink(c *ast.CallExpr) bool {
	f, ok := c.Fun.(*ast.SelectorExpr)
	if !ok {
		return false
	}
	name := f.Sel.Name
	if strings.HasPrefix(name, "Match") || strings.HasPrefix(name, "Find") || strings.HasPrefix(name, "ReplaceAll") {
		return true
	}
	x, ok := f.X.(*ast.Ident)
	if !ok {
		return false
	}
	switch x.Name {
	case "strings", "bytes":
		return !slices.Contains([]string{"Join", "Repeat", "NewReader"}, name)
	case "strconv":
		return name != "Quote"
	case "slices":
		return slices.Contains([]string{"Contains", "ContainsFunc", "Index", "IndexFunc", "BinarySearch"}, name)
	case "fmt":
		return strings.HasPrefix(name, "Sscan")
	}
	return false
}

func empty(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Value == `""`
	case *ast.Ident:
		return e.Name == "nil"
	}
	return false
}

// TestFindingsHaveTheirArguments checks that every call of Code.New has the
// arguments of the sentence of its code, and that every code is used.
func TestFindingsHaveTheirArguments(t *testing.T) {
	consts := codes(t)
	used := map[string]bool{}
	for _, s := range sources(t) {
		called := map[ast.Expr]bool{}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if x, ok := n.(*ast.SelectorExpr); ok && !called[x] {
				if p, ok := x.X.(*ast.Ident); ok && p.Name == "finding" && strings.HasPrefix(x.Sel.Name, "Paper") { // words without arguments, such as a head
					used[x.Sel.Name] = true
					assert.Empty(t, finding.Arguments(consts[x.Sel.Name]), "%s:%d: %s", s.name, s.set.Position(n.Pos()).Line, x.Sel.Name)
				}
			}
			c, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			f, ok := c.Fun.(*ast.SelectorExpr)
			if !ok || f.Sel.Name != "New" {
				return true
			}
			called[f.X] = true
			name := ""
			switch x := f.X.(type) {
			case *ast.SelectorExpr:
				if p, ok := x.X.(*ast.Ident); ok && p.Name == "finding" {
					name = x.Sel.Name
				}
			case *ast.Ident:
				if s.folder == "survey/finding" {
					name = x.Name
				}
			}
			code, ok := consts[name]
			if !ok {
				return true
			}
			used[name] = true
			at := fmt.Sprintf("%s:%d: %s", s.name, s.set.Position(n.Pos()).Line, name)
			var has []string
			for _, a := range c.Args {
				has = append(has, argumentOf(a))
			}
			for _, want := range finding.Arguments(code) {
				kind, _, form := strings.Cut(want, ":")
				switch {
				case strings.HasPrefix(kind, "part") && !form, kind == "parts":
					kind = "parts"
				case kind == "reading":
					kind = "readings"
				}
				assert.True(t, slices.Contains(has, kind) || slices.Contains(has, "?"), "%s: its sentence names {%s}; it is given %v", at, want, has)
			}
			return true
		})
	}
	for name := range consts {
		assert.True(t, used[name], "finding.%s is used nowhere", name)
	}
}

// argumentOf returns what an argument of New names, ? where it is a variable.
func argumentOf(e ast.Expr) string {
	c, ok := e.(*ast.CallExpr)
	if !ok {
		return "?"
	}
	name := ""
	switch f := c.Fun.(type) {
	case *ast.SelectorExpr:
		name = f.Sel.Name
	case *ast.Ident:
		name = f.Name
	}
	switch name {
	case "Number", "Word":
		if l, ok := c.Args[0].(*ast.BasicLit); ok {
			return strings.Trim(l.Value, `"`)
		}
	case "Parts", "Odds":
		return "parts"
	case "Readings":
		return "readings"
	case "About":
		return "of"
	}
	return "?"
}

// codes returns the constants of the codes by name; each must have a sentence,
// and each sentence a constant.
func codes(t *testing.T) map[string]finding.Code {
	t.Helper()
	all := map[string]finding.Code{}
	for _, s := range sources(t) {
		if s.folder != "survey/finding" {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			if id, ok := v.Type.(*ast.Ident); ok && id.Name == "Code" {
				all[v.Names[0].Name] = finding.Code(strings.Trim(v.Values[0].(*ast.BasicLit).Value, `"`))
			}
			return true
		})
	}
	var named []finding.Code
	for _, c := range all {
		named = append(named, c)
	}
	slices.Sort(named)
	require.Equal(t, finding.Codes(), named, "every code has a sentence, and every sentence a code")
	return all
}

// readInPage finds code of the page that looks into the engine's texts for
// people.
var readInPage = regexp.MustCompile(`(?:^|[\s.(\[{,!])(?:says|cautions|warnings|doubtful|remark|settles|learnt|side|error|message)\b[^;\n]*\.(includes|startsWith|endsWith|match|matchAll|split|replace|replaceAll|indexOf|search|slice|substring)\(|\.test\((\w+\.)*(says|message|doubtful|remark)\)|includes\((\w+\.)*(says|side|doubtful|remark)\)`)

// TestPageReadsNoSentenceBack holds the page to the same rule.
func TestPageReadsNoSentenceBack(t *testing.T) {
	checked := 0
	for _, ext := range []string{".ts", ".tsx"} {
		for _, name := range files(t, ext) {
			if !strings.HasPrefix(name, "web/app/") || strings.Contains(name, "node_modules") {
				continue
			}
			checked++
			for i, line := range strings.Split(text(t, name), "\n") {
				assert.NotRegexp(t, readInPage, line, "%s:%d: ask for the code of the finding", name, i+1)
			}
		}
	}
	assert.Greater(t, checked, 20, "the page was not found")
	for _, bad := range []string{`(p.cautions ?? []).filter((c) => !c.includes(p.side))`, `/ask the lead/i.test(message)`, `s.says.startsWith("reads")`} {
		assert.Regexp(t, readInPage, bad)
	}
}
