package browser

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// TestTraceInTheApp traces a photographed sheet in the real app, without a network
// and the phone's own engine for the check, and saves it: the plan follows, nothing is
// said to be missing, and the sheet lies under the drawing when it is opened again.
func TestTraceInTheApp(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	s.stop()
	b.visit(s.url + "/#/jobs")
	b.fill("Title", "Invented lot of the tracing")
	b.press("Trace the sketch")
	h := &hand{tab: b, permit: readPermit(t), rng: rand.New(rand.NewPCG(3, 5)), miss: 1.2}
	h.traceAll()
	b.sees("Log a hole")
	b.settled()
	b.look("phone-traced")
	text := b.text()
	assert.NotContains(t, text, "left out")
	assert.NotContains(t, text, "scan")
	require.Contains(t, text, "the box")

	b.do(reload)
	b.settled()
	assert.NotContains(t, b.text(), "left out")
	assert.Empty(t, b.log, "exceptions")
}

// TestTraceAPageOffline traces a page of a PDF where there has been no network since the
// first visit, on which no PDF was opened.
func TestTraceAPageOffline(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	b.whole()
	kept := func() bool {
		return eval[bool](b, `caches.keys().then(async (all) => (await Promise.all(all.map(async (k) => (await (await caches.open(k)).keys()).some((r) => r.url.includes("/static/pdf"))))).some(Boolean))`)
	}
	require.Eventually(t, kept, patience, 50*time.Millisecond)
	s.stop()
	b.do(reload)
	b.visit(s.url + "/#/jobs")
	b.fill("Title", "Invented lot of the page")
	b.press("Trace the sketch")
	b.upload("Photo, picture or PDF", scans+"permit.pdf")
	b.sees("Square it up")
	b.press("Use as it is")
	b.sees("Touch a part to select it")
	b.wait(`document.querySelector(".trace-board[data-picture]")`)
	b.shot("desk-trace-page-offline")
	assert.Empty(t, b.log, "exceptions")
}
