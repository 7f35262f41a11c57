package repotest

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// unitWords are the words with which a comment gives the unit of a number.
var unitWords = regexp.MustCompile(`(?i)\b(metres?|metre's|m|m²|degrees?|radians?|millimetres?|fraction|probability|odds|chance|ratio|scale|factor|share|weight|unit|units|standard deviations?|square|quantile|statistic|eigenvalues?|cofactor|logarithm|times|dimensionless|°|points?|pixels?|numbers?|product|component)\b|%|°`)

// excused are functions whose float is in the unit of another argument.
var excused = []string{"Buffer"}

// TestFloatsNameTheirUnit expects the comment of every exported function that
// takes or returns a bare float64 to give its unit.
func TestFloatsNameTheirUnit(t *testing.T) {
	checked := 0
	for _, s := range sources(t) {
		if !engine(s.folder) || strings.HasPrefix(s.folder, "survey/adjust") { // adjust knows no units
			continue
		}
		for _, d := range s.file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !f.Name.IsExported() || !exportedReceiver(f) || !takesFloat(f.Type) || slices.Contains(excused, f.Name.Name) {
				continue
			}
			checked++
			assert.Regexp(t, unitWords, f.Doc.Text(), "%s: %s: say the unit", s.name, f.Name.Name)
		}
	}
	assert.Greater(t, checked, 20, "nothing was checked")
}

// takesFloat reports whether a function has a float64 among its parameters and
// results.
func takesFloat(f *ast.FuncType) bool {
	found := false
	for _, list := range []*ast.FieldList{f.Params, f.Results} {
		if list == nil {
			continue
		}
		for _, p := range list.List {
			if id, ok := p.Type.(*ast.Ident); ok && id.Name == "float64" {
				found = true
			}
		}
	}
	return found
}
