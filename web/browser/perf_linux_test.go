package browser

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// The most bytes of a first visit, packed as a browser requests them over HTTPS
// or from its own machine: this project's own bound. It was 2.5 MB until the engine
// learned of lines that are followed, of boxes met anywhere and of wrong depths, which
// took 0.05 MB, and 2.6 MB until it learned of rods, cables and sondes and to question an
// entry, which took 0.09 MB.
// Names that are placed on the map, new points, what stopped a hole, sheet corners
// that are found and what finished jobs say of sheets took another 0.01 MB.
const firstLoad = 2_670_000

// slower is how many times slower than this machine the phone is assumed to be.
const slower = 4

// TestSpeed measures what a phone waits for. It asserts what does not depend on
// the machine, and logs the rest:
//
//	ASFOUND_LONG=1 go test ./web/browser -run Speed -v
//
// A browser's own setting for a slower processor slows the page but not its
// workers, where the engine runs. So signals stop the whole process of the page
// for three quarters of the time, a few milliseconds at a time.
func TestSpeed(t *testing.T) {
	long.Only(t, "a measurement of some minutes")
	s := newSite(t)
	_, err := fs.Stat(whole(t).Files(), "engine.wasm.br")
	require.NoError(t, err, "go generate ./web/app first: it packs the engine as for a release")
	secure, plain := s.weigh("gzip, br"), s.weigh("gzip") // browsers take Brotli over HTTPS and from their own machine
	t.Logf("first load: %.2f MB, by gzip alone %.2f MB", float64(secure)/1e6, float64(plain)/1e6)
	assert.Greater(t, secure, 1_000_000, "the engine is not built in")
	assert.Less(t, secure, firstLoad)

	b := open(t, phone)
	b.visit(s.url + "/")
	b.whole()
	files := crowded(t, 40)
	b.upload("A zip, or the files", files...)
	b.settled()
	radius := b.radius()
	for _, times := range []int{1, slower} {
		opened := func(how, first string) {
			b.atSpeed(times, func() {
				b.do(reload)
				b.wait(`document.querySelector("dd[data-radius]")`)
				seen := eval[float64](b, `performance.now()`)
				b.settled()
				t.Logf("%d times slower: opened %s, %s %.0f ms after the page began, worked out again with the next hole %.0f ms", times, how, first, seen, eval[float64](b, `performance.now()`))
			})
			assert.InDelta(t, radius, b.radius(), 1e-9)
		}
		opened("again", "the plan as kept")
		require.True(t, eval[bool](b, forgetBeliefs))
		opened("for the first time", "a radius")
		for _, met := range []string{"A trench, not sure which", "○ Nothing"} {
			b.atSpeed(times, func() {
				b.press("Log a hole")
				b.press(met)
				b.keys("3'9")
				eval[bool](b, watchStrip)
				b.press("Save")
				b.wait(`window.strip.settled`)
			})
			look, all, next := eval[float64](b, `strip.look - strip.pressed`), eval[float64](b, `strip.belief - strip.pressed`), eval[float64](b, `strip.settled - strip.pressed`)
			t.Logf("%d times slower, %s: radius in sight %.0f ms after it was logged, the whole belief %.0f ms, the next hole %.0f ms", times, met, look, all, next)
			assert.Positive(t, look, "the first look was seen")
			assert.Greater(t, all, look)
			b.press("Undo")
			b.wait(`Math.abs(Number(document.querySelector("dd[data-radius]")?.dataset.radius) - ` + num(radius) + `) < 1e-9`)
			b.settled()
		}
	}
	assert.Empty(t, b.log, "exceptions")
}

// forgetBeliefs deletes the stored beliefs of the browser's jobs.
const forgetBeliefs = `new Promise((done) => {
	const q = indexedDB.open("asfound");
	q.onsuccess = () => {
		const t = q.result.transaction("words", "readwrite");
		t.objectStore("words").delete(IDBKeyRange.bound("belief ", "belief ~"));
		t.oncomplete = () => { q.result.close(); done(true); };
	};
})`

// watchStrip notes when Save was pressed, and when the strip shows a first
// look, the belief, and that all work is done.
const watchStrip = `(() => {
	const s = window.strip = {};
	addEventListener("click", (e) => e.target.closest("button")?.innerText.includes("Save") && (s.pressed ??= performance.now()), true);
	const was = document.querySelector("dd[data-radius]")?.dataset.radius;
	new MutationObserver(() => {
		const strip = document.querySelector(".strip");
		if (!s.pressed || !strip) return;
		const look = document.querySelector(".about")?.innerText.includes("First look"), now = performance.now();
		if (look) s.look ??= now;
		else if (s.look) s.belief ??= now;
		if (s.belief && strip.getAttribute("aria-busy") === "false") s.settled ??= now;
	}).observe(document.body, {subtree: true, childList: true, attributes: true, characterData: true});
	return true;
})()`

// weigh returns the bytes of everything that a first visit fetches, packed in
// this way.
func (s *site) weigh(packed string) (n int) {
	s.t.Helper()
	get := func(path string) []byte {
		q, err := http.NewRequest(http.MethodGet, s.url+path, nil)
		require.NoError(s.t, err)
		q.Header.Set("Accept-Encoding", packed) // set by hand: the body stays packed
		r, err := http.DefaultClient.Do(q)
		require.NoError(s.t, err)
		defer r.Body.Close()
		require.Equal(s.t, http.StatusOK, r.StatusCode, path)
		b, err := io.ReadAll(r.Body)
		require.NoError(s.t, err)
		n += len(b)
		return b
	}
	get("/manifest.webmanifest")
	q, err := http.Get(s.url + "/sw.js")
	require.NoError(s.t, err)
	defer q.Body.Close()
	worker, err := io.ReadAll(q.Body)
	require.NoError(s.t, err)
	n += len(worker)
	first, _, ok := bytes.Cut(worker, []byte("const LATER")) // what is fetched once the app works is no part of a first visit
	require.True(s.t, ok)
	for _, m := range regexp.MustCompile(`"(/[^"]*)": "[0-9a-f]{64}"`).FindAllSubmatch(first, -1) {
		get(string(m[1]))
	}
	return n
}

// crowded writes the demo's job with so many readings: its tapes and levels are
// repeated many times, as a careful crew might do.
func crowded(t *testing.T, readings int) []string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"sketch.geojson", "job.json"} {
		text, err := os.ReadFile("../../testdata/sites/demo/" + name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text, 0o600))
	}
	text, err := os.ReadFile("../../testdata/sites/demo/readings.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	again := rows[1:]
	for i := 0; len(rows) < readings+1; i++ {
		if r := again[i%len(again)]; r[0] == "tape" || r[0] == "level" {
			rows = append(rows, r)
		}
	}
	var out bytes.Buffer
	require.NoError(t, csv.NewWriter(&out).WriteAll(rows))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "readings.csv"), out.Bytes(), 0o600))
	files, err := filepath.Glob(dir + "/*")
	require.NoError(t, err)
	return files
}

// atSpeed does something while the page, its workers among it, gets one part in
// so many of the time.
func (b *tab) atSpeed(times int, do func()) {
	b.t.Helper()
	if times == 1 {
		do()
		return
	}
	pages := renderers(b.t, chromedp.FromContext(b.ctx).Browser.Process().Pid)
	require.NotEmpty(b.t, pages, "no process of a page")
	const slice = 2 * time.Millisecond
	stop := make(chan struct{})
	var ended sync.WaitGroup
	ended.Go(func() {
		for {
			signal(pages, syscall.SIGSTOP)
			time.Sleep(time.Duration(times-1) * slice)
			signal(pages, syscall.SIGCONT)
			select {
			case <-stop:
				return
			case <-time.After(slice):
			}
		}
	})
	defer ended.Wait()
	defer close(stop)
	do()
}

func signal(processes []int, s syscall.Signal) {
	for _, p := range processes {
		_ = syscall.Kill(p, s) // it may have ended
	}
}

// renderers returns the processes of pages among the descendants of a browser.
func renderers(t *testing.T, browser int) (found []int) {
	t.Helper()
	names, err := filepath.Glob("/proc/[0-9]*/cmdline")
	require.NoError(t, err)
	for _, name := range names {
		line, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(line), "--type=renderer") {
			continue
		}
		pid, err := strconv.Atoi(filepath.Base(filepath.Dir(name)))
		require.NoError(t, err)
		for p := pid; p > 1; p = parent(p) {
			if p == browser {
				found = append(found, pid)
				break
			}
		}
	}
	return found
}

// parent returns the process that started another, 0 where it has ended.
func parent(pid int) (p int) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(text), ") ") // proc(5): state and parent follow the name
	_, _ = fmt.Sscanf(rest, "%1s %d", new(string), &p)
	return p
}
