//go:build ignore

// Command generate makes the app from its source and puts it into the folder
// static, from where it is built into the program, with the engine packed as
// tightly as it can be. It is run by go generate.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"

	"asfound/web/app/build"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context) error {
	root, err := filepath.Abs("../..") // go generate stands in the package's folder
	if err != nil {
		return err
	}
	return build.Release(ctx, root, os.Stderr)
}
