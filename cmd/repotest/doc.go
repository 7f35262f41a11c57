// Package repotest holds the rules of the house as tests: which package may
// import which, what the engine keeps its hands off, that everything is
// documented, and that the README's links lead somewhere. It has no code of
// its own.
package repotest
