// Package long says which tests run. go test ./... runs what shows a developer
// within minutes whether a change works; with ASFOUND_LONG=1 it runs everything,
// at full size, and requires the programs that tests compare with. A test that
// is left out, or made smaller, says so by Only or Size.
package long

import (
	"os"
	"os/exec"
	"testing"
)

// Variable is the environment variable that asks for the long tests.
const Variable = "ASFOUND_LONG"

// Asked reports whether the long tests are requested.
func Asked() bool { return os.Getenv(Variable) == "1" }

// Only skips a test unless the long tests are requested; what says what the
// test needs: "20 s and a browser".
func Only(t testing.TB, what string) {
	t.Helper()
	if !Asked() {
		t.Skipf("%s; run it with %s=1", what, Variable)
	}
}

// Size returns how many cases a test tries: all if the long tests are asked for,
// else some, and says so.
func Size(t testing.TB, some, all int) int {
	t.Helper()
	if Asked() {
		return all
	}
	t.Logf("%d of %d cases; all with %s=1", some, all, Variable)
	return some
}

// Program returns the path of the first of the programs that is there. Without
// one the test is skipped, or fails where the long tests are asked for.
func Program(t testing.TB, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if Asked() {
		t.Fatalf("%s asks for all tests, and %s is not on the path; .ci/run install installs it", Variable, names[0])
	}
	t.Skipf("%s is not on the path; .ci/run install installs it", names[0])
	return ""
}
