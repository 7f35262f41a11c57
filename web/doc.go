// Package web serves the phone app and the programming interface under /api/.
//
// Every way in is a row of the table Routes: method, path, who may, what kind
// of body it takes and how large. What is checked before a handler runs, for
// each row alike: the host asked for, the origin of requests that change
// something, the session and its role, how often, the type and the size of the
// body, and that it does not come in too slowly. Handlers see what has passed.
//
// Nothing of a job is answered to a stranger. Without a session there are the
// page itself, its files, the description of the interface, and joining.
package web

//go:generate go run ../cmd/schemas
