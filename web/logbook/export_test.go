package logbook

// OpenThrough opens a logbook through a VFS that a test supplies.
var OpenThrough = open
