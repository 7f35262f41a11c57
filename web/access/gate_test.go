package access_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/access"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// clock is a clock that tests set.
type clock struct{ at time.Time }

func (c *clock) now() time.Time           { return c.at }
func (c *clock) goOn(after time.Duration) { c.at = c.at.Add(after) }

// open opens a gate at a new logbook.
func open(t *testing.T) (*access.Gate, *clock, *logbook.Store, string) {
	path := filepath.Join(t.TempDir(), "log.db")
	b, err := logbook.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = b.Close() })
	c := &clock{time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)}
	return access.New(b, c.now), c, b, path
}

func TestFirstLink(t *testing.T) {
	g, c, _, _ := open(t)
	lost, err := g.First(t.Context())
	require.NoError(t, err)
	c.goOn(time.Minute)
	token, err := g.First(t.Context())
	require.NoError(t, err)
	assert.NotEqual(t, lost, token)
	_, _, err = g.Join(t.Context(), lost, "")
	assert.ErrorIs(t, err, access.ErrRevoked, "the one before serves no more")
	d, session, err := g.Join(t.Context(), token, " Desk ")
	require.NoError(t, err)
	assert.Equal(t, access.Lead, d.Role)
	assert.Equal(t, "Desk", d.Name)

	token, err = g.First(t.Context())
	require.NoError(t, err)
	assert.Empty(t, token, "a lead has a device")
	require.NoError(t, g.RevokeDevice(t.Context(), d.ID))
	_, err = g.Device(t.Context(), session)
	assert.ErrorIs(t, err, access.ErrRevoked)
	token, err = g.First(t.Context())
	require.NoError(t, err)
	assert.NotEmpty(t, token, "the last device of a lead is gone")
	c.goOn(25 * time.Hour)
	_, _, err = g.Join(t.Context(), token, "")
	assert.ErrorIs(t, err, access.ErrExpired)
}

func TestInviteAndJoin(t *testing.T) {
	g, c, _, _ := open(t)
	i, token, err := g.Invite(t.Context(), access.Tech, "Phone 2", time.Hour)
	require.NoError(t, err)
	assert.Equal(t, c.at.Add(time.Hour), i.Expires)
	d, session, err := g.Join(t.Context(), token, "")
	require.NoError(t, err)
	assert.Equal(t, "Phone 2", d.Name)
	assert.NotEqual(t, token, session)
	got, err := g.Device(t.Context(), session)
	require.NoError(t, err)
	assert.Equal(t, d, got)

	_, _, err = g.Join(t.Context(), token, "")
	assert.ErrorIs(t, err, access.ErrUsed, "a link works once")
	_, err = g.Device(t.Context(), token)
	assert.ErrorIs(t, err, access.ErrUnknown, "the token of a link is no token of a device")
	_, _, err = g.Join(t.Context(), session, "")
	assert.ErrorIs(t, err, access.ErrUnknown, "nor the other way round")

	invites, err := g.Invites(t.Context())
	require.NoError(t, err)
	i.Used = true
	assert.Equal(t, []access.Invite{i}, invites)
	devices, err := g.Devices(t.Context())
	require.NoError(t, err)
	assert.Equal(t, []access.Device{d}, devices)
}

func TestNotLetIn(t *testing.T) {
	g, c, _, _ := open(t)
	i, revoked, err := g.Invite(t.Context(), access.Office, "", time.Hour)
	require.NoError(t, err)
	_, late, err := g.Invite(t.Context(), access.Office, "", time.Hour)
	require.NoError(t, err)
	require.NoError(t, g.RevokeInvite(t.Context(), i.ID))
	require.NoError(t, g.RevokeInvite(t.Context(), i.ID), "once more does no harm")
	c.goOn(time.Hour)
	for _, tt := range []struct {
		name, token string
		want        error
	}{
		{"revoked", revoked, access.ErrRevoked},
		{"late", late, access.ErrExpired},
		{"none", "", access.ErrUnknown},
		{"invented", strings.Repeat("A", 43), access.ErrUnknown},
		{"one letter other", late[:42] + "!", access.ErrUnknown},
		{"long", strings.Repeat("A", 1<<20), access.ErrUnknown},
		{"SQL", "' OR 1=1 --", access.ErrUnknown},
		{"id of the invite", i.ID, access.ErrUnknown},
	} {
		_, _, err := g.Join(t.Context(), tt.token, "")
		assert.ErrorIs(t, err, tt.want, tt.name)
		_, err = g.Device(t.Context(), tt.token)
		assert.ErrorIs(t, err, access.ErrUnknown, tt.name)
	}
	devices, err := g.Devices(t.Context())
	require.NoError(t, err)
	assert.Empty(t, devices)
	assert.ErrorIs(t, g.RevokeInvite(t.Context(), "x"), fs.ErrNotExist)
	assert.ErrorIs(t, g.RevokeDevice(t.Context(), "x"), fs.ErrNotExist)
	for _, tt := range []struct {
		role access.Role
		name string
		life time.Duration
	}{
		{"owner", "", time.Hour}, {access.Tech, "", 0}, {access.Tech, "", access.MaxInvite + 1},
		{access.Tech, strings.Repeat("x", 81), time.Hour}, {access.Tech, "a\nb", time.Hour},
	} {
		_, _, err := g.Invite(t.Context(), tt.role, tt.name, tt.life)
		assert.Error(t, err)
	}
}

// Of many that use one link at the same time, one gets in.
func TestLinkServesOnce(t *testing.T) {
	g, _, _, _ := open(t)
	_, token, err := g.Invite(t.Context(), access.Tech, "", time.Hour)
	require.NoError(t, err)
	var in atomic.Int32
	var wg sync.WaitGroup
	for range 20 {
		wg.Go(func() {
			if _, _, err := g.Join(t.Context(), token, ""); err == nil {
				in.Add(1)
			} else {
				assert.ErrorIs(t, err, access.ErrUsed)
			}
		})
	}
	wg.Wait()
	assert.Equal(t, int32(1), in.Load())
}

// TestNamesApart lets in devices under one name: the invited name stays, unless the
// device has another, and no two in use have the same. One that was revoked leaves its
// name free.
func TestNamesApart(t *testing.T) {
	g, c, _, _ := open(t)
	join := func(invited, name string) access.Device {
		t.Helper()
		_, token, err := g.Invite(t.Context(), access.Tech, invited, time.Hour)
		require.NoError(t, err)
		d, _, err := g.Join(t.Context(), token, name)
		require.NoError(t, err)
		return d
	}
	long := strings.Repeat("é", 80)
	first := join("Digger", "")
	assert.Equal(t, "Digger", first.Name)
	assert.Equal(t, "Digger 2", join("Digger", "").Name)
	assert.Equal(t, "Digger 3", join("Phone", "Digger").Name)
	assert.Equal(t, long, join(long, "").Name)
	assert.Equal(t, strings.Repeat("é", 78)+" 2", join(long, "").Name)
	assert.Empty(t, join("", "").Name)
	assert.Empty(t, join("", "").Name)
	require.NoError(t, g.RevokeDevice(t.Context(), first.ID))
	assert.Equal(t, "Digger", join("Digger", "").Name)
	c.goOn(access.Life)
	assert.Equal(t, "Digger", join("Digger", "").Name)
}

// TestSeenIsTrue: a device was seen when it last asked, to the minute.
func TestSeenIsTrue(t *testing.T) {
	g, c, _, _ := open(t)
	_, token, err := g.Invite(t.Context(), access.Tech, "Phone", time.Hour)
	require.NoError(t, err)
	_, session, err := g.Join(t.Context(), token, "")
	require.NoError(t, err)
	for range 10 {
		c.goOn(25 * time.Second)
		_, err := g.Device(t.Context(), session)
		require.NoError(t, err)
		devices, err := g.Devices(t.Context())
		require.NoError(t, err)
		assert.Less(t, c.at.Sub(devices[0].Seen), time.Minute)
	}
}

func TestDevicesLife(t *testing.T) {
	g, c, _, _ := open(t)
	_, token, err := g.Invite(t.Context(), access.Tech, "", time.Hour)
	require.NoError(t, err)
	first, session, err := g.Join(t.Context(), token, "")
	require.NoError(t, err)
	for range 4 { // seen every two months it keeps its access for ever
		c.goOn(60 * 24 * time.Hour)
		d, err := g.Device(t.Context(), session)
		require.NoError(t, err)
		assert.Equal(t, c.at, d.Seen)
		assert.Equal(t, c.at.Add(access.Life), d.Expires)
		assert.Equal(t, first.Joined, d.Joined)
		devices, err := g.Devices(t.Context())
		require.NoError(t, err)
		assert.Equal(t, []access.Device{d}, devices)
	}
	c.goOn(access.Life)
	_, err = g.Device(t.Context(), session)
	assert.ErrorIs(t, err, access.ErrExpired)
}

// Neither the logbook, nor SQLite's files beside it, nor a copy contains a
// token, whole or in a useful piece, as text or as bytes.
func TestNoTokenOnDisk(t *testing.T) {
	g, _, b, path := open(t)
	first, err := g.First(t.Context())
	require.NoError(t, err)
	_, lead, err := g.Join(t.Context(), first, "Desk of the lead")
	require.NoError(t, err)
	_, invite, err := g.Invite(t.Context(), access.Tech, "Phone 2", time.Hour)
	require.NoError(t, err)
	_, other, err := g.Invite(t.Context(), access.Office, "Phone 3", time.Hour)
	require.NoError(t, err)
	_, session, err := g.Join(t.Context(), invite, "")
	require.NoError(t, err)
	require.NoError(t, b.Backup(t.Context(), path+".copy"))

	look := func() {
		names, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
		require.NoError(t, err)
		found := false
		for _, name := range names {
			data, err := os.ReadFile(name)
			require.NoError(t, err)
			found = found || strings.Contains(string(data), "Desk of the lead")
			for _, token := range []string{first, lead, invite, other, session} {
				require.Len(t, token, 43, "256 bits in base 64")
				for at := 0; at+8 <= len(token); at++ {
					assert.NotContains(t, string(data), token[at:at+8], name)
				}
				assert.NotContains(t, string(data), bytesOf(t, token)[:8], name)
			}
		}
		assert.True(t, found, "the search looks in the wrong place")
	}
	look()
	require.NoError(t, b.Close())
	look()
}

func TestTokensDiffer(t *testing.T) {
	g, _, _, _ := open(t)
	seen := map[string]bool{}
	for range 100 {
		_, token, err := g.Invite(t.Context(), access.Tech, "", time.Hour)
		require.NoError(t, err)
		assert.Len(t, bytesOf(t, token), 32)
		seen[token], seen[token[:8]], seen[token[35:]] = true, true, true
	}
	assert.Len(t, seen, 300)
}

// Devices outlive the server.
func TestAfterARestart(t *testing.T) {
	g, c, b, path := open(t)
	_, token, err := g.Invite(t.Context(), access.Tech, "Phone 2", time.Hour)
	require.NoError(t, err)
	d, session, err := g.Join(t.Context(), token, "")
	require.NoError(t, err)
	require.NoError(t, b.Close())
	b, err = logbook.Open(path)
	require.NoError(t, err)
	defer b.Close()
	got, err := access.New(b, c.now).Device(t.Context(), session)
	require.NoError(t, err)
	assert.Equal(t, d, got)
	assert.True(t, entry.ValidID(got.ID))
}

func TestRoles(t *testing.T) {
	for _, tt := range []struct {
		role                      access.Role
		read, log, imports, leads bool
	}{
		{access.Lead, true, true, true, true},
		{access.Tech, true, true, false, false},
		{access.Office, true, true, true, false},
		{"", false, false, false, false},
		{"owner", false, false, false, false},
	} {
		assert.Equal(t, []bool{tt.read, tt.log, tt.imports, tt.leads}, []bool{
			tt.role.May(access.Read), tt.role.May(access.Log), tt.role.May(access.Import), tt.role.May(access.Manage)}, tt.role)
		assert.Equal(t, tt.leads, tt.role.May(access.Settle), tt.role)
		assert.Equal(t, tt.read, tt.role.Known())
		assert.False(t, tt.role.May("fly"))
	}
}
