//go:build ignore

// Command brotli packs a file into another as tightly as Brotli can. It is a
// separate command, run by package build with the modules of .ci/tools.mod, so
// that the product does not depend on Brotli.
package main

import (
	"fmt"
	"os"

	"github.com/andybalholm/brotli"
)

func main() {
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "brotli:", err)
		os.Exit(1)
	}
}

func run(from, to string) error {
	b, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	f, err := os.Create(to)
	if err != nil {
		return err
	}
	w := brotli.NewWriterOptions(f, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24})
	if _, err := w.Write(b); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return f.Close()
}
