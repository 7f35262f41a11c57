// Package app is the phone app as files: its page, its programs and styles, the
// engine for the browser, and the service worker that keeps all of one version
// on the phone.
//
// The source is TypeScript, in source, trace (the tracing screen) and picture (pictures
// under the plan). What is built from it, and the
// engine, are not kept in git: package build makes it, for go generate (then it
// is built into the program), at the first start from a checkout, and for tests.
// What is served together has one version, a hash of all of it.
package app

//go:generate go run generate.go
