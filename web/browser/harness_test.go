package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// size is that of a window in CSS pixels.
type size struct {
	width, height int64
	touch         bool
}

var (
	phone = size{390, 844, true}
	desk  = size{1280, 800, false}
)

// patience bounds every wait: other work may share the machine.
const patience = 2 * time.Minute

// chromium returns the path of the browser, or skips the test.
func chromium(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	return long.Program(t, "chromium", "chromium-browser", "google-chrome")
}

// tab is one page in a separate browser, so that two tabs share nothing.
type tab struct {
	t    *testing.T
	ctx  context.Context
	size size
	log  []string // exceptions and errors of the console
}

// open starts a browser with an empty profile and a window of that size.
func open(t *testing.T, s size) *tab {
	t.Helper()
	alloc, stop := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath(chromium(t)), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.WindowSize(int(s.width), int(s.height)), chromedp.UserDataDir(t.TempDir()))
	t.Cleanup(stop)
	ctx, end := chromedp.NewContext(alloc)
	t.Cleanup(end)
	b := &tab{t: t, ctx: ctx, size: s}
	// The browser lives as long as the context of its first step.
	require.NoError(t, chromedp.Do(ctx))
	opts := []chromedp.EmulateViewportOption{}
	if s.touch {
		opts = append(opts, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	b.do(chromedp.EmulateViewport(s.width, s.height, opts...))
	require.NoError(t, chromedp.Listen(ctx, b.note))
	return b
}

// prefers sets what the device asks of a page: pairs of a media feature,
// without its "prefers-", and a value.
func (b *tab) prefers(features ...string) {
	b.t.Helper()
	p := emulation.SetEmulatedMediaParams{}
	for f := range slices.Chunk(features, 2) {
		p.Features = append(p.Features, &emulation.MediaFeature{Name: "prefers-" + f[0], Value: f[1]})
	}
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, p)
	require.NoError(b.t, err)
}

// note records what went wrong in the page.
func (b *tab) note(ev any) {
	s := fmt.Sprintf("%T", ev)
	if !strings.Contains(s, "ExceptionThrown") {
		return
	}
	text, _ := json.Marshal(ev)
	b.log = append(b.log, string(text))
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, end := context.WithTimeout(b.ctx, patience)
	defer end()
	require.NoError(b.t, chromedp.Do(ctx, steps...))
}

func (b *tab) visit(url string) {
	b.t.Helper()
	b.do(chromedp.Navigate(url))
}

// eval returns the value of an expression in the page, promises awaited.
func eval[T any](b *tab, js string) T {
	b.t.Helper()
	ctx, end := context.WithTimeout(b.ctx, patience)
	defer end()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, js)
	return v
}

// wait waits until an expression in the page holds.
func (b *tab) wait(js string) {
	b.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(50 * time.Millisecond) {
		if eval[bool](b, "!!("+js+")") {
			return
		}
		if time.Now().After(end) {
			b.shot("stuck")
			b.t.Fatalf("not within %v: %s\nthe page says: %s\n%s", patience, js, b.text(), strings.Join(b.log, "\n"))
		}
	}
}

// sees waits until the page shows a text.
func (b *tab) sees(text string) {
	b.t.Helper()
	b.wait("document.body.innerText.includes(" + quote(text) + ")")
}

// text returns what the page shows.
func (b *tab) text() string { return eval[string](b, "document.body.innerText") }

// press clicks, or taps on a phone, the control whose text or label is given.
func (b *tab) press(name string) {
	b.t.Helper()
	const find = `(() => {
		const want = %s;
		const all = [...document.querySelectorAll("button, a, summary, label, option, [role=button]")].filter((e) => e.getClientRects().length && !e.disabled);
		const said = (e) => (e.getAttribute("aria-label") || e.innerText || "").replace(/\s+/g, " ").trim();
		const e = all.find((e) => said(e) === want) || all.find((e) => said(e).startsWith(want)) || all.find((e) => said(e).includes(want));
		if (!e) return null;
		e.scrollIntoView({block: "center", inline: "center"});
		const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})()`
	js := fmt.Sprintf(find, quote(name))
	b.wait(js)
	at := eval[[]float64](b, js)
	for range 20 { // a control that is still being laid out moves away from under the finger
		time.Sleep(20 * time.Millisecond)
		now := eval[[]float64](b, js)
		if slices.Equal(at, now) {
			break
		}
		if now != nil {
			at = now
		}
	}
	if b.size.touch {
		b.do(chromedp.TapXY(at[0], at[1]))
	} else {
		b.do(chromedp.MouseClickXY(at[0], at[1]))
	}
}

// shot stores a picture of the window.
func (b *tab) shot(name string) {
	b.t.Helper()
	ctx, end := context.WithTimeout(b.ctx, patience)
	defer end()
	r, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
	require.NoError(b.t, err)
	require.NoError(b.t, os.MkdirAll("shots", 0o755))
	require.NoError(b.t, os.WriteFile(filepath.Join("shots", name+".png"), r.Data, 0o644))
}

// stand puts the device at a place, with the accuracy that its receiver states.
func (b *tab) stand(lon, lat, accuracy float64) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetGeolocationOverride, emulation.SetGeolocationOverrideParams{Latitude: &lat, Longitude: &lon, Accuracy: &accuracy})
	require.NoError(b.t, err)
}

// upload gives files to the file input of the page whose label has a text.
func (b *tab) upload(label string, files ...string) {
	b.t.Helper()
	for i, f := range files {
		p, err := filepath.Abs(f)
		require.NoError(b.t, err)
		files[i] = p
	}
	mark := `(() => { const l = [...document.querySelectorAll("label")].find((l) => l.innerText.includes(` + quote(label) + `)); const i = l?.querySelector("input"); i?.setAttribute("data-upload", "here"); return !!i; })()`
	b.wait(mark)
	b.do(chromedp.SetUploadFiles(chromedp.CSS("[data-upload=here]"), files))
	eval[bool](b, `(document.querySelector("[data-upload]")?.removeAttribute("data-upload"), true)`)
}

// bring brings an invented job in from its files and waits for its plan.
func (b *tab) bring(job string) {
	b.t.Helper()
	b.bringFolder("../../testdata/sites/" + job)
}

func (b *tab) bringFolder(folder string) {
	b.t.Helper()
	files, err := filepath.Glob(folder + "/*")
	require.NoError(b.t, err)
	files = slices.DeleteFunc(files, func(f string) bool { return filepath.Base(f) == "truth.json" })
	b.upload("A zip, or the files", files...)
	b.settled()
}

// settled waits until the belief includes everything that was logged.
func (b *tab) settled() {
	b.t.Helper()
	b.wait(`document.querySelector(".strip[aria-busy=false]")`)
}

// reload loads the page again, from the server or from the cache.
var reload = chromedp.Reload()

func num(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func quote(s string) string {
	q, _ := json.Marshal(s) // a string cannot fail
	return string(q)
}
