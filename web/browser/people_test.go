package browser

import (
	"context"
	"encoding/json"
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
	lead.wait(`document.querySelector("[data-unsent]")?.dataset.unsent === "0"`)

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
	b.wait(`document.querySelector("[data-unsent]")?.dataset.unsent === "0"`)
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
