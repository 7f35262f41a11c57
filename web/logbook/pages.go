package logbook

import (
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"slices"
)

// This file reads rows from the pages of an SQLite file without SQLite, which
// cannot reach a row where a page that leads to it is damaged. The format:
// https://www.sqlite.org/fileformat2.html, sections 1.6 (pages, cells), 2.1
// (records) and 4 (the write-ahead log).

// pages are the pages of a file and of its write-ahead log, each in every version
// that is there.
type pages struct {
	size     int64
	versions []version
	newest   map[uint32]version
	log      bool // some are in a write-ahead log
}

// version is where a version of a page stands.
type version struct {
	number uint32
	in     io.ReaderAt
	at     int64
}

// The page size is what SQLite uses where nobody asks for another, as here nobody
// does; the header of a file says it too, but may be what is damaged.
const pageSize = 4096

// Sizes of the headers of a write-ahead log and of each page in it.
const (
	logHeader   = 32
	frameHeader = 24
)

// readPages lists the pages of a file and of its write-ahead log, which may be
// nil.
func readPages(file, log *os.File) (*pages, error) {
	p := &pages{size: pageSize, newest: map[uint32]version{}}
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	for n := int64(0); n*p.size < info.Size(); n++ {
		p.add(version{uint32(n + 1), file, n * p.size})
	}
	if log == nil {
		return p, nil
	}
	if info, err = log.Stat(); err != nil {
		return nil, err
	}
	head := make([]byte, frameHeader)
	for at := int64(logHeader); at+frameHeader+p.size <= info.Size(); at += frameHeader + p.size {
		if _, err := log.ReadAt(head, at); err != nil {
			return nil, err
		}
		p.log = true
		p.add(version{binary.BigEndian.Uint32(head), log, at + frameHeader})
	}
	return p, nil
}

func (p *pages) add(v version) {
	p.versions = append(p.versions, v)
	p.newest[v.number] = v
}

// get returns a version of a page; a last one that is cut short ends in zeros.
func (p *pages) get(v version) ([]byte, error) {
	page := make([]byte, p.size)
	if _, err := v.in.ReadAt(page, v.at); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	return page, nil
}

// The kinds of page that hold rows.
const (
	innerIndex = 0x02
	leafIndex  = 0x0a
	leafTable  = 0x0d
)

// row is one row, or one entry of an index.
type row struct {
	id    int64 // of a row of a table, else 0
	cells []any // nil, int64, float64, string or []byte
}

// rows passes all rows that a version of a page holds, as far as they can be
// read, to take.
func (p *pages) rows(v version, take func(row)) error {
	page, err := p.get(v)
	if err != nil {
		return err
	}
	head := 0
	if v.number == 1 {
		head = headerBytes
	}
	kind := page[head]
	pointers := head + 8
	if kind == innerIndex {
		pointers += 4
	}
	if kind != innerIndex && kind != leafIndex && kind != leafTable {
		return nil
	}
	count := int(binary.BigEndian.Uint16(page[head+3:]))
	for i := range count {
		if pointers+2*i+2 > len(page) {
			break
		}
		at := int(binary.BigEndian.Uint16(page[pointers+2*i:]))
		if r, ok := p.cell(page, kind, at); ok {
			take(r)
		}
	}
	return nil
}

// cell reads the cell at an offset within a page.
func (p *pages) cell(page []byte, kind byte, at int) (r row, ok bool) {
	if kind == innerIndex {
		at += 4 // of the page to the left
	}
	if at >= len(page) {
		return row{}, false
	}
	rest := page[at:]
	length, n := varint(rest)
	if n == 0 || length > maxPayload {
		return row{}, false
	}
	rest = rest[n:]
	if kind == leafTable {
		id, n := varint(rest)
		if n == 0 {
			return row{}, false
		}
		r.id, rest = int64(id), rest[n:]
	}
	payload, ok := p.payload(rest, int(length), kind == leafTable)
	if !ok {
		return row{}, false
	}
	r.cells, ok = record(payload)
	return r, ok
}

// maxPayload is more than any row has: the largest body, and what is beside it.
const maxPayload = 64 << 20

// payload returns the content of a cell: what is in the page, and the rest from
// the chain of pages that it overflows to.
func (p *pages) payload(local []byte, length int, table bool) ([]byte, bool) {
	usable := int(p.size)
	most := usable - 35
	if !table {
		most = (usable-12)*64/255 - 23
	}
	if length <= most {
		if length > len(local) {
			return nil, false
		}
		return local[:length], true
	}
	least := (usable-12)*32/255 - 23
	here := least + (length-least)%(usable-4)
	if here > most {
		here = least
	}
	if here+4 > len(local) {
		return nil, false
	}
	out := slices.Clone(local[:here]) // no more: the length may be what is damaged
	next := binary.BigEndian.Uint32(local[here:])
	for len(out) < length { // each turn adds bytes: a chain that is a circle ends too
		v, ok := p.newest[next]
		if !ok {
			return nil, false
		}
		page, err := p.get(v)
		if err != nil {
			return nil, false
		}
		next = binary.BigEndian.Uint32(page)
		out = append(out, page[4:min(len(page), 4+length-len(out))]...)
	}
	return out, true
}

// record reads the values of a record.
func record(b []byte) (cells []any, ok bool) {
	length, n := varint(b)
	if n == 0 || length > uint64(len(b)) || length < uint64(n) {
		return nil, false
	}
	kinds, values := b[n:length], b[length:]
	for len(kinds) > 0 {
		kind, n := varint(kinds)
		if n == 0 || len(cells) >= mostCells {
			return nil, false
		}
		kinds = kinds[n:]
		value, size, ok := valueOf(kind, values)
		if !ok {
			return nil, false
		}
		cells, values = append(cells, value), values[size:]
	}
	return cells, true
}

// mostCells is more than any row of a logbook has.
const mostCells = 20

// valueOf reads a value by its serial type.
func valueOf(kind uint64, b []byte) (value any, size int, ok bool) {
	switch {
	case kind == 0:
		return nil, 0, true
	case kind == 8, kind == 9:
		return int64(kind - 8), 0, true
	case kind >= 12:
		n := (kind - 12) / 2
		if n > uint64(len(b)) {
			return nil, 0, false
		}
		if kind%2 == 0 {
			return b[:n], int(n), true
		}
		return string(b[:n]), int(n), true
	case kind > 9:
		return nil, 0, false
	}
	size = []int{0, 1, 2, 3, 4, 6, 8, 8}[kind]
	if size > len(b) {
		return nil, 0, false
	}
	n := int64(int8(b[0]))
	for _, c := range b[1:size] {
		n = n<<8 | int64(c)
	}
	if kind == 7 {
		return math.Float64frombits(uint64(n)), size, true
	}
	return n, size, true
}

// varint reads a variable-length integer of SQLite's; n is 0 where there is
// none.
func varint(b []byte) (v uint64, n int) {
	for n < len(b) && n < 8 {
		v = v<<7 | uint64(b[n]&0x7f)
		n++
		if b[n-1] < 0x80 {
			return v, n
		}
	}
	if n < len(b) && n == 8 {
		return v<<8 | uint64(b[8]), 9
	}
	return 0, 0
}
