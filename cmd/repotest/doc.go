// Package repotest tests the rules of the repository: which package may import
// which, what the engine must not use, that everything is documented, and that
// the links of the documents lead somewhere. It contains only tests.
package repotest
