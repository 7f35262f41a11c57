// Package must takes the value of a call that cannot fail in a test, so that it can
// stand in an expression.
package must

// Have returns the value of a call.
func Have[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
