package entry

import "bytes"

// Plain is the media type of a file that no browser is asked to show.
const Plain = "application/octet-stream"

// signatures are how the files begin that a browser may show as they are:
// pictures and PDF, which contain no script that would run with the site's
// origin. An SVG may. Sources: WHATWG MIME Sniffing, 6.1 and 7.1; HEIC, in which
// phones take pictures, ISO/IEC 23008-12, Annex D (a file type box of such a
// brand). The page has the same table in source/type.ts.
var signatures = []struct {
	at    int
	bytes string
	kind  string
}{
	{0, "\x89PNG\r\n\x1a\n", "image/png"},
	{0, "\xFF\xD8\xFF", "image/jpeg"},
	{0, "GIF87a", "image/gif"},
	{0, "GIF89a", "image/gif"},
	{8, "WEBPVP", "image/webp"},
	{4, "ftypheic", "image/heic"},
	{4, "ftypheix", "image/heic"},
	{4, "ftypmif1", "image/heic"},
	{4, "ftypmsf1", "image/heic"},
	{0, "%PDF-", "application/pdf"},
}

// Head is how many bytes of a file tell its type.
const Head = 16

// TypeOf returns the media type of a file by its first bytes, Plain for all that
// is only ever sent as a download. Neither its name nor what somebody says of it
// counts: phones name a PNG photo.jpg.
func TypeOf(head []byte) string {
	for _, s := range signatures {
		if len(head) > s.at && bytes.HasPrefix(head[s.at:], []byte(s.bytes)) {
			return s.kind
		}
	}
	return Plain
}
