package repotest

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// directions says what each package may import of ours. A package that is not
// here has no place in the repository yet: give it a line and a reason.
var directions = map[string]struct {
	may string
	why string
}{
	"geo":                    {"geo/spelling", "positions, lengths and angles are understood without wastewater, sheets or readings"},
	"geo/geodesy":            {"geo", "the earth is one way to come by a plane; it knows no drawing"},
	"geo/chart":              {"geo", "a page to scale serves any drawing"},
	"geo/language":           {"", "which languages there are is understood without a sentence"},
	"asbuilt":                {"geo geo/geodesy geo/language", "a drawing exists before any reading"},
	"geo/spelling":           {"", "a word is nearest to another whatever it means"},
	"asbuilt/practice":       {"geo asbuilt survey/finding", "what the trade builds depends on the drawing alone"},
	"asbuilt/geojson":        {"geo geo/geodesy asbuilt geo/spelling", "a codec knows its own format and no other codec"},
	"survey/finding":         {"geo geo/language", "what is said to people is said alike whoever found it: codes and sentences, lengths in the job's unit"},
	"survey/adjust":          {"", "least squares knows nothing of what is adjusted"},
	"survey/testsite/little": {"geo asbuilt survey survey/adjust survey/drawing survey/observe", "a site small enough to adjust by hand, for tests of the equations and of the fit"},
	"survey/testsite":        {"geo asbuilt survey", "a small lot for tests is a sketch and a log"},
	"survey/drawing":         {"geo asbuilt asbuilt/practice survey/finding", "how sheets err is known before any reading"},
	"survey/observe":         {"geo geo/geodesy geo/language asbuilt asbuilt/practice geo/spelling survey survey/adjust survey/drawing survey/finding", "a reading is an equation of the unknowns; whoever solves it is not its matter"},
	"survey/fit":             {"geo asbuilt survey survey/adjust survey/drawing survey/finding survey/observe", "the fit knows drawing and equations, no file and no page"},
	"survey/posterior":       {"geo asbuilt survey survey/drawing survey/observe survey/fit", "what is believed follows from the fit"},
	"survey":                 {"geo geo/geodesy asbuilt asbuilt/practice survey/finding geo/language", "what a crew brings is understood without a model of the sheet"},
	"survey/fieldbook":       {"geo geo/geodesy asbuilt geo/spelling survey survey/observe", "a codec knows its own format and no other codec; the columns of a kind are the registry's"},
	"survey/folder":          {"asbuilt asbuilt/geojson geo/spelling survey survey/fieldbook survey/observe", "the one place where all files of a job come together"},
	"survey/depth":           {"geo asbuilt asbuilt/practice survey survey/adjust survey/finding", "depth follows from where things lie, whoever says it"},
	"survey/encounter":       {"geo asbuilt asbuilt/practice survey survey/depth survey/posterior survey/drawing", "what a hole meets follows from where things may lie and how deep; who asks does not matter"},
	"survey/belief":          {"geo asbuilt asbuilt/practice survey survey/depth survey/encounter survey/observe survey/posterior", "what holes say needs the readings, the fit and the depths, and nothing that is made of them"},
	"survey/playout":         {"geo asbuilt asbuilt/practice survey survey/encounter", "a dig is played out on what holes may meet, wherever a plan comes from"},
	"survey/locate":          {"geo geo/geodesy asbuilt asbuilt/practice survey survey/adjust survey/depth survey/belief survey/finding survey/fit survey/posterior", "a location follows from a fit, not from a plan"},
	"survey/setout":          {"geo asbuilt survey survey/locate survey/finding", "what is set out from landmarks must be located first"},
	"survey/learn":           {"asbuilt survey survey/fit", "what finished jobs say of sheets follows from fits of them"},
	"survey/question":        {"geo geo/spelling asbuilt asbuilt/practice survey survey/locate survey/setout survey/finding", "an entry is looked at beside what is believed without it"},
	"survey/probe":           {"geo asbuilt asbuilt/practice survey survey/locate survey/depth survey/setout survey/finding survey/encounter survey/playout survey/posterior survey/drawing", "a plan follows from a location"},
	"survey/record":          {"geo geo/geodesy asbuilt asbuilt/practice survey survey/locate survey/setout survey/finding survey/fit survey/observe", "a record follows from a location"},
	"survey/rehearse":        {"geo geo/geodesy asbuilt asbuilt/practice survey survey/locate survey/probe survey/setout survey/finding survey/encounter survey/playout survey/fit survey/posterior", "a dig is rehearsed on what is believed, and by the plan"},
	"survey/answer":          {"", "the form of an answer is understood without what it is worked out from"},
	"survey/pipeline":        {"survey survey/fit survey/locate survey/posterior survey/probe survey/rehearse", "the stages are put together where all of them are known, and nowhere else"},
	"survey/export":          {"geo geo/geodesy asbuilt asbuilt/geojson survey survey/answer survey/depth survey/fieldbook survey/locate survey/probe survey/rehearse survey/record survey/setout survey/finding survey/fit geo/language", "what is written is known before; writing works nothing out"},
	"survey/plot":            {"geo geo/geodesy geo/chart asbuilt asbuilt/practice survey survey/locate survey/probe survey/rehearse survey/record survey/setout survey/finding geo/language", "what is drawn is known before; drawing works nothing out"},
	"survey/simulate":        {"geo geo/geodesy asbuilt asbuilt/practice survey survey/locate survey/probe survey/finding survey/drawing survey/fit survey/posterior", "invented sites serve tests of all below"},
	"web/entry":              {"geo asbuilt asbuilt/geojson survey survey/fieldbook survey/folder survey/observe", "what is exchanged is understood without a store, a network or a page"},
	"web/logbook":            {"web/entry", "keeps entries, and what they mean is said by them"},
	"web/access":             {"web/entry web/logbook", "who may see is kept where the entries are"},
	"web/api":                {"geo geo/chart geo/geodesy asbuilt asbuilt/practice geo/spelling survey survey/answer survey/locate survey/probe survey/record survey/export survey/plot web/entry survey/finding survey/observe survey/fit survey/fieldbook survey/question survey/pipeline geo/language", "the stages of a job as JSON, the same in server and browser"},
	"web/app":                {"", "the phone app as files"},
	"web/app/build":          {"web/app", "makes the app from its source; what is made is understood by web/app"},
	"web/browser":            {"", "tests only, which drive the app from outside"},
	"web":                    {"asbuilt geo/language survey/answer web/access web/api web/app web/entry web/logbook", "routes and checks: what is worked out is in web/api, what is kept in web/logbook"},
	"testdata/sites":         {"", "files only"},
	"testdata/long":          {"", "says which tests run, and is imported by tests alone"},
	"testdata/must":          {"", "takes a value in a test, and is imported by tests alone"},
	"cmd/asfound":            {"*", "the one place where everything is wired"},
	"cmd/coverage":           {"asbuilt survey/simulate", "prints how often the fit was right on invented sites"},
	"cmd/mutate":             {"", "looks at the tree from outside; for developers, nothing rests on it"},
	"cmd/measure":            {"", "runs the commands that measure, from outside"},
	"cmd/digbench":           {"geo geo/geodesy asbuilt survey survey/locate survey/probe survey/finding survey/fit survey/posterior survey/pipeline", "plays digs on invented lots, for developers; nothing rests on it"},
	"cmd/asfoundwasm":        {"web/api", "a thin shell: what the browser asks is answered by the stages"},
	"cmd/licences":           {"", "writes what the program is built from; for developers, nothing rests on it"},
	"cmd/schemas":            {"geo survey/answer survey/finding web web/access web/api web/entry web/logbook geo/language", "generates the description of the interface and the types of the page, for developers; nothing rests on it"},
	"cmd/repotest":           {"", "looks at the tree from outside"},
}

// TestImportsRunOneWay holds every package to what it may import of ours.
func TestImportsRunOneWay(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t) {
		rule, ok := directions[s.folder]
		if !assert.True(t, ok, "%s: the package has no line in the table of directions", s.folder) {
			continue
		}
		seen[s.folder] = true
		for _, p := range s.imports() {
			ours, ok := strings.CutPrefix(p, module+"/")
			if !ok || rule.may == "*" {
				continue
			}
			assert.Contains(t, strings.Fields(rule.may), ours, "%s imports %s, but may import %q: %s", s.name, ours, rule.may, rule.why)
		}
	}
	assert.True(t, seen["geo"] && seen["survey"] && seen["cmd/asfound"], "the tree was not found")
}

// engine reports whether a package must run anywhere: in a browser, in a test,
// at any time and on any machine.
func engine(folder string) bool {
	top, _, _ := strings.Cut(folder, "/")
	return top == "geo" || top == "asbuilt" || top == "survey"
}

// banned are imports that the engine must not have.
var banned = map[string]string{
	"os": "reads through io/fs.FS and io.Reader", "os/exec": "runs nothing", "os/signal": "runs nothing",
	"net": "opens nothing", "net/http": "opens nothing, and weighs a megabyte in a browser",
	"syscall": "must run in a browser", "syscall/js": "must run out of a browser", "path/filepath": "knows no disk",
	"log": "returns errors", "log/slog": "returns errors", "flag": "has no command line",
	"math/rand": "seeds are inputs: math/rand/v2 with a source of its own", "crypto/rand": "seeds are inputs",
	"unsafe": "simple beats clever", "C": "builds without a C compiler",
}

// clocks are the functions of package time that look at a clock.
var clocks = []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "Sleep"}

// sources of randomness that are seeded by the caller, and the types.
var seeded = []string{"New", "NewPCG", "NewChaCha8", "NewZipf", "Rand", "Source", "PCG", "ChaCha8", "Zipf"}

// TestEngineKeepsToItself holds the engine to using no disk, network, clock or
// global random source, to returning errors instead of panicking, and to one
// goroutine, the caller's: the race detector is run on what calls it.
func TestEngineKeepsToItself(t *testing.T) {
	for _, s := range sources(t) {
		if !engine(s.folder) {
			continue
		}
		imports := s.imports()
		for _, p := range imports {
			if why, ok := banned[p]; ok {
				t.Errorf("%s imports %s; the engine %s", s.name, p, why)
			}
		}
		for _, f := range faults(s, imports) {
			t.Error(f)
		}
	}
}

// faults returns the uses of clock, dice, panic and goroutines in a file.
func faults(s source, imports map[string]string) (found []string) {
	at := func(n ast.Node) string { return fmt.Sprintf("%s:%d", s.name, s.set.Position(n.Pos()).Line) }
	ast.Inspect(s.file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			x, ok := n.X.(*ast.Ident)
			if !ok || x.Obj != nil {
				break
			}
			if imports[x.Name] == "time" && slices.Contains(clocks, n.Sel.Name) {
				found = append(found, at(n)+": time."+n.Sel.Name+": dates are inputs")
			}
			if imports[x.Name] == "math/rand/v2" && !slices.Contains(seeded, n.Sel.Name) {
				found = append(found, at(n)+": rand."+n.Sel.Name+" of the global source: seeds are inputs")
			}
		case *ast.GoStmt:
			found = append(found, at(n)+": go: what runs at once is the caller's affair")
		case *ast.CallExpr:
			if f, ok := n.Fun.(*ast.Ident); ok && f.Name == "panic" {
				found = append(found, at(n)+": panic: return an error")
			}
		}
		return true
	})
	return found
}

// TestRulesBite shows that a file that breaks a rule is found.
func TestRulesBite(t *testing.T) {
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, "bad.go", `package bad
import ("time"; "math/rand/v2")
func Bad() { _ = time.Now(); _ = rand.Float64(); _ = rand.New(rand.NewPCG(1, 2)); go Bad(); panic(1) }`, 0)
	require.NoError(t, err)
	s := source{name: "bad.go", folder: "geo", set: set, file: f}
	assert.Len(t, faults(s, s.imports()), 4)
}
