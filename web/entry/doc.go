// Package entry is what phones and server exchange: entries, each one thing
// that somebody logged, and how entries make up a job.
//
// An entry is made once, on one phone, and never changed. Its id is made there
// too, so that it can be sent again after a lost answer without being counted
// twice. A job follows from the set of its entries alone, whatever the
// order and however often they arrive: two phones that worked without coverage
// hold the same job as soon as they hold the same entries. (Such a set that
// only grows is the G-Set of Shapiro, Preguiça, Baquero and Zawirski 2011, "A
// comprehensive study of Convergent and Commutative Replicated Data Types",
// section 3.3.1; the sketch and the settings are its last-writer-wins register,
// section 3.2.1.)
//
//	{"id": "01JX4W8Z0K3V5T7Q9R2B4D6F8H", "job": "01JX4W7M5N6P8S0V2X4Z6B8D0F",
//	 "kind": "reading", "at": "2026-05-04T09:30:00.000Z", "by": "Phone 2",
//	 "body": {"kind": "tape", "from": "A", "to": "H1", "value": "43'6\""}}
//
// # Kinds
//
//	sketch    the content of sketch.geojson; the last of a job applies
//	settings  the content of job.json; the last of a job applies
//	reading   a row of readings.csv as an object of texts by column; a reading
//	          without an id is called by the id of its entry
//	paper     a document that was made of the job: its name, such as record.pdf
//	file      a scan, a photo or another file; its bytes are stored
//	          separately, named by their SHA-256
//	aside     sets everything of one device, or the whole job, aside, or takes it
//	          up again; the last about each applies
//
// The last is the one that reached the server last, whose order every phone is
// told: the clock of a phone may be wrong. What has not reached it yet comes
// after, by its time and id. A sketch or settings say in whose place they were
// made, and the server refuses those whose predecessor was replaced meanwhile.
// Readings are in the order of their times, and of equal times of their ids.
// Entries of a kind that this version does not know are kept and
// passed on, but not read.
//
// # Job folders
//
// FromFolder turns a job folder into entries, Job.Export turns a job into a
// folder again; nothing is lost between them. The bytes of sketch.geojson and
// job.json stay as they were, but for a byte order mark. Of readings.csv the
// cells stay, while column order and quoting do not; rows without an id get
// the one they are called by ("r7"), so that a void still finds its reading.
// The fixes in GPX and NMEA files become readings, in whose column file their
// file is named; it is exported as it was, and these rows are left out, so that
// they do not count twice.
//
// The package has no disk, network, clock or dice of its own, and runs in a
// browser.
package entry
