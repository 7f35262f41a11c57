package web_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web"
	"asfound/web/access"
	"asfound/web/entry"
)

// phones is how many phones post at one time.
const phones = 200

// post sends one reading and returns how long the answer took.
func post(client *http.Client, url, job string, phone, n int) (time.Duration, error) {
	var random [10]byte
	copy(random[:], fmt.Sprintf("%04d%06d", phone, n))
	now := time.Now()
	text, err := json.Marshal(map[string]any{"entries": []entry.Entry{{
		ID: entry.NewID(now, random), Job: job, Kind: entry.KindReading, At: now, By: fmt.Sprint("phone ", phone),
		Body: json.RawMessage(`{"kind":"tape","from":"A","to":"H7","value":"43'6\"","note":"sent under load"}`),
	}}})
	if err != nil {
		return 0, err
	}
	answer, err := client.Post(url+"/api/entries", web.JSON, strings.NewReader(string(text)))
	if err != nil {
		return 0, err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK || strings.Contains(string(body), `"accepted":[]`) {
		return 0, fmt.Errorf("%d %s %w", answer.StatusCode, body, err)
	}
	return time.Since(now), nil
}

// load has every phone post so many readings, each phone one after the other
// with a pause, all phones at one time. It returns how long the answers took.
func load(t testing.TB, w *world, each int, pause time.Duration) []time.Duration {
	t.Helper()
	clients := make([]*http.Client, phones)
	for i := range clients {
		clients[i] = w.device(access.Tech)
	}
	took := make([][]time.Duration, phones)
	failed := make([]error, phones)
	var all sync.WaitGroup
	for i, client := range clients {
		all.Go(func() {
			time.Sleep(pause * time.Duration(i) / phones) // crews are not synchronised
			for n := range each {
				d, err := post(client, w.url, w.job, i, n)
				if err != nil {
					failed[i] = err
					return
				}
				took[i] = append(took[i], d)
				time.Sleep(pause)
			}
		})
	}
	all.Wait()
	for i := range failed {
		require.NoError(t, failed[i])
	}
	return slices.Sorted(slices.Values(slices.Concat(took...)))
}

// TestManyPhones has 200 phones post at one time: nothing that was acknowledged
// is missing afterwards.
func TestManyPhones(t *testing.T) {
	w := newWorld(t)
	var before struct{ Next int64 }
	w.get(access.Lead, "/api/entries?limit=2000", &before)
	took := load(t, w, 2, 50*time.Millisecond)
	assert.Len(t, took, 2*phones)
	var after struct{ Entries []entry.Entry }
	w.get(access.Lead, fmt.Sprintf("/api/entries?limit=2000&after=%d", before.Next), &after)
	assert.Len(t, after.Entries, 2*phones)
}

// BenchmarkPhones measures what 200 phones wait for that post a reading a second
// each, server and phones in one process; ASFOUND_LONG=1 makes it a minute long:
//
//	ASFOUND_LONG=1 go test ./web -run '^$' -bench Phones -benchtime 1x
//
// It states the time that 99 of 100 answers took at most, and the memory that
// the process, phones and all, holds from the system.
func BenchmarkPhones(b *testing.B) {
	each := long.Size(b, 3, 60)
	w := newWorld(b)
	for b.Loop() {
		took := load(b, w, each, time.Second)
		b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms-median")
		b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "ms-p99")
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/(1<<20), "MB-held")
}
