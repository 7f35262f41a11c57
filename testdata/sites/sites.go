// Package sites holds whole invented jobs, each with its truth.
//
// No lot, house, permit or person in them is real. Where a job is tied to the
// earth it lies in the open South Pacific, so that no map shows a house there.
// Every job is a folder as a crew would have it, and one file more,
// truth.json: where its parts truly lie. No command reads that file; tests do.
//
//	demo         feet, tapes from two house corners and a fence post, two phone
//	             fixes; a lot that was filled; one tape misread by a foot; a
//	             hole that met nothing where the sketch has the box
//	metric-gnss  metres, phone fixes only, chambers, a sketch of unknown scale
//	two-tapes    metres, tapes, a baseline, a bearing and a cable; no satellite
//	             fix, so no longitude and latitude; a sheet that may be mirrored
//	day-before   feet, a sketch with written ties and no reading at all
//
// They are invented by invent.go, which makes a lot, draws it as badly as
// sketches are drawn, and measures it with the errors of a crew:
//
//	go run testdata/sites/invent.go testdata/sites
package sites

import "embed"

// Folders holds the jobs, a folder each, by the names above.
//
//go:embed demo metric-gnss two-tapes day-before
var Folders embed.FS
