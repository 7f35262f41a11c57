// Package logbook keeps the entries of all jobs, and the files beside them, in
// one SQLite file.
//
// # What is promised
//
// An entry is on the disk when Append returns, and never changes: the tables
// refuse to change or delete a row. An entry that comes again is recognised by
// its id and not stored twice. All writing goes through one writer, which
// commits what many phones send at one time together, since syncing the disk
// takes most of the time: a write-ahead log is synced before each commit is
// answered (https://www.sqlite.org/wal.html and
// https://www.sqlite.org/pragma.html#pragma_synchronous, FULL). A process
// killed at any moment, or a power cut, loses nothing that was acknowledged;
// what was not acknowledged is sent again.
//
// # What the server adds
//
// Beside each entry stands which device sent it, when it arrived by the server's
// clock, and a SHA-256 of all of it. The order of arrival is what decides between
// sketches and settings: phones are told it. An id that comes again with other
// content is not taken, and neither is a sketch or settings made in place of
// others than those that apply by now; both are answered as such.
//
// # Damage
//
// The structure of the file is checked when it is opened, and everything, the
// sums included, before each copy and whenever Check is called. From the first
// sign of damage on nothing is written, so that nothing is acknowledged that may
// not last; what can be read still is. Salvage saves what the pages of a damaged
// file hold, one by one, and names what is missing. A file has a generation; a
// copy and a salvaged file have another. By it, and by the number of the last
// entry, a phone notices that the store went back, and sends what it lacks.
//
// # The file
//
// Its schema is numbered by PRAGMA user_version. An older file is brought
// forward, step by step, when it is opened; a newer one is refused. While it is
// open SQLite keeps a write-ahead log and its index beside it, with its name
// and -wal or -shm: copy a logbook with Backup, not by hand. All of them are
// readable for their owner alone, from their first byte. One process at a time
// has a logbook open for writing; it holds the lock beside it (-lock), which
// stays there, empty.
package logbook
