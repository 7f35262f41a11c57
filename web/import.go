package web

import (
	"archive/zip"
	"context"
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
