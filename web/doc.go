// Package web serves the phone app and the programming interface under /api/.
//
// Every way in is a row of the table Routes: method, path, who may use it, what
// kind of body it takes and how large. Before a handler runs, every row is
// checked in the same way: the host, the origin of requests that change
// something, the session and its role, the rate, the type and the size of the
// body, and that it does not come in too slowly. Handlers see only what has
// passed.
//
// A stranger gets nothing about a job. Without a session only the page itself,
// its files, the description of the interface and joining are available.
package web

//go:generate go run ../cmd/schemas
