package main

import (
	"runtime/debug"
)

// version returns the version of the program as its build recorded it.
func version() string {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		return unknown
	}
	return versionOf(b)
}

// unknown is the version of a program whose build did not record one, as with go
// run.
const unknown = "unknown (its build recorded none)"

// versionOf returns the tag of the commit that was built, or where it has none
// Go's pseudo-version with the commit's time and hash; +dirty where the source
// was not as committed (https://go.dev/ref/mod#pseudo-versions).
func versionOf(b *debug.BuildInfo) string {
	if v := b.Main.Version; v != "" && v != "(devel)" {
		return v + " (" + b.GoVersion + ")"
	}
	return unknown
}
