package web

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"net/http"
	"os"
	"slices"
	"strconv"
	"time"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/entry"
	"asfound/web/logbook"
)

func (c *call) jobs() error {
	list, err := c.Store.Jobs(c.Context())
	if err != nil {
		return err
	}
	return c.answer(append([]logbook.JobSummary{}, list...))
}

// job returns the job of the path.
func (c *call) job() (*entry.Job, error) {
	id := c.PathValue("job")
	if !entry.ValidID(id) {
		return nil, refuse(http.StatusNotFound, "no job %.40q", id)
	}
	return c.Store.Job(c.Context(), id)
}

// Page is some of the entries, in the order of their arrival.
type Page struct {
	Entries []entry.Entry `json:"entries"`
	// After= of the next request.
	Next int64 `json:"next"`
	// Of the store. Another one than before, or a last number before that of
	// After=: the store went back, and lacks what a phone may still have.
	Generation string `json:"generation"`
	// Number of the entry that arrived last.
	Last int64 `json:"last"`
}

// Entries are entries that a phone sends.
type Entries struct {
	Entries []entry.Entry `json:"entries"`
}

// Page sizes of entries.
const (
	usualPage = 500
	mostPage  = 2000
)

func (c *call) entries() error {
	q := c.URL.Query()
	number := func(name string, usual int64) (int64, error) {
		if !q.Has(name) {
			return usual, nil
		}
		n, err := strconv.ParseInt(q.Get(name), 10, 64)
		if err != nil || n < 0 {
			return 0, refuse(http.StatusBadRequest, "%s %.40q; want a whole number", name, q.Get(name))
		}
		return n, nil
	}
	after, err := number("after", 0)
	if err != nil {
		return err
	}
	limit, err := number("limit", usualPage)
	if err != nil {
		return err
	}
	job := q.Get("job")
	if job != "" && !entry.ValidID(job) {
		return refuse(http.StatusBadRequest, "job %.40q; want the id of a job", job)
	}
	list, next, err := c.Store.Since(c.Context(), job, after, int(min(max(limit, 1), mostPage)))
	if err != nil {
		return err
	}
	state, err := c.Store.State(c.Context())
	if err != nil {
		return err
	}
	return c.answer(Page{append([]entry.Entry{}, list...), next, state.Generation, state.Last})
}

// Logged says which entries are on the disk, and which were not taken.
type Logged struct {
	// Ids that are on the disk now.
	Accepted []string        `json:"accepted"`
	Refused  []entry.Refused `json:"refused"`
	// Ids under which something else is kept here: what was sent is not.
	Different []string `json:"different"`
}

func (c *call) log() error {
	text, err := io.ReadAll(c.Body)
	if err != nil {
		return unreadable(err)
	}
	good, refused, err := entry.Decode(text)
	if err != nil {
		return refuse(http.StatusBadRequest, "the entries are malformed: %v", err)
	}
	good, withheld, err := c.allowed(good)
	if err != nil {
		return err
	}
	taken, err := c.Store.Take(c.Context(), c.device.ID, good)
	if err != nil {
		return err
	}
	refused = append(refused, withheld...)
	for _, id := range taken.Stale {
		refused = append(refused, entry.Refused{ID: id, Error: "another device has changed this meanwhile; look at what holds now, and change it again"})
	}
	return c.answer(Logged{append([]string{}, taken.Accepted...), append([]entry.Refused{}, refused...), append([]string{}, taken.Different...)})
}

// reserved are the kinds of entries that not every role may write.
var reserved = map[string]struct {
	action access.Action
	first  bool // whoever begins a job gives it its first one
	says   string
}{
	entry.KindSettings: {access.Settle, true, "the settings of a job are not for the role %s to change; ask the lead"},
	entry.KindSketch:   {access.Redraw, true, "the sketch of a job is not for the role %s to replace; ask the lead or the office"},
	entry.KindAside:    {access.Manage, false, "to set aside is not for the role %s; ask the lead"},
}

// allowed leaves out what the role of the device may not write.
func (c *call) allowed(entries []entry.Entry) (rest []entry.Entry, refused []entry.Refused, err error) {
	for _, e := range entries {
		rule, ok := reserved[e.Kind]
		may := !ok || c.device.Role.May(rule.action)
		if !may && rule.first {
			ids, err := c.Store.IDs(c.Context(), e.Job, e.Kind)
			if err != nil {
				return nil, nil, err
			}
			may = len(ids) == 0 || slices.Contains(ids, e.ID)
		}
		if may {
			rest = append(rest, e)
		} else {
			refused = append(refused, entry.Refused{ID: e.ID, Error: fmt.Sprintf(rule.says, c.device.Role)})
		}
	}
	return rest, refused, nil
}

// folder sends a job as a packed folder. It is packed before the first byte
// goes out, so that what arrives is whole.
func (c *call) folder() error {
	job, err := c.job()
	if err != nil {
		return err
	}
	f, err := os.CreateTemp("", "asfound-*.zip")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	defer f.Close()
	_, err = job.Export(f, func(sum string) (io.ReadCloser, error) { return c.Store.File(c.Context(), sum) })
	if err != nil {
		return err
	}
	if err := c.record(access.Exported, job.ID); err != nil {
		return err
	}
	c.attach(Zip, job.ID+".zip")
	http.ServeContent(c.w, c.Request, "", time.Time{}, f)
	return nil
}

// attach says that the response is to be saved as a file, not shown.
func (c *call) attach(kind, name string) {
	h := c.w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
}

// Created names what was made.
type Created struct {
	// 26 digits of Crockford's base 32, as a ULID.
	ID string `json:"id" jsonschema:"pattern=^[0-7][0-9A-HJKMNP-TV-Z]{25}$"`
}

// importJob takes a packed job folder in as a new job.
func (c *call) importJob() error {
	f, err := os.CreateTemp("", "asfound-*.zip")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	defer f.Close()
	size, err := io.Copy(f, c.Body)
	if err != nil {
		return unreadable(err)
	}
	folder, err := unpack(f, size)
	if err != nil {
		return err
	}
	id, err := c.Import(c.Context(), folder, c.device)
	if err != nil {
		return err
	}
	return write(c.w, http.StatusCreated, Created{id})
}

// paper makes a document of a job.
func (c *call) paper() error {
	job, err := c.job()
	if err != nil {
		return err
	}
	name := c.PathValue("name")
	if _, ok := api.Papers[name]; !ok {
		return refuse(http.StatusNotFound, "there is no document %.40q", name)
	}
	date := c.URL.Query().Get("date")
	if date == "" {
		date = c.Now().Format(time.DateOnly)
	}
	request, err := json.Marshal(api.PaperRequest{Job: api.JobOf(job), Name: api.PaperName(name), Date: date, Language: language.Tag(c.URL.Query().Get("language"))})
	if err != nil {
		return err
	}
	text, err := c.work("paper", request)
	if err != nil {
		return err
	}
	var p answer.Paper
	if err := json.Unmarshal(text, &p); err != nil {
		return err
	}
	c.attach(p.Type, p.Name)
	http.ServeContent(c.w, c.Request, "", time.Time{}, bytes.NewReader(p.Bytes))
	return nil
}

// stage asks the engine.
func (c *call) stage() error {
	name := c.PathValue("name")
	if _, ok := api.Stages[name]; !ok {
		return refuse(http.StatusNotFound, "there is no stage %.40q", name)
	}
	request, err := io.ReadAll(c.Body)
	if err != nil {
		return unreadable(err)
	}
	answer, err := c.work(name, request)
	if err != nil {
		return err
	}
	c.w.Header().Set("Content-Type", JSON)
	_, _ = c.w.Write(answer) // the client is gone: nobody to report to
	return nil
}

// backup sends a snapshot of the logbook.
func (c *call) backup() error {
	dir, err := os.MkdirTemp("", "asfound-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	name := dir + "/asfound.db"
	if err := c.Store.Backup(c.Context(), name); err != nil {
		return err
	}
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := c.record(access.BackedUp, ""); err != nil {
		return err
	}
	c.attach("application/vnd.sqlite3", "asfound-"+c.Now().UTC().Format("2006-01-02")+".db")
	http.ServeContent(c.w, c.Request, "", time.Time{}, f)
	return nil
}

// newID makes ids of entries.
func newID(now time.Time) string {
	var random [10]byte
	rand.Read(random[:]) // never fails
	return entry.NewID(now, random)
}
