package browser

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// TestInstall asks the browser how it reads the web app manifest (W3C).
func TestInstall(t *testing.T) {
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	m, err := chromedp.Call(b.ctx, page.GetAppManifest, page.GetAppManifestParams{})
	require.NoError(t, err)
	assert.Empty(t, m.Errors)
	assert.Contains(t, m.Data, `"display": "standalone"`)
	e, err := chromedp.Call(b.ctx, page.GetInstallabilityErrors, cdp.Empty{})
	require.NoError(t, err)
	for _, x := range e.InstallabilityErrors {
		// A headless browser treats a new profile as a private window.
		assert.Equal(t, "in-incognito", x.ErrorID)
	}
	// In another language the app has a name in it, and nothing else is different.
	b.press("Español")
	b.sees("Importar un trabajo")
	es, err := chromedp.Call(b.ctx, page.GetAppManifest, page.GetAppManifestParams{})
	require.NoError(t, err)
	assert.Empty(t, es.Errors)
	assert.Contains(t, es.Data, `"lang": "es"`)
	var both [2]map[string]any
	for i, data := range []string{m.Data, es.Data} {
		require.NoError(t, json.Unmarshal([]byte(data), &both[i]))
		for _, member := range []string{"name", "description", "lang"} {
			delete(both[i], member)
		}
	}
	assert.Equal(t, both[0], both[1])
	// The icons that the manifest names must be there as it says.
	for _, icon := range []string{"icon-192.png", "icon-512.png"} {
		px := eval[float64](b, `fetch("/static/`+icon+`").then((r) => r.blob()).then(createImageBitmap).then((i) => i.width)`)
		assert.Contains(t, m.Data, strconv.Itoa(int(px))+"x"+strconv.Itoa(int(px)))
	}
}

// TestLargeText doubles the text (WCAG 2.2, 1.4.4): nothing may be cut off at
// the side, and the log must stay usable.
func TestLargeText(t *testing.T) {
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bring("demo")
	eval[bool](b, `(document.documentElement.style.fontSize = "200%", true)`)
	wide := func(screen string) {
		b.shot("phone-200-" + screen)
		assert.Empty(t, b.wide(), screen)
	}
	wide("plan")
	b.press("Log a hole")
	wide("what")
	b.press("○ Nothing")
	wide("depth")
	b.keys("5'")
	b.press("Save")
	b.sees("Undo")
}

// TestGuide stands 20 m from the invented lot's next hole with a good receiver,
// then with a coarse one: the distance first, the tapes then.
func TestGuide(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	_, err := chromedp.CallBrowser(b.ctx, browser.SetPermission, browser.SetPermissionParams{Permission: &browser.PermissionDescriptor{Name: "geolocation"}, Setting: "granted", Origin: s.url})
	require.NoError(t, err)
	b.bring("demo")
	b.stand(-123.4000157, -48.9000098, 3)
	b.press("Guide me")
	b.wait(`document.querySelector(".lead .huge")`)
	b.shot("phone-guide-good")
	b.stand(-123.4000157, -48.9000098, 40)
	b.sees("use the tapes")
	assert.Contains(t, b.text(), "right of the line from A to F")
	b.shot("phone-guide-coarse")
}

// TestKeyboard logs a hole with the keyboard alone.
func TestKeyboard(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	b.bring("demo")
	to := func(name string) {
		t.Helper()
		for range 250 {
			b.do(chromedp.KeyEvent("\t"))
			if is := eval[string](b, `(({activeElement: e, body}) => (e === body ? "" : e.getAttribute("aria-label") || e.labels?.[0]?.innerText || e.innerText || "").trim())(document)`); is == name || len(name) > len("Measure") && strings.Contains(is, name) {
				assert.NotEqual(t, "none", eval[string](b, `getComputedStyle(document.activeElement).outlineStyle`), "the focus is seen")
				return
			}
		}
		t.Fatalf("the tab key does not come to %q on:\n%s", name, b.text())
	}
	enter := func(name string) { to(name); b.do(chromedp.KeyEvent("\r")) }
	number := func(digits string) { // and what comes after it
		to("nothing typed yet")
		b.do(chromedp.KeyEvent(digits + "\r"))
	}
	enter("Log a hole")
	b.sees("What did it meet?")
	enter("○ Nothing")
	to("nothing typed yet")
	b.do(chromedp.KeyEvent("5"))
	b.sees("5′")
	b.do(chromedp.KeyEvent("\r"))
	b.sees("Undo")

	enter("Measure")
	enter("a bearing")
	number("67.5")
	b.sees("bearing A to B: 67.5°")
	assert.Equal(t, "67.5", b.logged("bearing")[0]["value"])

	enter("Measure")
	enter("tape on a slope")
	number("43'11")
	b.sees("along the slope")
	number("1'2")
	b.kept()

	enter("Measure")
	enter("a note, photos")
	to("What was seen")
	b.do(chromedp.KeyEvent("lid cracked"))
	enter("Save")
	b.sees("Log a hole")
	assert.Equal(t, "lid cracked", b.logged("condition")[1]["note"])

	enter("Log a hole")
	enter("Along a wall")
	number("10'")
	enter("right →")
	number("44'6")
	b.sees("What did it meet?")
	enter("○ Nothing")
	enter("Save without depth")
	b.kept()
	assert.Equal(t, "10'0\"", b.logged("baseline")[0]["value"])
	assert.Empty(t, b.log, "exceptions")
}
