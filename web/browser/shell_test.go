package browser

import (
	"strconv"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestInstall asks the browser what it makes of the web app manifest (W3C).
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
		// A profile of its own in a headless browser is taken for a private window.
		assert.Equal(t, "in-incognito", x.ErrorID)
	}
	// The icons that the manifest names must be there as it says.
	for _, icon := range []string{"icon-192.png", "icon-512.png"} {
		px := eval[float64](b, `fetch("/static/`+icon+`").then((r) => r.blob()).then(createImageBitmap).then((i) => i.width)`)
		assert.Contains(t, m.Data, strconv.Itoa(int(px))+"x"+strconv.Itoa(int(px)))
	}
}

// TestLargeText doubles the text (WCAG 2.2, 1.4.4): nothing may be cut off at
// the side, and the log stays usable.
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
	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	b.bring("demo")
	to := func(name string) {
		t.Helper()
		for range 80 {
			b.do(chromedp.KeyEvent("\t"))
			if eval[bool](b, `(document.activeElement.getAttribute("aria-label") || document.activeElement.innerText || "").includes(`+quote(name)+`)`) {
				assert.NotEqual(t, "none", eval[string](b, `getComputedStyle(document.activeElement).outlineStyle`), "the focus is seen")
				return
			}
		}
		t.Fatalf("the tab key does not come to %q", name)
	}
	to("Log a hole")
	b.do(chromedp.KeyEvent("\r"))
	b.sees("What did it meet?")
	to("Nothing")
	b.do(chromedp.KeyEvent("\r"))
	to("nothing typed yet")
	b.do(chromedp.KeyEvent("5"))
	b.sees("5′")
	b.do(chromedp.KeyEvent("\r"))
	b.sees("Undo")
}
