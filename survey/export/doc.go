// Package export writes what was worked out of a job for other programs: JSON
// for whoever drives asfound from outside, GeoJSON for maps and offices, tables
// for spreadsheets. All of it is metric, in metres and degrees, whatever unit
// the crew works in; tables have the crew's unit beside it.
//
// What is in the JSON is said by the types of survey/answer; whoever serves the
// same answers elsewhere builds them with the New functions. What is not known
// is left out or null, never a made-up number: no longitude and latitude for a
// job without a tie to the earth, no NaN, no infinity.
package export
