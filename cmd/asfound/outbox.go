package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// outbox collects the files of one command and writes them all or none. Each is
// made in memory first, so that a failure to draw leaves nothing behind.
type outbox struct {
	dir   string
	files []letter
	err   error // the first error
}

// letter is one file to be written.
type letter struct {
	name string
	text []byte
}

// add makes a file from what write writes.
func (o *outbox) add(name string, write func(io.Writer) error) {
	if o.err != nil {
		return
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		o.err = fmt.Errorf("%s: %w", name, err)
		return
	}
	o.files = append(o.files, letter{name, b.Bytes()})
}

// fail keeps the first error of what could not be made.
func (o *outbox) fail(name string, err error) {
	if o.err == nil {
		o.err = fmt.Errorf("%s: %w", name, err)
	}
}

// send writes the files into the folder: first under other names beside their
// own, then, when all are safe on disk, by renaming. If anything fails none of
// them is left, nor a folder that was made for them.
func (o *outbox) send() (err error) {
	if o.err != nil {
		return o.err
	}
	var made, waiting, placed []string
	defer func() {
		if err == nil {
			return
		}
		for _, name := range slices.Concat(waiting, placed, made) {
			os.Remove(name) // removes a folder only if it is empty
		}
	}()
	for _, f := range o.files {
		path := filepath.Join(o.dir, f.name)
		dirs, err := mkdir(filepath.Dir(path))
		made = append(dirs, made...)
		if err != nil {
			return err
		}
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			return fmt.Errorf("%s is a folder; a file of that name is to be written", path)
		}
		name, err := deposit(filepath.Dir(path), f.text)
		if name != "" {
			waiting = append(waiting, name)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	for i, f := range o.files {
		path := filepath.Join(o.dir, f.name)
		if err := os.Rename(waiting[i], path); err != nil {
			return err
		}
		placed = append(placed, path)
	}
	return nil
}

// deposit writes text to a new file in dir and returns its name.
func deposit(dir string, text []byte) (string, error) {
	f, err := os.CreateTemp(dir, ".asfound-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	return f.Name(), errors.Join(err, f.Chmod(0o644), f.Close())
}

// mkdir makes dir and those above it, and returns those that it made, the
// innermost first.
func mkdir(dir string) (made []string, err error) {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if err == nil && info.IsDir() {
			break
		}
		if err == nil {
			return nil, fmt.Errorf("%s is a file; a folder is wanted there", d)
		}
		if !os.IsNotExist(err) {
			return nil, err
		}
		made = append(made, d)
		if d == filepath.Dir(d) {
			break
		}
	}
	return made, os.MkdirAll(dir, 0o755)
}

// names lists what was written, for people.
func (o *outbox) names() string {
	var b strings.Builder
	b.WriteString("wrote to " + o.dir + ":")
	for _, f := range o.files {
		b.WriteString(" " + f.name)
	}
	return fold(b.String(), 78, "  ")
}
