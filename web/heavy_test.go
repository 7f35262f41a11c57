package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/api"
)

// heavy returns a request to a stage about a lot with so many laterals and so many holes
// that met one of them, each with three tapes, of which every third has one that is a
// metre off.
func heavy(t testing.TB, laterals, holes int) []byte {
	t.Helper()
	type m = map[string]any
	feature := func(id, part, form string, at any) m {
		return m{"type": "Feature", "id": id, "geometry": m{"type": form, "coordinates": at}, "properties": m{"part": part}}
	}
	marks := map[string][2]float64{"A": {0, 0}, "B": {12, 0}, "C": {12, 9}}
	features := []m{feature("box", "box", "Point", [2]float64{6, -8})}
	for _, id := range []string{"A", "B", "C"} {
		features = append(features, feature(id, "landmark", "Point", marks[id]))
	}
	for i := range laterals {
		x := 2 + 2*float64(i)
		features = append(features, feature(fmt.Sprint("L", i+1), "lateral", "LineString", [][2]float64{{x, -10}, {x, -25}}))
	}
	var rows []map[string]string
	for i := range holes {
		name := fmt.Sprint("H", i+1)
		x, y := 2.3+2*float64(i%laterals), -12-1.5*float64(i%7)
		for k, id := range []string{"A", "B", "C"} {
			d := math.Hypot(x-marks[id][0], y-marks[id][1])
			if k == 0 && i%3 == 0 {
				d++
			}
			rows = append(rows, map[string]string{"kind": "tape", "from": id, "to": name, "value": fmt.Sprintf("%.2f m", d)})
		}
		rows = append(rows, map[string]string{"kind": "found", "point": name, "target": "lateral", "depth": "0.9 m"})
	}
	text, err := json.Marshal(m{"job": m{
		"sketch":   m{"type": "FeatureCollection", "sketch": m{"plane": "paper", "unit": "m", "scale": 1, "trust": "roughly"}, "features": features},
		"settings": m{"seek": "box", "unit": "m"}, "rows": rows}})
	require.NoError(t, err)
	return text
}

// begin sends a request to a stage and does not wait for the answer; done is closed once
// it is there.
func begin(ctx context.Context, client *http.Client, url, stage string, body []byte) (done chan struct{}) {
	done = make(chan struct{})
	go func() {
		defer close(done)
		request, err := http.NewRequestWithContext(ctx, "POST", url+"/api/stage/"+stage, bytes.NewReader(body))
		if err != nil {
			return
		}
		request.Header.Set("Content-Type", web.JSON)
		if answer, err := client.Do(request); err == nil {
			_, _ = io.Copy(io.Discard, answer.Body)
			answer.Body.Close()
		}
	}()
	return done
}

// A client that leaves frees its place, whether it has one or waits for one. The work
// takes many seconds; 100 ms are meant, and ten times as much is allowed for a machine
// that has other work.
func TestClientLeaves(t *testing.T) {
	w := newWorld(t)
	ctx, leave := context.WithCancel(t.Context())
	body := heavy(t, 20, 60)
	first := begin(ctx, w.device(access.Tech), w.url, "plan", body)
	require.Eventually(t, func() bool { return w.site.Running() == 1 }, 20*time.Second, time.Millisecond)
	second := begin(ctx, w.device(access.Tech), w.url, "plan", body)
	require.Eventually(t, func() bool { return w.site.Running()+w.site.Waiting() == 2 }, 20*time.Second, time.Millisecond)
	time.Sleep(100 * time.Millisecond)
	require.Equal(t, 2, w.site.Running()+w.site.Waiting(), "the work has ended too soon to tell")
	from := time.Now()
	leave()
	require.Eventually(t, func() bool { return w.site.Running()+w.site.Waiting() == 0 }, time.Second, time.Millisecond)
	t.Logf("free after %v", time.Since(from))
	<-first
	<-second
}

// What does not end in time is ended, and refused with what would.
func TestWorkIsEnded(t *testing.T) {
	w := newWorld(t)
	w.site.Longest = 5 * time.Second
	from := time.Now()
	status, _, text := w.ask(access.Tech, "POST", "/api/stage/belief", web.JSON, heavy(t, 5, 130))
	assert.Less(t, time.Since(from), 8*time.Second) // the work takes longer
	assert.Equal(t, http.StatusBadRequest, status)
	assert.Contains(t, string(text), `"took-too-long"`)
	assert.Contains(t, string(text), "not worked out within 5 seconds, with 520 readings")
	assert.Zero(t, w.site.Running())
}

// What is too large is refused before it is worked out, and before it waits.
func TestTooLargeIsRefused(t *testing.T) {
	w := newWorld(t)
	defer w.site.Occupy()()
	for _, tt := range []struct {
		laterals, holes int
		code            string
	}{{5, 1000, "too-many-readings"}, {200, 5, "too-many-points"}} {
		status, _, text := w.ask(access.Tech, "POST", "/api/stage/belief", web.JSON, heavy(t, tt.laterals, tt.holes))
		assert.Equal(t, http.StatusBadRequest, status)
		assert.Contains(t, string(text), `"`+tt.code+`"`)
	}
}

// BenchmarkBesideHeavyWork measures what small requests of three devices wait for, one
// after another with a pause, first alone and then while two more devices keep asking
// for heavy work:
//
//	ASFOUND_LONG=1 go test ./web -run '^$' -bench Beside -benchtime 1x
//
// It states the time that 99 of 100 answers took at most, and by what factor heavy
// work raises that.
func BenchmarkBesideHeavyWork(b *testing.B) {
	each := long.Size(b, 40, 400)
	w := newWorld(b)
	var demo api.Job
	job, err := w.site.Store.Job(b.Context(), w.job)
	require.NoError(b, err)
	demo = api.JobOf(job)
	small, err := json.Marshal(map[string]any{"job": demo})
	require.NoError(b, err)
	clients := []*http.Client{w.device(access.Tech), w.device(access.Tech), w.device(access.Tech)}
	measure := func() (p99 float64) {
		var mu sync.Mutex
		var took []time.Duration
		var all sync.WaitGroup
		for i, client := range clients {
			all.Go(func() {
				time.Sleep(time.Duration(i) * 80 * time.Millisecond)
				for range each {
					from := time.Now()
					<-begin(b.Context(), client, w.url, "preview", small)
					d := time.Since(from)
					mu.Lock()
					took = append(took, d)
					mu.Unlock()
					time.Sleep(250 * time.Millisecond)
				}
			})
		}
		all.Wait()
		slices.Sort(took)
		return float64(took[len(took)*99/100].Microseconds()) / 1000
	}
	for b.Loop() {
		alone := measure()
		ctx, stop := context.WithCancel(b.Context())
		var all sync.WaitGroup
		body := heavy(b, 20, 60)
		for range 2 {
			client := w.device(access.Tech)
			all.Go(func() {
				for ctx.Err() == nil {
					<-begin(ctx, client, w.url, "plan", body)
				}
			})
		}
		require.Eventually(b, func() bool { return w.site.Running() > 0 }, 20*time.Second, time.Millisecond)
		beside := measure()
		stop()
		all.Wait()
		b.ReportMetric(alone, "ms-p99-alone")
		b.ReportMetric(beside, "ms-p99-beside")
		b.ReportMetric(beside/alone, "factor")
	}
}
