package logbook

// OpenThrough opens a logbook through a VFS that a test brings.
var OpenThrough = open
