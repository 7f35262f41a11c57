package main

import (
	"context"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"asfound/testdata/sites"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"asfound": func() { os.Exit(Run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the command as its users do, from a folder that holds the
// invented sites.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:   "testdata/script",
		Setup: func(env *testscript.Env) error { return os.CopyFS(env.WorkDir, sites.Folders) },
		Cmds:  commands,
	})
}
