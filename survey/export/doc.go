// Package export writes the results of a job for other programs: JSON for
// programs that run asfound, GeoJSON for maps and offices, tables for
// spreadsheets. All of it is metric, in metres and degrees, whatever unit the
// crew works in; tables have the crew's unit beside it.
//
// The types of survey/answer define the JSON; other packages
// that serve the same answers build them with the New functions. What is not
// known is left out or null, never an invented number: no longitude and
// latitude for a job without a tie to the earth, no NaN, no infinity.
package export
