package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"asfound/web/entry"
)

// Salvaged says what was saved of a damaged logbook.
type Salvaged struct {
	Entries int // saved
	Files   int // saved
	Devices int // known by name; each has to join again

	Missing      []Span   // entries that arrived and are not saved, in order of arrival
	Unverified   []Span   // entries that are saved without a sum to vouch for their content
	MissingFiles []string // SHA-256 of files that entries name and that are not saved

	// Number of the last entry that anything speaks of. LastKnown: the file's own
	// count says the same. If not, later entries may be missing that cannot be
	// named; the phones that sent them still have them.
	Last      int64
	LastKnown bool
}

// Whole reports whether nothing is known to be missing or in doubt.
func (s *Salvaged) Whole() bool {
	return len(s.Missing)+len(s.MissingFiles)+len(s.Unverified) == 0 && s.LastKnown
}

// Span is an entry, or some that arrived one after another and of which nothing
// but their numbers is known. An old store may have numbers that no entry had.
type Span struct {
	First, Last int64  // order of arrival
	ID          string // of the one entry; "": not known
}

// Salvage saves what can be read of the logbook in a file, however damaged, to a
// new logbook, and says what is missing. It reads every page by itself, so that
// one that is damaged takes no other with it, and takes only what its sum vouches
// for where there is one. The file itself is left as it is.
//
// Devices are known by name afterwards, and have to join again: an old page may
// say that a device is welcome which the lead has revoked since.
func Salvage(ctx context.Context, from, to string) (s *Salvaged, err error) {
	if _, err := os.Lstat(to); err == nil {
		return nil, fmt.Errorf("%s: %w", to, fs.ErrExist)
	}
	abs, err := filepath.Abs(from)
	if err != nil {
		return nil, err
	}
	file, err := os.Open(abs)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	lock, err := hold(abs)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", from, err)
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	log, err := os.Open(abs + logEnding)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if log != nil {
		defer log.Close()
	}
	p, err := readPages(file, log)
	if err != nil {
		return nil, err
	}
	w := newWreck(p)
	for _, v := range p.versions {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := p.rows(v, func(r row) { w.sort(v, r) }); err != nil {
			return nil, err
		}
	}
	// Whole or not at all, as a backup.
	folder, err := os.MkdirTemp(filepath.Dir(to), ".salvage-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	part := filepath.Join(folder, "part")
	b, err := Open(part)
	if err != nil {
		return nil, err
	}
	s, err = w.save(ctx, b)
	if err = errors.Join(err, b.Close()); err != nil {
		return nil, err
	}
	if err = os.Rename(part, to); err == nil {
		syncFolder(filepath.Dir(to))
	}
	return s, err
}

// wreck is what the pages of a damaged logbook hold, by the form of the rows: no
// two tables have rows of one form.
type wreck struct {
	pages    *pages
	entries  map[int64][]entry.Entry
	arrivals map[int64][]arrival
	ids      map[int64]map[string]int // by number, from wherever they are: how many places say so
	last     int64                    // the file's own count
	files    map[int64]string         // SHA-256 by number of the file
	pieces   map[int64]map[int64][]version
	devices  map[string]row
	acts     map[int64]row
}

// arrival is what the server knew of an entry.
type arrival struct {
	id, device, over string
	sum              []byte
}

func newWreck(p *pages) *wreck {
	return &wreck{pages: p, entries: map[int64][]entry.Entry{}, arrivals: map[int64][]arrival{}, ids: map[int64]map[string]int{}, files: map[int64]string{},
		pieces: map[int64]map[int64][]version{}, devices: map[string]row{}, acts: map[int64]row{}}
}

// form names the types of the cells of a row: n for NULL, i, f, t and b.
func form(cells []any) string {
	s := make([]byte, len(cells))
	for i, c := range cells {
		switch c.(type) {
		case nil:
			s[i] = 'n'
		case int64:
			s[i] = 'i'
		case string:
			s[i] = 't'
		case []byte:
			s[i] = 'b'
		default:
			s[i] = 'f'
		}
	}
	return string(s)
}

// sort puts a row to those of its table.
func (w *wreck) sort(v version, r row) {
	text := func(i int) string { s, _ := r.cells[i].(string); return s }
	number := func(i int) int64 { n, _ := r.cells[i].(int64); return n }
	switch f := form(r.cells); {
	case f == "ntttitti" && entry.ValidID(text(1)) && entry.ValidID(text(2)) && r.id > 0:
		e := entry.Entry{Seq: r.id, ID: text(1), Job: text(2), Kind: text(3), At: time.UnixMilli(number(4)).UTC(), By: text(5),
			Body: json.RawMessage(text(6)), Arrived: time.UnixMilli(number(7)).UTC()}
		same := func(o entry.Entry) bool { return string(sumOf(o)) == string(sumOf(e)) }
		if !slices.ContainsFunc(w.entries[r.id], same) {
			w.entries[r.id] = append(w.entries[r.id], e)
		}
		w.name(r.id, e.ID)
	case len(f) == 5 && f[:2] == "nt" && entry.ValidID(text(1)) && r.id > 0 && (f[4] == 'b' || f[4] == 'n'):
		sum, _ := r.cells[4].([]byte)
		w.arrivals[r.id] = append(w.arrivals[r.id], arrival{text(1), text(2), text(3), slices.Clone(sum)})
		w.name(r.id, text(1))
	case f == "ti" && entry.ValidID(text(0)) && r.id == 0: // of the index of ids
		w.name(number(1), text(0))
	case f == "ti" && text(0) == "entries" && r.id > 0: // of sqlite_sequence
		w.last = max(w.last, number(1))
	case f == "nti" && entry.ValidSHA256(text(1)):
		w.files[r.id] = text(1)
	case f == "iib" && r.id > 0:
		if w.pieces[number(0)] == nil {
			w.pieces[number(0)] = map[int64][]version{}
		}
		if n := w.pieces[number(0)]; !slices.Contains(n[number(1)], v) {
			n[number(1)] = append(n[number(1)], v)
		}
	case len(f) == 9 && f[:8] == "tbtttiii" && entry.ValidID(text(0)) && entry.ValidID(text(2)):
		w.devices[text(0)] = r
	case f == "nittttt" && r.id > 0:
		w.acts[r.id] = r
	}
}

// name notes that a place says that an entry with a number and an id arrived.
func (w *wreck) name(seq int64, id string) {
	if seq <= 0 {
		return
	}
	if w.ids[seq] == nil {
		w.ids[seq] = map[string]int{}
	}
	w.ids[seq][id]++
}

// id returns the id of an entry on which two places agree, "" where none do: one
// alone may be damaged itself, and still look like an id.
func (w *wreck) id(seq int64) string {
	for id, places := range w.ids[seq] {
		if places > 1 {
			return id
		}
	}
	return ""
}

// best returns the version of an entry that its sum vouches for. Where there is no
// sum, a version that is right by itself will do; sure says which it is.
func (w *wreck) best(seq int64) (e entry.Entry, ok, sure bool) {
	sums := false
	for _, e := range w.entries[seq] {
		for _, a := range w.arrivals[seq] {
			sums = sums || a.sum != nil
			if e.Device, e.Over = a.device, a.over; string(a.sum) == string(sumOf(e)) {
				return e, true, true
			}
		}
	}
	if sums { // there is one, and this is not what arrived
		return e, false, false
	}
	for _, e := range slices.Backward(w.entries[seq]) {
		if e.Check() == nil {
			return e, true, false
		}
	}
	return e, false, false
}

// save writes what there is to a new logbook.
func (w *wreck) save(ctx context.Context, b *Store) (*Salvaged, error) {
	s := &Salvaged{Last: w.last}
	seqs := slices.Sorted(maps.Keys(w.ids))
	if len(seqs) > 0 {
		s.Last = max(s.Last, seqs[len(seqs)-1])
	}
	s.LastKnown = w.last > 0 && w.last == s.Last && !w.pages.log // a log may have lost its end
	if err := w.saveDevices(ctx, b, s); err != nil {
		return nil, err
	}
	named := map[string]bool{} // files
	before := int64(0)
	for some := range slices.Chunk(seqs, 500) {
		err := b.Write(ctx, func(tx *sql.Tx) error {
			for _, seq := range some {
				s.gap(before, seq)
				before = seq
				if err := w.saveEntry(tx, seq, named, s); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	s.gap(before, s.Last+1)
	return s, w.saveFiles(ctx, b, named, s)
}

// gap notes that nothing speaks of the entries between two numbers.
func (s *Salvaged) gap(before, next int64) {
	if next > before+1 {
		s.Missing = append(s.Missing, Span{before + 1, next - 1, ""})
	}
}

// saveEntry writes an entry, or notes that it is missing.
func (w *wreck) saveEntry(tx *sql.Tx, seq int64, named map[string]bool, s *Salvaged) error {
	e, ok, sure := w.best(seq)
	if ok && !sure { // another may be vouched for under the same id
		_, err := stored(tx, e.ID)
		ok = errors.Is(err, sql.ErrNoRows)
	}
	if !ok {
		s.Missing = append(s.Missing, Span{seq, seq, w.id(seq)})
		return nil
	}
	if _, err := tx.Exec(`INSERT INTO entries (seq, id, job, kind, at, by, body, arrived) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
		seq, e.ID, e.Job, e.Kind, e.At.UnixMilli(), e.By, string(e.Body), e.Arrived.UnixMilli()); err != nil {
		return err
	}
	if _, err := tx.Exec(`INSERT INTO arrivals (seq, id, device, over, sum) VALUES (?, ?, ?, ?, ?)`, seq, e.ID, none(e.Device), none(e.Over), sumOf(e)); err != nil {
		return err
	}
	s.Entries++
	if !sure {
		s.Unverified = append(s.Unverified, Span{seq, seq, e.ID})
	}
	var f entry.File
	if e.Kind == entry.KindFile && json.Unmarshal(e.Body, &f) == nil && entry.ValidSHA256(f.SHA256) {
		named[f.SHA256] = true
	}
	return nil
}

// saveDevices writes the devices, each revoked, and the acts.
func (w *wreck) saveDevices(ctx context.Context, b *Store, s *Salvaged) error {
	return b.Write(ctx, func(tx *sql.Tx) error {
		for _, id := range slices.Sorted(maps.Keys(w.devices)) {
			c := w.devices[id].cells
			if _, err := tx.Exec(`INSERT OR IGNORE INTO invites (id, hash, role, name, made, expires, used) VALUES (?1, randomblob(32), ?2, ?3, ?4, ?4, ?4)`, c[2], c[3], c[4], c[5]); err != nil {
				return err
			}
			if _, err := tx.Exec(`INSERT OR IGNORE INTO devices (id, hash, invite, role, name, joined, seen, expires, revoked) VALUES (?, randomblob(32), ?, ?, ?, ?, ?, ?, ?)`,
				id, c[2], c[3], c[4], c[5], c[6], c[7], time.Now().UnixMilli()); err != nil {
				return err
			}
			s.Devices++
		}
		for _, seq := range slices.Sorted(maps.Keys(w.acts)) {
			if _, err := tx.Exec(`INSERT INTO acts (seq, at, act, device, name, address, about) VALUES (?, ?, ?, ?, ?, ?, ?)`, append([]any{seq}, w.acts[seq].cells[1:]...)...); err != nil {
				return err
			}
		}
		return nil
	})
}

// saveFiles saves the files whose bytes are those of their SHA-256: that which
// stands beside them, or one that an entry names.
func (w *wreck) saveFiles(ctx context.Context, b *Store, named map[string]bool, s *Salvaged) error {
	for _, sum := range w.files {
		named[sum] = true
	}
	for _, file := range slices.Sorted(maps.Keys(w.pieces)) {
		hash := sha256.New()
		if err := w.copy(hash, file); err != nil {
			return err
		}
		if sum := hex.EncodeToString(hash.Sum(nil)); named[sum] {
			if err := w.keep(ctx, b, file, sum); err != nil {
				return err
			}
			delete(named, sum)
			s.Files++
		}
	}
	if none := sha256.Sum256(nil); named[hex.EncodeToString(none[:])] { // an empty file has no piece
		sum := hex.EncodeToString(none[:])
		if err := w.keep(ctx, b, 0, sum); err != nil {
			return err
		}
		delete(named, sum)
		s.Files++
	}
	s.MissingFiles = slices.Sorted(maps.Keys(named))
	return nil
}

func (w *wreck) keep(ctx context.Context, b *Store, file int64, sum string) error {
	r, in := io.Pipe()
	go func() { in.CloseWithError(w.copy(in, file)) }()
	defer r.Close()
	return b.PutFile(ctx, sum, r)
}

// copy writes the pieces of a file, in order, the newest version of each that
// can be read.
func (w *wreck) copy(to io.Writer, file int64) error {
	pieces := w.pieces[file]
	for _, n := range slices.Sorted(maps.Keys(pieces)) {
		var data []byte
		for _, v := range slices.Backward(pieces[n]) {
			err := w.pages.rows(v, func(r row) {
				if form(r.cells) == "iib" && r.cells[0] == file && r.cells[1] == n {
					data = r.cells[2].([]byte)
				}
			})
			if err != nil {
				return err
			}
			if data != nil {
				break
			}
		}
		if _, err := to.Write(data); err != nil {
			return err
		}
	}
	return nil
}
