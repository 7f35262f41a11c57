// Package browser holds the tests that drive the app in a real browser: a phone's
// window and a desk's, with and without the server. It has no code of its own.
//
// A few of them run wherever a Chromium is on the path, all of them with
// ASFOUND_LONG=1. Pictures of the screens are left in the folder shots.
package browser
