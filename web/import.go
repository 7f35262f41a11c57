package web

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"strings"
	"time"

	"asfound/web/access"
	"asfound/web/entry"
)

// The most that a packed folder may unpack to.
const maxUnpacked = 512 << 20 // bytes

// unpack opens a packed job folder and holds it to what a job folder is:
// plain files under plain names, not too many, not too large. The sizes that
// the archive states are enforced: archive/zip stops reading a file that goes
// on beyond the size stated.
func unpack(r io.ReaderAt, size int64) (fs.FS, error) {
	if n, err := listed(r, size); err != nil {
		return nil, refuse(http.StatusBadRequest, "this is not a packed folder: %v", err)
	} else if n > entry.MaxFiles {
		return nil, refuse(http.StatusBadRequest, "%d files; a job folder has at most %d", n, entry.MaxFiles)
	}
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, refuse(http.StatusBadRequest, "this is not a packed folder: %v", err)
	}
	if len(z.File) > entry.MaxFiles {
		return nil, refuse(http.StatusBadRequest, "%d files; a job folder has at most %d", len(z.File), entry.MaxFiles)
	}
	var total uint64
	seen := map[string]bool{}
	for _, f := range z.File {
		name := strings.TrimSuffix(f.Name, "/")
		switch mode := f.Mode(); {
		case !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\:\x00"):
			return nil, refuse(http.StatusBadRequest, "a file is called %.100q; want a plain name within the folder", f.Name)
		case !mode.IsRegular() && !mode.IsDir():
			return nil, refuse(http.StatusBadRequest, "%.100q is not a regular file (%v)", f.Name, mode)
		case seen[name]:
			return nil, refuse(http.StatusBadRequest, "%.100q is in it twice", f.Name)
		case f.UncompressedSize64 > entry.MaxFile:
			return nil, refuse(http.StatusRequestEntityTooLarge, "%.100q unpacks to %d bytes; at most %d are accepted", f.Name, f.UncompressedSize64, entry.MaxFile)
		}
		seen[name] = true
		total += f.UncompressedSize64 // few and small: no overflow
	}
	if total > maxUnpacked {
		return nil, refuse(http.StatusRequestEntityTooLarge, "it unpacks to %d bytes; at most %d are accepted", total, maxUnpacked)
	}
	return entry.Root(z), nil
}

// longestListing is the most bytes of an archive's list of files that are read for
// each file it may have.
const longestListing = 1 << 10

// listed returns how many files an archive says it has, from the record at its end
// (PKWARE APPNOTE 6.3, 4.3.16), before the list of them is read: that takes many
// times its own size. The list is as long as that record is away from its
// beginning, whatever it says of its length.
func listed(r io.ReaderAt, size int64) (n int, err error) {
	tail := make([]byte, min(size, 22+1<<16)) // with the longest comment
	if _, err := r.ReadAt(tail, size-int64(len(tail))); err != nil && err != io.EOF {
		return 0, err
	}
	i := bytes.LastIndex(tail, []byte("PK\x05\x06"))
	if i < 0 || len(tail)-i < 22 {
		return 0, zip.ErrFormat
	}
	end := tail[i:]
	n = int(binary.LittleEndian.Uint16(end[10:]))
	length, from := int64(binary.LittleEndian.Uint32(end[12:])), int64(binary.LittleEndian.Uint32(end[16:]))
	at := size - int64(len(end))
	if most := int64(entry.MaxFiles * longestListing); n <= entry.MaxFiles && (length > most || at-from > most) {
		return 0, fmt.Errorf("its list of files has %d bytes; want at most %d", max(length, at-from), most)
	}
	return n, nil
}

// Import takes the job folder in the root of fsys into the logbook as a new
// job, and returns its id. by imports it; it has a name at least. Its files are kept before the
// entries that name them, so that no entry is ever without them.
func (s *Site) Import(ctx context.Context, fsys fs.FS, by access.Device) (id string, err error) {
	now := time.Now
	if s.Now != nil {
		now = s.Now
	}
	at := now()
	id = newID(at)
	entries, files, err := entry.FromFolder(fsys, id, func() string { return newID(at) }, at, by.Name)
	if err != nil {
		return "", err
	}
	for _, f := range files {
		if err := s.keep(ctx, fsys, f); err != nil {
			return "", err
		}
	}
	_, err = s.Store.Take(ctx, by.ID, entries)
	return id, err
}

func (s *Site) keep(ctx context.Context, fsys fs.FS, f entry.File) error {
	r, err := fsys.Open(f.Name)
	if err != nil {
		return err
	}
	defer r.Close()
	return s.Store.PutFile(ctx, f.SHA256, r)
}
