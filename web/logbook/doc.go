// Package logbook keeps the entries of all jobs, and the files beside them, in
// one SQLite file.
//
// # What is promised
//
// An entry is on the disk when Append returns, and stays as it is: the tables
// refuse to change or drop a row, whoever asks. An entry that comes again is
// known by its id and not taken twice. All writing goes through one writer,
// which commits what many phones send at one time together, since it is the
// disk's "written" that takes the time: a write-ahead log is synced before each
// commit is answered (https://www.sqlite.org/wal.html and
// https://www.sqlite.org/pragma.html#pragma_synchronous, FULL). A process
// killed at any moment, or a machine without power, loses nothing that was
// answered; what was not answered is sent again.
//
// # The file
//
// Its schema is numbered by PRAGMA user_version. An older file is brought
// forward, step by step, when it is opened; a newer one is refused. While it is
// open SQLite keeps a write-ahead log and its index beside it, named like it
// with -wal and -shm: copy a logbook with Backup, not by hand.
package logbook
