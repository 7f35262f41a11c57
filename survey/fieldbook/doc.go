// Package fieldbook reads and writes what a crew brings back: the log
// (readings.csv), the settings of the job (job.json), GPX waypoints and NMEA
// 0183 sentences. It reads from an io.Reader, reports everything wrong in one
// pass, and never panics.
//
// # The log
//
// One row a reading, a header row, columns in any order, UTF-8, RFC 4180.
// Lengths are numbers in the row's unit (column unit, else the job's) or text
// with a unit. A row without an id is called r and its row number, the header
// being row 1.
//
// # Satellite fixes
//
// GPX has no accuracy in metres: a waypoint is taken to be good to 4.9 m at
// 95 %, what phones typically do under open sky (GPS.gov, from memory; the
// probability is our reading of "typically"), times its hdop where
// that is over 1. The epochs of an NMEA file are averaged into one fix whose
// accuracy does not shrink with their number: errors of consecutive epochs are
// nearly the same error, so their mean is hardly better than one of them. Where
// the epochs scatter wider than the receiver states, their scatter is taken.
// Epochs from dead reckoning, typed in or simulated are not fixes.
package fieldbook
