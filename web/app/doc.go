// Package app is the phone app as files: its page, its programs and styles, the
// engine for the browser where it was built, and the service worker that keeps
// all of one version on the phone.
//
// The source is TypeScript, in source and trace; go generate makes from it what
// is in static, with nothing but Go. What is served together has one version,
// a hash of all of it.
package app

//go:generate go run bundle.go
//go:generate go run -modfile=../../.ci/tools.mod engine.go
