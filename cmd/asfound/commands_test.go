package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// commands are what the scripts need beside testscript's own.
var commands = map[string]func(ts *testscript.TestScript, neg bool, args []string){
	// json FILE: the file (stdout, or one on disk) is one JSON value and no more.
	"json": func(ts *testscript.TestScript, neg bool, args []string) {
		d := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
		var v any
		ts.Check(d.Decode(&v))
		if _, err := d.Token(); !errors.Is(err, io.EOF) {
			ts.Fatalf("%s: more than one JSON value", args[0])
		}
	},
	// pdf FILE ...: the file begins and ends as a PDF does (ISO 32000-1, 7.5).
	"pdf": func(ts *testscript.TestScript, neg bool, args []string) {
		for _, name := range args {
			b := []byte(ts.ReadFile(name))
			if !bytes.HasPrefix(b, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(b), []byte("%%EOF")) {
				ts.Fatalf("%s is no whole PDF", name)
			}
		}
	},
	// xml FILE ...: the file is well-formed.
	"xml": func(ts *testscript.TestScript, neg bool, args []string) {
		for _, name := range args {
			d := xml.NewDecoder(strings.NewReader(ts.ReadFile(name)))
			for {
				if _, err := d.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					ts.Fatalf("%s: %v", name, err)
				}
			}
		}
	},
	// code N ARG ...: asfound ends with exit code N.
	"code": func(ts *testscript.TestScript, neg bool, args []string) {
		err := ts.Exec("asfound", args[1:]...)
		got := "0"
		var exit interface{ ExitCode() int }
		if errors.As(err, &exit) {
			got = string(rune('0' + exit.ExitCode()))
		} else if err != nil {
			ts.Fatalf("%v", err)
		}
		if got != args[0] {
			ts.Fatalf("exit code %s, want %s", got, args[0])
		}
	},
	// holds DIR N: the folder holds N files, hidden ones too.
	"holds": func(ts *testscript.TestScript, neg bool, args []string) {
		n := 0
		ts.Check(filepath.WalkDir(ts.MkAbs(args[0]), func(_ string, d os.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				n++
			}
			return err
		}))
		if got := string(rune('0' + n)); n > 9 || got != args[1] {
			ts.Fatalf("%s holds %d files, want %s", args[0], n, args[1])
		}
	},
}
