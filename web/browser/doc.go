// Package browser holds the tests that drive the app in a real browser: a
// phone's window and a desk's, with the server there and gone. It has no code
// of its own.
//
// A few of them run wherever a Chromium is on the path, all of them with
// ASFOUND_LONG=1. What the screens looked like is left in the folder shots, to be
// looked at.
package browser
