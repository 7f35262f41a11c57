package build

import (
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"asfound/web/app"
)

// fill makes the app in dir.
func fill(ctx context.Context, root, dir, sum string, progress io.Writer) error {
	begin := time.Now()
	fmt.Fprintf(progress, "Building the phone app from %s, once for each change of its source:\n", root)
	written := func(name string) bool { return !made(static + "/" + name) }
	if err := copyFiles(filepath.Join(root, filepath.FromSlash(static)), dir, written); err != nil {
		return err
	}
	fmt.Fprintln(progress, "  the page (esbuild)")
	if err := page(ctx, root, dir, progress); err != nil {
		return err
	}
	fmt.Fprintln(progress, "  the engine for the browser (WebAssembly)")
	engine := filepath.Join(dir, "engine.wasm")
	if err := Engine(ctx, root, engine, progress); err != nil {
		return err
	}
	if err := loader(ctx, dir); err != nil {
		return err
	}
	fmt.Fprintln(progress, "  packing")
	if err := pack(engine); err != nil {
		return err
	}
	again, err := Sum(os.DirFS(root))
	if err != nil {
		return err
	}
	if again != sum {
		return errors.New("the source changed while it was being built; run this again")
	}
	a, err := app.Read(os.DirFS(dir))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, app.Stamp), []byte(app.Seal(sum, a.Version())), 0o644); err != nil {
		return err
	}
	fmt.Fprintf(progress, "  done in %.0f s\n", time.Since(begin).Seconds())
	return nil
}

// copyFiles copies the files in a folder that are wanted to another.
func copyFiles(from, to string, wanted func(name string) bool) error {
	entries, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if !wanted(e.Name()) {
			continue
		}
		b, err := os.ReadFile(filepath.Join(from, e.Name()))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, e.Name()), b, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// Libraries are the flags by which esbuild, run in web/app, finds the page's
// libraries in web/app/vendor: a machine that only has Go has no others.
var Libraries = []string{"--jsx=automatic",
	"--alias:preact=./vendor/preact.js", "--alias:preact/hooks=./vendor/preact.js", "--alias:preact/jsx-runtime=./vendor/preact.js"}

// page makes the programs and the styles of the page: app.js with the parts that
// are loaded later, and app.css. The libraries are in web/app/vendor.
func page(ctx context.Context, root, dir string, progress io.Writer) error {
	esbuild := func(args ...string) error {
		args = append([]string{"tool", "-modfile=" + tools(root), "esbuild", "--log-level=warning", "--bundle", "--minify",
			"--target=es2022", "--legal-comments=none"}, args...)
		return run(ctx, filepath.Join(root, "web", "app"), progress, nil, args...)
	}
	err := esbuild(append([]string{"source/app.tsx", "--format=esm", "--splitting", "--charset=utf8",
		"--loader:.css=empty", "--chunk-names=[name]-[hash]", "--outdir=" + dir}, Libraries...)...)
	if err != nil {
		return err
	}
	return esbuild("style/app.css", "--outfile="+filepath.Join(dir, "app.css"))
}

// Engine builds the engine for the browser from the source in root to a file.
// The same source gives the same bytes.
func Engine(ctx context.Context, root, out string, progress io.Writer) error {
	return run(ctx, root, progress, []string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-ldflags=-s -w", "-o", out, "./cmd/asfoundwasm")
}

// loader copies Go's own loader of WebAssembly, of the version that built it.
func loader(ctx context.Context, dir string) error {
	goroot, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env GOROOT: %w", err)
	}
	b, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "wasm_exec.js"), b, 0o644)
}

// pack puts a file with the ending .gz in the place of a file.
func pack(name string) (err error) {
	b, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	f, err := os.Create(name + ".gz")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	w, err := gzip.NewWriterLevel(f, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := w.Write(b); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return os.Remove(name)
}

// tighten puts the engine packed with Brotli beside the one packed with gzip. It
// takes a minute, so a start from a checkout leaves it out.
func tighten(ctx context.Context, root, dir string, progress io.Writer) error {
	name := filepath.Join(dir, "engine.wasm")
	if _, err := os.Stat(name + ".br"); err == nil {
		return nil
	}
	begin := time.Now()
	fmt.Fprintln(progress, "Packing the engine with Brotli, for a release:")
	if err := Engine(ctx, root, name, progress); err != nil {
		return err
	}
	defer os.Remove(name)
	command := []string{"run", "-modfile=" + tools(root), "brotli.go", name, name + ".part"}
	if err := run(ctx, filepath.Join(root, "web", "app"), progress, nil, command...); err != nil {
		return err
	}
	fmt.Fprintf(progress, "  done in %.0f s\n", time.Since(begin).Seconds())
	return os.Rename(name+".part", name+".br")
}

// tools is the module file of what the build needs and the product does not.
func tools(root string) string { return filepath.Join(root, ".ci", "tools.mod") }

// run runs the go command in dir. Its output goes to progress.
func run(ctx context.Context, dir string, progress io.Writer, env []string, args ...string) error {
	c := exec.CommandContext(ctx, "go", args...)
	c.Dir = dir
	c.Env = append(append(os.Environ(), "GOFLAGS="), env...) // flags for other builds are not for this one
	c.Stdout, c.Stderr = progress, progress
	if err := c.Run(); err != nil {
		return fmt.Errorf("go %s: %w; see its output above", args[0], err)
	}
	return nil
}
