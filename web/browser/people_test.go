package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/access"
)

// fill types into the field with a label.
func (b *tab) fill(label, text string) {
	b.t.Helper()
	b.wait(`(() => {
		const l = [...document.querySelectorAll("label")].find((l) => l.innerText.trim() === ` + quote(label) + `);
		const e = l && document.getElementById(l.htmlFor);
		if (!e) return false;
		e.value = ` + quote(text) + `;
		e.dispatchEvent(new Event(e.tagName === "SELECT" ? "change" : "input", {bubbles: true}));
		return true;
	})()`)
}

// away leaves the app's page, so that a link opens it from scratch.
var away = chromedp.Navigate("about:blank")

// TestInvite is the way of a second phone: the lead makes a code, the phone
// opens the link, its role is enforced, and no link works twice, after it
// expires or once it is revoked. The phone takes a photo for a note, out of
// coverage.
func TestInvite(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	lead := open(t, desk)
	lead.join(s.first(), "Desk")
	lead.fill("Name of the phone", "Digger")
	lead.press("Make a one-time code")
	lead.wait(`document.querySelector(".qr code") && document.querySelector(".qr img")?.naturalWidth > 50`)
	link := eval[string](lead, `document.querySelector(".qr code").textContent`)
	lead.look("desk-invite")
	lead.fill("Name of the phone", "Lost")
	lead.press("Make a one-time code")
	lead.wait(`document.querySelector(".qr code").textContent !== ` + quote(link))
	revoked := eval[string](lead, `document.querySelector(".qr code").textContent`)
	assert.NotContains(t, lead.text(), "lead as lead", "the link that was used is open no more")
	lead.press("Revoke the invite of Lost")
	lead.wait(`![...document.querySelectorAll("button")].some((b) => b.getAttribute("aria-label") === "Revoke the invite of Lost")`)
	lead.bring("demo")
	lead.sent()

	b := open(t, phone)
	b.join(link, "Phone two")
	b.press("Invented lot 4")
	b.settled()
	b.press("More")
	b.press("Dig plan")
	b.sees("The lead may change it")
	b.press("People")
	b.sees("Phone two, tech")
	assert.NotContains(t, b.text(), "Make a one-time code", "a tech invites nobody")
	assert.Equal(t, 403.0, eval[float64](b, `fetch("/api/invites").then((r) => r.status)`))

	// The photo: stored while there is no coverage, then sent with its note.
	b.whole()
	s.stop()
	b.press("Back")
	b.press("Measure")
	b.press("a note, photos")
	b.fill("What was seen", "lid cracked, roots at the outlet")
	b.upload("Add photos", "../../testdata/scans/permit.jpg")
	b.wait(`document.querySelector(".photos img")?.naturalWidth > 0`)
	b.look("phone-condition-photo")
	b.press("Save")
	b.sees("Undo")
	b.wait(`document.querySelector("[data-unsent]")?.dataset.unsent === "3"`) // the note, the photo's name, its bytes
	b.do(reload)
	b.settled()
	s.start()
	b.sent()
	lead.do(reload)
	lead.settled()
	lead.wait(`[...document.querySelectorAll(".photos img")].some((i) => i.naturalWidth > 0)`)
	lead.sees("lid cracked, roots at the outlet")
	lead.shot("desk-photo")
	wide := eval[float64](lead, `Math.max(...[...document.querySelectorAll(".photos img")].map((i) => i.naturalWidth))`)
	assert.LessOrEqual(t, wide, 1600.0, "pixels: made small enough to send from a field")

	// Links that no longer work, in plain words.
	_, late, err := s.gate.Invite(context.Background(), access.Tech, "Late", time.Millisecond)
	require.NoError(t, err)
	for _, tt := range []struct{ link, says string }{
		{link, access.ErrUsed.Error()},
		{s.url + "/#join=" + late, access.ErrExpired.Error()},
		{revoked, access.ErrRevoked.Error()},
	} {
		b.do(away)
		b.visit(tt.link)
		b.press("Join")
		b.sees(tt.says)
		b.look("phone-link-refused")
	}
	// The lead revokes the phone: it can no longer read, and keeps its own
	// data.
	var devices []access.Device
	require.NoError(t, json.Unmarshal([]byte(eval[string](lead, `fetch("/api/devices").then((r) => r.text())`)), &devices))
	require.Len(t, devices, 2)
	lead.press("People")
	lead.press("Revoke Phone two")
	lead.wait(`![...document.querySelectorAll("button")].some((b) => b.getAttribute("aria-label") === "Revoke Phone two")`)
	assert.Equal(t, 401.0, eval[float64](b, `fetch("/api/entries").then((r) => r.status)`))
	assert.Empty(t, append(b.log, lead.log...), "exceptions")
}

// invited returns a one-time link for a tech's phone of a name.
func (s *site) invited(name string) string {
	s.t.Helper()
	_, token, err := s.gate.Invite(context.Background(), access.Tech, name, time.Hour)
	require.NoError(s.t, err)
	return s.url + "/#join=" + token
}

// joinAsInvited joins without another name than the lead gave.
func (b *tab) joinAsInvited(link string) {
	b.t.Helper()
	b.visit(link)
	b.sees("Name of this device")
	b.press("Join")
	b.sees("Import a job")
}

// TestPhonesApart has two phones of one invited name, which are told apart. One is
// revoked while it has readings that nobody else has: it says so, goes on saying so,
// and its folder has them. A tech changes no settings, at the server either.
func TestPhonesApart(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	lead := s.desk()

	b := open(t, smallPhone)
	b.visit(s.url + "/")
	b.sees("To join a crew, open the one-time link of its lead")
	b.look("phone-first-visit")
	link := s.invited("Digger")
	b.do(away)
	b.visit(link)
	b.sees("Leave it empty to be called as the lead invited it.")
	b.look("phone-join-empty")
	b.press("Join")
	b.sees("Import a job")
	assert.NotContains(t, b.text(), "To join a crew", "it has")
	other := open(t, smallPhone)
	other.joinAsInvited(s.invited("Digger"))
	for name, x := range map[string]*tab{"Digger": b, "Digger 2": other} {
		x.press("Invented lot 4")
		x.settled()
		x.press("Measure")
		x.press("a note, photos")
		x.fill("About", "job")
		x.fill("What was seen", "seen by "+name)
		x.press("Save")
		x.kept()
		x.sent()
		x.press("More")
		x.press("People")
		x.sees(name + ", tech.")
		x.press("Back")
	}
	lead.do(reload)
	lead.settled()
	for _, name := range []string{"Digger", "Digger 2"} {
		lead.sees("note on the job: seen by " + name + " (" + name + ")")
	}

	// The settings.
	job := eval[string](b, `location.hash.split("/")[2]`)
	const post = `fetch("/api/entries", {method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify({entries: [{id: "0000000000000000000000000%s", job: %s, kind: "settings", at: new Date().toISOString(), by: "Digger", body: {seek: "tank"}}]})}).then((r) => r.text())`
	assert.Contains(t, eval[string](b, fmt.Sprintf(post, "7", quote(job))), "the settings of a job are not for the role tech to change")

	// Last seen, by the clock of whoever reads it.
	lead.press("People")
	lead.sees("Digger 2, tech, last seen ")
	lead.look("desk-people")
	seen := eval[[]float64](lead, `[...document.querySelectorAll("li")].map((l) => / last seen (.*?)\s*revoke/s.exec(l.innerText)?.[1]).filter(Boolean).map((d) => Math.abs(Date.now() - Date.parse(d)) / 60000)`)
	require.Len(t, seen, 3)
	for _, minutes := range seen {
		assert.Less(t, minutes, 3.0)
	}

	// Revoked, with what nobody else has.
	b.whole()
	s.stop()
	b.press("Measure")
	b.press("a note, photos")
	b.fill("What was seen", "lid cracked")
	b.upload("Add photos", "../../testdata/scans/permit.jpg")
	b.wait(`document.querySelector(".photos img")?.naturalWidth > 0`)
	b.press("Save")
	b.kept()
	s.start()
	devices, err := s.gate.Devices(context.Background())
	require.NoError(t, err)
	for _, d := range devices {
		if d.Name == "Digger" {
			require.NoError(t, s.gate.RevokeDevice(context.Background(), d.ID))
		}
	}
	b.sees("Nothing is exchanged any more: the lead has revoked this link or device")
	b.sees("3 not sent, kept here: export the job folder")
	b.look("phone-revoked")
	b.press("Close the notice")
	b.wait(`!document.body.innerText.includes("Nothing is exchanged")`)
	b.do(reload)
	b.settled()
	b.sees("Nothing is exchanged any more")
	b.press("More")
	b.press("Documents") // away from the pictures, which are handed out too
	out := b.exported()
	assert.Contains(t, out["readings.csv"], "lid cracked")
	for _, r := range table(t, out["readings.csv"]) {
		if r["note"] == "lid cracked" {
			assert.NotEmpty(t, out[r["photo"]])
		}
	}
	assert.NotContains(t, other.text(), "Nothing is exchanged")

	// A new link lets it in again, and what was kept is sent.
	b.do(away)
	b.joinAsInvited(s.invited("Digger"))
	b.sent()
	assert.NotContains(t, b.text(), "Nothing is exchanged")
	assert.Empty(t, append(b.log, append(lead.log, other.log...)...), "exceptions")
}

// TestJobsSaid has a list of jobs that says where each stands, is searched, and asks
// before a folder becomes a second job.
func TestJobsSaid(t *testing.T) {
	long.Only(t, "half a minute in a browser")
	s := newSite(t)
	b := open(t, smallPhone)
	card := func(title string) string {
		return eval[string](b, `[...document.querySelectorAll(".jobcard")].map((e) => e.innerText).find((t) => t.includes(`+quote(title)+`)) ?? ""`)
	}
	jobs := func() float64 { return eval[float64](b, `document.querySelectorAll(".jobcard").length`) }
	list := func() {
		b.visit(s.url + "/#/jobs")
		b.sees("Import a job")
	}
	b.visit(s.url + "/")
	b.bring("demo")
	list()
	b.sees("3 holes dug, the box not found yet")
	files, err := filepath.Glob("../../testdata/sites/demo/*")
	require.NoError(t, err)
	files = slices.DeleteFunc(files, func(f string) bool { return filepath.Base(f) == "truth.json" })
	b.upload("A zip, or the files", slices.Clone(files)...)
	b.sees("This folder is here already")
	b.look("phone-folder-twice")
	b.press("Open the job")
	b.settled()
	list()
	assert.Equal(t, 1.0, jobs())
	b.upload("A zip, or the files", slices.Clone(files)...)
	b.press("Import it once more")
	b.settled()
	list()
	b.wait(`document.querySelectorAll(".jobcard").length === 2`)
	b.bring("two-tapes")

	// The box is found, and the record made.
	list()
	b.press("Invented lot 4")
	b.settled()
	b.press("Log a hole")
	b.sees("as proposed:")
	b.press("● the box")
	b.press("Save without depth")
	b.sees("The box is found")
	b.press("To the plan")
	b.settled()
	list()
	assert.Contains(t, card("Invented lot 4"), "4 holes dug, ✓ the box found")
	b.press("Invented lot 4")
	b.settled()
	b.press("More")
	b.press("Documents")
	b.press("Corrected as-built")
	b.wait(`![...document.querySelectorAll("button")].some((e) => e.innerText.includes("Working"))`)
	list()
	b.wait(`[...document.querySelectorAll(".jobcard")].some((e) => e.innerText.includes("record made 20"))`)
	assert.Equal(t, 1.0, eval[float64](b, `[...document.querySelectorAll(".jobcard")].filter((e) => e.innerText.includes("record made")).length`))

	b.fill("Find a job", "corner invented")
	b.wait(`document.querySelectorAll(".jobcard").length === 1`)
	assert.Contains(t, card("corner"), "Invented corner lot")
	b.look("phone-jobs-searched")
	b.fill("Find a job", "0417")
	b.wait(`document.querySelectorAll(".jobcard").length === 2`)
	b.fill("Find a job", "nothing such")
	b.sees("No job has these words")
	b.fill("Find a job", "")

	// In doubt, as the fit says.
	b.press("Invented corner lot")
	b.settled()
	b.press("Measure")
	b.fill("From", "A")
	b.fill("To", "H1")
	b.keys("3.2")
	b.press("Save")
	b.press("It is so")
	b.kept()
	b.settled()
	b.sees("Not to be trusted")
	list()
	b.wait(`[...document.querySelectorAll(".jobcard")].some((e) => e.innerText.includes("▲ doubtful") && e.innerText.includes("corner"))`)
	b.look("phone-jobs-stand")
	assert.Empty(t, b.log, "exceptions")
}
