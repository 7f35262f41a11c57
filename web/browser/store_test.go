package browser

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// ids returns the ids of all entries at the server.
func (s *site) ids() map[string]bool {
	s.t.Helper()
	held := map[string]bool{}
	for seq := int64(0); ; {
		page, next, err := s.store.Since(s.t.Context(), "", seq, 500)
		require.NoError(s.t, err)
		if len(page) == 0 {
			return held
		}
		for _, e := range page {
			held[e.ID] = true
		}
		seq = next
	}
}

// exchange has a page exchange with the server now, until f holds.
func (b *tab) exchange(what string, f func() bool) {
	b.t.Helper()
	for range 60 {
		eval[bool](b, `(dispatchEvent(new Event("online")), new Promise((d) => setTimeout(() => d(true), 250)))`)
		if f() {
			return
		}
	}
	assert.Fail(b.t, "not within a quarter of a minute: "+what)
}

// TestStoreGoesBack has phone and desk send more (a note with its photo, other
// settings), and then serves the store as it was before: a copy that was made, or
// the file without what its write-ahead log had. The next exchange of each restores
// the rest, without anybody being asked, and the settings that hold are those that
// held.
func TestStoreGoesBack(t *testing.T) {
	long.Only(t, "a minute in a browser")
	for name, early := range map[string]func(s *site, to string){
		"copy": func(s *site, to string) { require.NoError(t, s.store.Backup(t.Context(), to)) },
		"log lost": func(s *site, to string) {
			s.stop()
			require.NoError(t, s.store.Close())
			text, err := os.ReadFile(s.path)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(to, text, 0o600))
			s.open()
			s.start()
		},
	} {
		t.Run(name, func(t *testing.T) { goesBack(t, early) })
	}
}

func goesBack(t *testing.T, keep func(s *site, to string)) {
	s := newSite(t)
	lead := s.desk()
	b := s.joined(phone, "Phone one")
	kept := filepath.Join(t.TempDir(), "kept.db")
	keep(s, kept)
	early := s.ids()

	b.press("Measure")
	b.press("a note, photos")
	b.fill("What was seen", "lid cracked")
	b.upload("Add photos", "../../testdata/scans/permit.jpg")
	b.wait(`document.querySelector(".photos img")?.naturalWidth > 0`)
	b.press("Save")
	b.sees("Undo")
	lead.press("Dig plan")
	lead.fill("Sought", "tank")
	arrived := func() bool { return len(s.ids()) == len(early)+3 }
	b.exchange("note and photo arrive", func() bool { return b.unsent() == 0 })
	lead.exchange("the settings arrive", arrived)
	late := s.ids()
	first, _, err := s.store.Since(t.Context(), "", 0, 1)
	require.NoError(t, err)
	job := first[0].Job
	was, err := s.store.Job(t.Context(), job)
	require.NoError(t, err)
	require.Contains(t, string(was.Settings), `"tank"`)

	s.stop()
	require.NoError(t, s.store.Close())
	text, err := os.ReadFile(kept)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(s.path, text, 0o600))
	s.open()
	require.Equal(t, early, s.ids(), "the store went back")
	s.start()
	b.exchange("the phone sends what the store lacks", func() bool { return len(s.ids()) >= len(late)-1 })
	lead.exchange("the desk does too", arrived)
	assert.Equal(t, late, s.ids())
	b.exchange("all is sent", func() bool { return b.unsent() == 0 })
	lead.exchange("all is sent", func() bool { return lead.unsent() == 0 })
	now, err := s.store.Job(t.Context(), job)
	require.NoError(t, err)
	assert.JSONEq(t, string(was.Settings), string(now.Settings))
	assert.Equal(t, was.Rows, now.Rows)
	require.Equal(t, was.Files, now.Files)
	for _, f := range now.Files {
		content, err := s.store.File(t.Context(), f.SHA256)
		require.NoError(t, err)
		data, err := io.ReadAll(content)
		require.NoError(t, err)
		assert.Len(t, data, int(f.Size))
	}
	assert.Equal(t, b.rows(), lead.rows())
	assert.Empty(t, append(b.log, lead.log...), "exceptions")
}

// TestSetAside has the lead set aside what a phone sent, and take it up again, and
// then the whole job: everywhere the same, and nothing is deleted.
func TestSetAside(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	lead := s.desk()
	b := s.joined(phone, "Phone one")
	b.press("Measure")
	b.press("a note, photos")
	b.fill("What was seen", "lid cracked")
	b.press("Save")
	b.exchange("the note is sent", func() bool { return b.unsent() == 0 })
	note := func(b *tab) func() bool {
		return func() bool {
			return eval[bool](b, `!!document.querySelector(".tablebox")?.innerText.includes("lid cracked")`)
		}
	}
	lead.exchange("the desk has the note", note(lead))
	lead.press("People")
	lead.press("What was done")
	lead.sees("Phone one joined (tech), from 127.0.0.1")
	lead.look("desk-people-acts")
	lead.press("set aside what it sent: Phone one")
	lead.press("Readings")
	lead.wait(`document.querySelector(".tablebox") && !document.querySelector(".tablebox").innerText.includes("lid cracked")`)
	b.press("More")
	b.exchange("on its phone too", func() bool { return !note(b)() })
	lead.press("People")
	lead.press("take up again what it sent: Phone one")
	lead.press("Readings")
	lead.sees("lid cracked")
	b.exchange("on its phone too", note(b))
	lead.press("People")
	lead.press("Set this job aside")
	lead.sees("This job is set aside.")
	lead.wait(`document.querySelector(".jobcard").innerText.includes("set aside")`)
	lead.press("Take this job up again")
	lead.wait(`!document.querySelector(".jobcard").innerText.includes("set aside")`)
	assert.Empty(t, append(b.log, lead.log...), "exceptions")
}

// TestServerSays has a page tell what the server tells it: that their clocks differ,
// once; that an id is taken, with what was not kept; that the store is damaged, in
// both languages, while what is logged stays unsent.
func TestServerSays(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	s.site.Now = func() time.Time { return time.Now().AddDate(0, 0, 3) }
	lead := s.desk()
	lead.sees("The clock of this device is 3 days behind the server's")
	lead.press("Close the notice")
	lead.wait(`!document.body.innerText.includes("The clock of this device")`)
	lead.do(reload)
	lead.settled()
	assert.NotContains(t, lead.text(), "The clock of this device", "it is said once")

	page, _, err := s.store.Since(t.Context(), "", 0, 1)
	require.NoError(t, err)
	clash := entry.Entry{ID: entry.NewID(time.Now(), [10]byte{1}), Job: page[0].Job, Kind: entry.KindReading, At: time.Now().Truncate(time.Millisecond), By: "Desk", Body: json.RawMessage(`{"kind": "condition", "target": "box", "note": "somebody else's"}`)}
	_, err = s.store.Take(t.Context(), "", []entry.Entry{clash})
	require.NoError(t, err)
	clash.Body = json.RawMessage(`{"kind": "condition", "target": "box", "note": "roots at the outlet"}`)
	mine, err := json.Marshal(clash)
	require.NoError(t, err)
	eval[bool](lead, fmt.Sprintf(`new Promise((done) => {
		const r = indexedDB.open("asfound");
		r.onsuccess = () => {
			const tx = r.result.transaction("entries", "readwrite");
			tx.objectStore("entries").put({...%s, unsent: 1});
			tx.oncomplete = () => (r.result.close(), done(true));
		};
	})`, mine))
	lead.do(reload)
	lead.settled()
	lead.sees("The server has something else under the number of an entry of this device")
	lead.sees("roots at the outlet")
	lead.look("desk-clash")
	lead.press("Log it again")
	lead.exchange("both are there", func() bool {
		job, err := s.store.Job(t.Context(), clash.Job)
		require.NoError(t, err)
		notes := map[string]bool{}
		for _, row := range job.Rows {
			notes[row["note"]] = true
		}
		return notes["roots at the outlet"] && notes["somebody else's"]
	})

	s.store.Notice(logbook.ErrDamaged)
	before := s.ids()
	lead.exchange("it says that the store is damaged", func() bool {
		return eval[bool](lead, `document.body.innerText.includes("The store of the server is damaged")`)
	})
	lead.press("Measure")
	lead.press("a note, photos")
	lead.fill("What was seen", "kept on this phone")
	lead.press("Save")
	lead.exchange("it counts what is not sent", func() bool { return lead.unsent() > 0 })
	assert.Equal(t, before, s.ids())
	lead.shot("desk-damaged-store")
	eval[bool](lead, `(localStorage.setItem("language", "es"), true)`)
	lead.do(reload)
	lead.sees("La base de datos del servidor está dañada")
}
