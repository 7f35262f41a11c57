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
