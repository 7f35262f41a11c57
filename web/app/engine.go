//go:build ignore

// Command engine builds the engine for the browser into the folder static:
//
//	engine.wasm.br, engine.wasm.gz   cmd/asfoundwasm, packed as a browser takes it
//	wasm_exec.js                     Go's own loader, of the same version of Go
//
// The same source gives the same bytes. It is run by go generate.
package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"
)

func main() {
	if err := run("static"); err != nil {
		fmt.Fprintln(os.Stderr, "engine:", err)
		os.Exit(1)
	}
}

func run(dir string) error {
	temp, err := os.MkdirTemp("", "engine")
	if err != nil {
		return err
	}
	defer os.RemoveAll(temp)
	wasm := filepath.Join(temp, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", wasm, "asfound/cmd/asfoundwasm")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return fmt.Errorf("go build: %w", err)
	}
	engine, err := os.ReadFile(wasm)
	if err != nil {
		return err
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env GOROOT: %w", err)
	}
	loader, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	br, err := pack(engine, func(w io.Writer) (io.WriteCloser, error) {
		return brotli.NewWriterOptions(w, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24}), nil
	})
	if err != nil {
		return err
	}
	gz, err := pack(engine, func(w io.Writer) (io.WriteCloser, error) { return gzip.NewWriterLevel(w, gzip.BestCompression) })
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range []struct {
		name  string
		bytes []byte
	}{{"engine.wasm.br", br}, {"engine.wasm.gz", gz}, {"wasm_exec.js", loader}} {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.bytes, 0o644); err != nil {
			return err
		}
	}
	fmt.Printf("engine: %d bytes, %d as gzip, %d as Brotli\n", len(engine), len(gz), len(br))
	return nil
}

// pack compresses b.
func pack(b []byte, writer func(io.Writer) (io.WriteCloser, error)) ([]byte, error) {
	var out bytes.Buffer
	w, err := writer(&out)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(b); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
