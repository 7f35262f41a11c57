package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// verdict is what became of a change.
type verdict string

const (
	noticed  verdict = "noticed "
	survived verdict = "SURVIVED"
	invalid  verdict = "invalid " // it does not compile
)

// bench tries changes of one package.
type bench struct {
	settings
	folder, scratch string
	time            time.Duration // that the tests take as they are
}

// usual runs the tests as they are. It is an error for them to fail.
func (b *bench) usual() error {
	if err := b.build(""); err != nil {
		return err
	}
	begin := time.Now()
	if ok, err := b.test(10 * time.Minute); err != nil || !ok {
		return errors.Join(errors.New("the tests fail as they are"), err)
	}
	b.time = time.Since(begin)
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
	ok, err := b.test(max(10*time.Second, time.Duration(b.slower*float64(b.time))))
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

// test runs the test program and reports whether it passed within a time.
func (b *bench) test(limit time.Duration) (ok bool, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	c := exec.CommandContext(ctx, b.program(), "-test.failfast", "-test.run", b.tests, fmt.Sprintf("-test.short=%v", b.short))
	c.Dir = b.folder
	c.WaitDelay = time.Second
	err = c.Run()
	var exit *exec.ExitError
	if errors.As(err, &exit) || ctx.Err() != nil || errors.Is(err, exec.ErrWaitDelay) {
		return false, nil
	}
	return err == nil, err
}
