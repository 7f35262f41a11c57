package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// verdict is the outcome of a change.
type verdict string

const (
	noticed  verdict = "noticed "
	survived verdict = "SURVIVED"
	invalid  verdict = "invalid " // it does not compile
)

// quiet keeps the package rapid from writing files.
const quiet = "-rapid.nofailfile"

// bench tries changes of one package.
type bench struct {
	settings
	folder, scratch string
	also            []string      // flags of the test program
	time            time.Duration // of a processor that the tests take as they are
}

// usual runs the tests unchanged. It is an error if they fail.
func (b *bench) usual() error {
	if err := b.build(""); err != nil {
		return err
	}
	// The package rapid stores failures in the tree, unless a flag says
	// otherwise.
	if exec.Command(b.program(), "-test.list", "^$", quiet).Run() == nil {
		b.also = []string{quiet}
	}
	ok, took, err := b.test(600)
	if err != nil || !ok {
		return errors.Join(errors.New("the tests fail as they are"), err)
	}
	b.time = took
	return nil
}

// judge compiles a change and runs the tests.
func (b *bench) judge(m mutant) (verdict, error) {
	text, err := os.ReadFile(m.file)
	if err != nil {
		return "", err
	}
	changed := string(text[:m.from]) + m.with + string(text[m.to:])
	stand := filepath.Join(b.scratch, "changed.go")
	overlay := filepath.Join(b.scratch, "overlay.json")
	if err := os.WriteFile(stand, []byte(changed), 0o600); err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {m.file: stand}})
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(overlay, list, 0o600); err != nil {
		return "", err
	}
	if b.build(overlay) != nil {
		return invalid, nil
	}
	ok, _, err := b.test(max(5, int(math.Ceil(b.slower*b.time.Seconds()))))
	switch {
	case err != nil:
		return "", err
	case ok:
		return survived, nil
	}
	return noticed, nil
}

// program returns where the test program is.
func (b *bench) program() string { return filepath.Join(b.scratch, "tests") }

// build compiles the tests of the package, as it is or with an overlay.
func (b *bench) build(overlay string) error {
	args := []string{"test", "-c", "-vet=off", "-o", b.program()}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	c := exec.Command("go", append(args, ".")...)
	c.Dir = b.folder
	if text, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, text)
	}
	return nil
}

// test runs the test program and reports whether it passed within so many
// seconds of a processor, and how much of that it took. A limit on wall-clock
// time would make a busy machine look like a failing test.
func (b *bench) test(seconds int) (ok bool, took time.Duration, err error) {
	args := []string{"-c", `ulimit -t "$1"; shift; exec "$@"`, "sh", fmt.Sprint(seconds),
		b.program(), "-test.failfast", "-test.run", b.tests, fmt.Sprintf("-test.short=%v", b.short)}
	c := exec.Command("sh", append(args, b.also...)...)
	c.Dir = b.folder
	err = c.Run()
	if c.ProcessState != nil {
		took = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	}
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return false, took, nil
	}
	return err == nil, took, err
}
