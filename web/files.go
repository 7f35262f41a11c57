package web

import (
	"io"
	"net/http"
	"time"

	"asfound/web/entry"
)

// putFile keeps the bytes of a file, whatever they are and whatever is said of
// them: a photo that a field took must not be lost over its type.
func (c *call) putFile() error {
	if _, err := c.job(); err != nil {
		return err
	}
	sum := c.PathValue("sha256")
	if !entry.ValidSHA256(sum) {
		return refuse(http.StatusBadRequest, "%.80q; want a SHA-256 of 64 lower-case hexadecimal digits", sum)
	}
	if err := c.Store.PutFile(c.Context(), sum, c.Body); err != nil {
		return err
	}
	c.w.WriteHeader(http.StatusNoContent)
	return nil
}

// file sends a file of a job.
func (c *call) file() error {
	job, err := c.job()
	if err != nil {
		return err
	}
	sum := c.PathValue("sha256")
	var f *entry.File
	for i := range job.Files {
		if job.Files[i].SHA256 == sum {
			f = &job.Files[i]
		}
	}
	if f == nil {
		return refuse(http.StatusNotFound, "the job has no such file")
	}
	content, err := c.Store.File(c.Context(), sum)
	if err != nil {
		return err
	}
	defer content.Close()
	head := make([]byte, entry.Head)
	n, err := io.ReadFull(content, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return err
	}
	if _, err := content.Seek(0, io.SeekStart); err != nil {
		return err
	}
	h := c.w.Header()
	if kind := entry.TypeOf(head[:n]); kind == entry.Plain {
		c.attach(kind, f.Name)
	} else {
		h.Set("Content-Type", kind)
	}
	h.Set("Content-Security-Policy", "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox")
	h.Set("Cache-Control", "private, max-age=31536000, immutable") // named by its content
	http.ServeContent(c.w, c.Request, "", time.Time{}, content)
	return nil
}
