// Package api has the stages of a job as functions of JSON: what the phone asks
// of the engine in its own browser, and what the server answers under
// /api/stage/. It is the same code in both, so that both give the same numbers.
//
// A stage takes one JSON object and answers with one. The same request always
// gets the same answer: there is no clock, no disk and no network here, and any
// date to be printed is in the request. Coordinates are metres in the field frame
// of the job, as everywhere in the engine.
//
// A request that cannot be answered is an *answer.Refusal, which is JSON as well.
package api
