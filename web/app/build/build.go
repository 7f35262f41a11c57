// Package build makes the phone app from its source: the page's programs and
// styles by esbuild, the engine for the browser by the Go toolchain. go
// generate, the first start from a checkout and the tests all call it. It needs
// Go; modules that Go does not have yet are fetched once.
//
// The app is put into a folder beside the source that is named after the
// source's hash, so that files of another state of the source are never used.
// Several processes may ask at once: one builds, the others wait.
package build

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"asfound/web/app"
)

const (
	static = "web/app/static" // what is served as it is written
	shelf  = ".built"         // in web/app: the folder of built apps
	half   = "half-"          // prefix of the name of an unfinished build
	keep   = 24 * time.Hour   // a build that was not used for this long is removed at the next build
)

// App returns the whole app: the one in this program if it matches the source
// beside it or if there is no source, else one built from the source. Slow
// steps are reported on progress.
func App(ctx context.Context, progress io.Writer) (*app.App, error) {
	embedded, err := app.Embedded()
	if err != nil {
		return nil, err
	}
	root := Root()
	if root == "" {
		if embedded.Source() == "" {
			return nil, errors.New("this program was built without the phone app, and its source is not here to build it from.\n" +
				"In a clone of the repository, with Go: go generate ./web/app, then go build ./cmd/asfound")
		}
		return embedded, nil
	}
	sum, err := Sum(os.DirFS(root))
	if err != nil {
		return nil, err
	}
	if embedded.Source() == sum {
		return embedded, nil
	}
	dir, err := Make(ctx, root, progress)
	switch {
	case errors.Is(err, errNoGo) && embedded.Source() != "":
		fmt.Fprintf(progress, "The source in %s has changed since this program was built, and %v: the phone app is still the old one.\n"+
			"To change it, with Go: go generate ./web/app, then go build ./cmd/asfound\n", root, errNoGo)
		return embedded, nil
	case errors.Is(err, errNoGo):
		return nil, fmt.Errorf("the phone app must be built from its source in %s, and %w.\n"+
			"Install Go (https://go.dev/dl), or use a program that was built after go generate ./web/app", root, errNoGo)
	case err != nil:
		return nil, fmt.Errorf("the phone app could not be built from its source in %s: %w", root, err)
	}
	return app.Read(os.DirFS(dir))
}

// errNoGo says that nothing can be built here.
var errNoGo = errors.New("no go command is on the path")

// Make makes the app from the source in root, unless that was done before, and
// returns the folder with all its files.
func Make(ctx context.Context, root string, progress io.Writer) (string, error) {
	sum, err := Sum(os.DirFS(root))
	if err != nil {
		return "", err
	}
	return shelve(ctx, filepath.Join(root, "web", "app", shelf), sum, progress, func(dir string) error {
		if _, err := exec.LookPath("go"); err != nil {
			return errNoGo
		}
		return fill(ctx, root, dir, sum, progress)
	})
}

// shelve returns the folder with the app of a source, and has it filled first
// where there is none.
func shelve(ctx context.Context, folder, sum string, progress io.Writer, fill func(dir string) error) (string, error) {
	dir := filepath.Join(folder, sum[:16])
	if used(dir, sum) {
		return dir, nil
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", err
	}
	one, err := lock(ctx, filepath.Join(folder, "lock"), progress)
	if err != nil {
		return "", err
	}
	defer one.Unlock()  // ends with the process at the latest
	if used(dir, sum) { // another process was quicker
		return dir, nil
	}
	if err := sweep(folder); err != nil {
		return "", err
	}
	temp, err := os.MkdirTemp(folder, half)
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(temp)
	if err := fill(temp); err != nil {
		return "", err
	}
	if err := os.RemoveAll(dir); err != nil { // one that was damaged
		return "", err
	}
	return dir, os.Rename(temp, dir)
}

// used reports whether dir has the whole app of a source, and records its use.
func used(dir, sum string) bool {
	a, err := app.Read(os.DirFS(dir))
	if err != nil || a.Source() != sum {
		return false
	}
	now := time.Now()
	_ = os.Chtimes(dir, now, now) // a folder that cannot be written is not swept either
	return true
}

// lock waits until no other process builds here. It ends by itself when its
// process does.
func lock(ctx context.Context, name string, progress io.Writer) (*flock.Flock, error) {
	one := flock.New(name, flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o666)) // as wide as the umask allows
	soon, stop := context.WithTimeout(ctx, time.Second)
	defer stop()
	_, err := one.TryLockContext(soon, often)
	if err != nil && soon.Err() != nil && ctx.Err() == nil {
		fmt.Fprintln(progress, "The phone app is being built by another process; waiting for it.")
		_, err = one.TryLockContext(ctx, often)
	}
	return one, err
}

// often is how long to wait between two looks whether another process has finished.
const often = 20 * time.Millisecond

// sweep removes builds that were not used for a long time, and what an
// interrupted process left half done. Only the holder of the lock may call it.
func sweep(folder string) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			return err
		}
		if e.IsDir() && (strings.HasPrefix(e.Name(), half) || time.Since(info.ModTime()) > keep) {
			if err := os.RemoveAll(filepath.Join(folder, e.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

// Release makes the app from the source in root, packs the engine as tightly as
// it can be, and puts all of it into the folder that is built into the program.
func Release(ctx context.Context, root string, progress io.Writer) error {
	dir, err := Make(ctx, root, progress)
	if err != nil {
		return err
	}
	if err := tighten(ctx, root, dir, progress); err != nil {
		return err
	}
	to := filepath.Join(root, filepath.FromSlash(static))
	old, err := os.ReadDir(to)
	if err != nil {
		return err
	}
	for _, e := range old {
		if made(static+"/"+e.Name()) && e.Name() != ".gitignore" {
			if err := os.Remove(filepath.Join(to, e.Name())); err != nil {
				return err
			}
		}
	}
	return copyFiles(dir, to, func(name string) bool { return made(static + "/" + name) })
}
