// Package access says who may see the jobs: the lead, and the phones and desks
// that the lead invited.
//
// Nobody has a password. A device joins with a link or a picture of one that
// carries a token, which serves once, for a while, and can be taken back; it
// gets a token of its own in return, which it shows from then on. Tokens are 256
// random bits. The logbook has their SHA-256 alone: whoever reads the file, or
// a copy of it, cannot join or pass for a device with what stands there. (A
// plain hash is enough for a token, other than for a password, since nobody can
// try 2^256 of them: OWASP Application Security Verification Standard 4.0.3,
// 2.9 and 3.2, from memory.)
//
// # Roles
//
//	lead    everything: invites and takes back, copies the logbook
//	tech    reads jobs and logs entries
//	office  reads jobs and papers, imports and logs entries
//
// # The first device
//
// As long as no lead has a device, First makes a link for one, anew each time
// the server starts. A lead who lost the last device has the server started
// again.
//
// # Times
//
// A link serves for the time that the lead gives it, at most MaxInvite. A
// device that was not seen for Life has to be invited again.
package access
