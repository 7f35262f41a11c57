package main

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
)

// mutant is one change of one file.
type mutant struct {
	file         string
	line, column int
	what         string // for people: "+ → −"
	from, to     int    // the bytes of the file that are replaced
	with         string
}

// swapped maps an operator to its replacement.
var swapped = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// mutants returns all changes of some files, in the order of their places.
func mutants(files []string) (all []mutant, err error) {
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, text, 0)
		if err != nil {
			return nil, err
		}
		all = append(all, changes(set, file)...)
	}
	return all, nil
}

// changes returns the changes of one file.
func changes(set *token.FileSet, file *ast.File) (all []mutant) {
	add := func(at token.Pos, long int, was, with string) {
		p := set.Position(at)
		all = append(all, mutant{p.Filename, p.Line, p.Column, was + " → " + cmp.Or(with, "nothing"), p.Offset, p.Offset + long, with})
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if to, ok := swapped[n.Op]; ok && !text(n.X) && !text(n.Y) {
				add(n.OpPos, len(n.Op.String()), n.Op.String(), to.String())
			}
		case *ast.AssignStmt:
			if to, ok := swapped[n.Tok]; ok && !text(n.Rhs[0]) {
				add(n.TokPos, len(n.Tok.String()), n.Tok.String(), to.String())
			}
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				add(n.OpPos, 1, n.Op.String(), "")
			}
		case *ast.BasicLit:
			if with, ok := other(n); ok {
				add(n.ValuePos, len(n.Value), n.Value, with)
			}
		case *ast.CallExpr:
			return !passed(n)
		case *ast.SliceExpr, *ast.ImportSpec:
			return false
		}
		return true
	})
	return all
}

// text reports whether a term looks like text, so that + is a concatenation and
// not a sum.
func text(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return text(e.X) || text(e.Y)
	}
	return false
}

// passed reports whether a call is skipped: the size of storage, what is
// printed, and infinity, of which only the sign matters.
func passed(c *ast.CallExpr) bool {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name == "make"
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		return ok && (x.Name == "fmt" || x.Name == "errors" || x.Name == "math" && f.Sel.Name == "Inf")
	}
	return false
}

// other returns the number that replaces a literal.
func other(n *ast.BasicLit) (with string, ok bool) {
	v, err := strconv.ParseFloat(n.Value, 64)
	switch {
	case n.Kind != token.INT && n.Kind != token.FLOAT || err != nil:
		return "", false
	case v == 0:
		return "1", true
	case v < 1e-3:
		return "", false
	case n.Kind == token.INT:
		return fmt.Sprint(2 * int64(v)), true
	}
	return strconv.FormatFloat(2*v, 'g', -1, 64), true
}

// choose returns n of the changes, all where n is 0, on different lines as far
// as there are lines, in the order of their places.
func choose(all []mutant, n int, seed uint64) []mutant {
	if n <= 0 {
		return all
	}
	mixed := slices.Clone(all)
	rand.New(rand.NewPCG(seed, 0)).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	type line struct {
		file string
		line int
	}
	seen := map[line]bool{}
	var some []mutant
	for _, m := range mixed {
		if k := (line{m.file, m.line}); len(some) < n && !seen[k] {
			seen[k] = true
			some = append(some, m)
		}
	}
	slices.SortFunc(some, func(a, b mutant) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.from, b.from))
	})
	return some
}
