// Package answer has the types of every answer that leaves the engine as JSON:
// those of the commands, of the stages that phone and server call, and of the
// GeoJSON files. They are plain data. Package survey/export and web/api fill
// them; the JSON Schemas of web/openapi.json and the TypeScript of the page are
// generated from them and their comments (cmd/schemas), so that an answer is
// described in one place.
//
// All of it is metric, in metres and degrees, whatever unit the crew works in.
// East and north are metres in the field frame of the job: ground metres about
// the first satellite fix, or laid on the landmarks where nothing ties the job
// to the earth. Bearings are clockwise from the frame's north. A region, radius
// or half-width holds the true place with a probability of 95 %; a sigma is one
// standard deviation.
//
// What is not known is left out or null, never an invented number. A member
// that may be null is a pointer without omitempty and has the tag
// jsonschema:"nullable"; every other number is always there.
package answer
