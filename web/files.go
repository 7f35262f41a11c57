package web

import (
	"bufio"
	"io"
	"mime"
	"net/http"
	"strings"
	"time"

	"asfound/web/entry"
)

// shown are the types that a browser may show as they are: pictures and PDF,
// which contain no script that would run with this site's origin. An SVG may.
var shown = map[string]bool{
	"image/png": true, "image/jpeg": true, "image/gif": true, "image/webp": true, "image/heic": true, "application/pdf": true,
}

// contentType says what the first bytes of a file are: the types of the WHATWG
// MIME Sniffing standard as net/http has them, and HEIC, in which phones take
// pictures (ISO/IEC 23008-12, Annex D: a file type box with such a brand).
func contentType(head []byte) string {
	if len(head) >= 12 && string(head[4:8]) == "ftyp" {
		switch string(head[8:12]) {
		case "heic", "heix", "mif1", "msf1":
			return "image/heic"
		}
	}
	kind, _, _ := mime.ParseMediaType(http.DetectContentType(head)) // its own output
	return kind
}

// putFile keeps the bytes of a file. A file that claims to be a picture or a
// PDF has to be one; anything else is stored as it is, and only ever sent as a
// download.
func (c *call) putFile() error {
	if _, err := c.job(); err != nil {
		return err
	}
	sum := c.PathValue("sha256")
	if !entry.ValidSHA256(sum) {
		return refuse(http.StatusBadRequest, "%.80q; want a SHA-256 of 64 lower-case hexadecimal digits", sum)
	}
	claimed, _, err := mime.ParseMediaType(c.Header.Get("Content-Type"))
	if err != nil {
		return refuse(http.StatusUnsupportedMediaType, "Content-Type %.100q; want the type of the file", c.Header.Get("Content-Type"))
	}
	body := bufio.NewReader(c.Body)
	head, err := body.Peek(512)
	if err != nil && err != io.EOF {
		return unreadable(err)
	}
	is := contentType(head)
	if claimed == "image/heif" {
		claimed = "image/heic"
	}
	if strings.HasPrefix(claimed, "image/") && !shown[claimed] {
		return refuse(http.StatusUnsupportedMediaType, "%s is not accepted as a picture; want PNG, JPEG, GIF, WebP, HEIC or PDF", claimed)
	}
	if shown[claimed] && is != claimed {
		return refuse(http.StatusUnsupportedMediaType, "this says it is %s, but its content is %s", claimed, is)
	}
	if err := c.Store.PutFile(c.Context(), sum, body); err != nil {
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
	head := make([]byte, 512)
	n, err := io.ReadFull(content, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return err
	}
	if _, err := content.Seek(0, io.SeekStart); err != nil {
		return err
	}
	h := c.w.Header()
	if kind := contentType(head[:n]); shown[kind] {
		h.Set("Content-Type", kind)
	} else {
		c.attach("application/octet-stream", f.Name)
	}
	h.Set("Content-Security-Policy", "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox")
	h.Set("Cache-Control", "private, max-age=31536000, immutable") // named by its content
	http.ServeContent(c.w, c.Request, "", time.Time{}, content)
	return nil
}
