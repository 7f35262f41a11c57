//go:build ignore

// Command bundle makes the app from its source into the folder static: app.js
// with the parts that are loaded later, and app.css. The same source gives the
// same bytes. It is run by go generate and needs nothing but Go: the libraries
// are in vendor.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}

func run() error {
	// The names of parts hold a hash of their content: those of before go.
	old, err := filepath.Glob("static/*-????????.js")
	if err != nil {
		return err
	}
	for _, name := range old {
		if err := os.Remove(name); err != nil {
			return err
		}
	}
	err = esbuild("source/app.tsx", "--bundle", "--format=esm", "--splitting", "--target=es2022", "--minify", "--charset=utf8",
		"--legal-comments=none", "--jsx=automatic", "--loader:.css=empty", "--chunk-names=[name]-[hash]", "--outdir=static",
		"--alias:preact=./vendor/preact.js", "--alias:preact/hooks=./vendor/preact.js", "--alias:preact/jsx-runtime=./vendor/preact.js")
	if err != nil {
		return err
	}
	return esbuild("style/app.css", "--bundle", "--minify", "--target=es2022", "--legal-comments=none", "--outfile=static/app.css")
}

func esbuild(args ...string) error {
	c := exec.Command("go", append([]string{"tool", "-modfile=../../.ci/tools.mod", "esbuild", "--log-level=warning"}, args...)...)
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	return c.Run()
}
