package access_test

import (
	"encoding/base64"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/web/access"
)

// bytesOf returns the bytes that a token stands for.
func bytesOf(t *testing.T, token string) string {
	b, err := base64.RawURLEncoding.DecodeString(token)
	require.NoError(t, err)
	return string(b)
}

func TestLimiter(t *testing.T) {
	l := access.NewLimiter(10*time.Second, 3, 2)
	now := time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)
	passes := func(who string) (n int) {
		for range 10 {
			if ok, _ := l.Allow(who, now); ok {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 3, passes("a"), "at once")
	_, wait := l.Allow("a", now)
	assert.Equal(t, 10*time.Second, wait)
	assert.Equal(t, 3, passes("b"), "by who asks")
	assert.Equal(t, 3, passes("c"), "more askers than are told apart")
	assert.Equal(t, 0, passes("d"), "share")
	now = now.Add(9 * time.Second)
	assert.Equal(t, 0, passes("a"))
	now = now.Add(time.Second)
	assert.Equal(t, 1, passes("a"), "one more every so often")
	now = now.Add(time.Hour)
	assert.Equal(t, 3, passes("e"), "those that are full are forgotten")
	assert.Equal(t, 3, passes("a"), "never more than at first")
	now = now.Add(-time.Hour)
	assert.Equal(t, 0, passes("a"), "a clock set back gives nothing")
}

// In any time, nobody passes more often than the burst and the rate allow,
// however many ask.
func TestLimiterHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		burst, askers := rapid.IntRange(1, 5).Draw(t, "burst"), rapid.IntRange(1, 4).Draw(t, "askers")
		l := access.NewLimiter(time.Second, burst, askers)
		begin := time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)
		now := begin
		passed := map[string]int{}
		for range rapid.IntRange(1, 100).Draw(t, "requests") {
			now = now.Add(time.Duration(rapid.IntRange(0, 1500).Draw(t, "ms")) * time.Millisecond)
			who := fmt.Sprint(rapid.IntRange(0, 6).Draw(t, "who"))
			ok, wait := l.Allow(who, now)
			require.Equal(t, ok, wait == 0)
			if ok {
				passed[who]++
			}
			require.LessOrEqual(t, float64(passed[who]), float64(burst)+now.Sub(begin).Seconds()+1e-9)
		}
	})
}
