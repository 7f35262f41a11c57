// Package browser holds the tests that drive the app in a real browser: a
// phone's window and a desk's, with the server there and gone. It has no code
// of its own.
//
// The tests are skipped where no Chromium is found, unless ASFOUND_BROWSER=1
// says that there has to be one. What the screens looked like is left in the
// folder shots, to be looked at.
package browser
