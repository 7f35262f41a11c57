package logbook

import (
	"context"

	"asfound/web/entry"
)

// OpenThrough opens a logbook through a VFS that a test supplies.
var OpenThrough = open

// Append takes entries that no device sent, and returns those on the disk.
func (b *Store) Append(ctx context.Context, entries []entry.Entry) (accepted []string, err error) {
	taken, err := b.Take(ctx, "", entries)
	return taken.Accepted, err
}
