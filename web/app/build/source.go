package build

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// inputs are the files and folders that the app is made of, from the root of
// the repository. A test holds them to what the engine imports.
var inputs = []string{
	"geo", "asbuilt", "survey", "web/api", "web/app", "web/entry", "cmd/asfoundwasm",
	"go.mod", "go.sum", ".ci/tools.mod", ".ci/tools.sum",
}

// Root returns the root of the repository that this program was built from; ""
// where it is not there, or the program was built without knowing it.
func Root() string {
	_, file, _, ok := runtime.Caller(0)
	if !ok || !filepath.IsAbs(file) { // built with -trimpath
		return ""
	}
	root := filepath.Join(filepath.Dir(file), "..", "..", "..")
	for _, name := range inputs {
		if _, err := os.Stat(filepath.Join(root, name)); err != nil {
			return ""
		}
	}
	return root
}

// Sum names the source in root that the app is made of: a hash of all that goes
// into it, and of the version of Go. Two states of the source with one sum make
// the same app.
func Sum(root fs.FS) (string, error) {
	all := sha256.New()
	fmt.Fprintln(all, runtime.Version()) // a hash never fails
	for _, input := range inputs {
		err := fs.WalkDir(root, input, func(name string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && skipped(d.Name()):
				return fs.SkipDir
			case !d.Type().IsRegular() || strings.HasSuffix(name, "_test.go") || made(name):
				return nil
			}
			return add(all, root, name)
		})
		if err != nil {
			return "", fmt.Errorf("the source of the app: %w", err)
		}
	}
	return hex.EncodeToString(all.Sum(nil)), nil
}

// add adds the name of a file and its content to a sum.
func add(all io.Writer, root fs.FS, name string) error {
	f, err := root.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return err
	}
	_, err = fmt.Fprintf(all, "%s %x\n", name, h.Sum(nil))
	return err
}

// skipped are folders with nothing in them that goes into the app.
func skipped(folder string) bool {
	return folder == shelf || folder == "testdata" || folder == "node_modules"
}

// madeFiles are the patterns of what is made, as .gitignore has them.
var madeFiles = []string{"app.js", "app.css", "*-????????.js", "engine.wasm*", "wasm_exec.js", ".*"}

// made reports whether a file was built by this package, or is not for serving.
func made(name string) bool {
	folder, base := path.Split(name)
	return folder == static+"/" && slices.ContainsFunc(madeFiles, func(pattern string) bool {
		ok, _ := path.Match(pattern, base) // the patterns are valid
		return ok
	})
}
