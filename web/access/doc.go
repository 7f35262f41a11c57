// Package access says who may see the jobs: the lead, and the phones and desks
// that the lead invited.
//
// Nobody has a password. A device joins with a link, or a QR code of one, that
// carries a token. The token works once, for a limited time, and can be revoked;
// the device gets a token of its own in return, which it shows from then on.
// Tokens are 256 random bits. The logbook stores only their SHA-256: nobody who
// reads the file, or a copy of it, can join or pose as a device. (A plain hash
// is enough for a token, unlike a password, since nobody can try 2^256 of them:
// OWASP Application Security Verification Standard 5.0.0, 6.5.2.)
//
// # Roles
//
//	lead    everything: invites and revokes, changes settings, sets aside, copies the logbook
//	tech    reads jobs and logs entries, the first settings and sketch of a new job among them
//	office  the same, imports whole folders, and replaces sketches
//
// What people do to the logbook itself is kept too: see Act.
//
// # The first device
//
// As long as no lead has a device, First makes a link for one each time the
// server starts. A lead who has lost the last device restarts the server.
//
// # Times
//
// A link works for the time that the lead gives it, at most MaxInvite. A
// device that was not seen for Life has to be invited again.
package access
