package access

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"asfound/web/entry"
	"asfound/web/logbook"
)

// Why access is refused. The texts are for the person refused.
var (
	ErrUnknown = errors.New("this link or device is not known here: ask the lead for a new link")
	ErrUsed    = errors.New("this link was used already, and works only once: ask the lead for a new one")
	ErrExpired = errors.New("this link or device has not been used in time: ask the lead for a new link")
	ErrRevoked = errors.New("the lead has revoked this link or device: ask the lead for a new link")
)

const (
	// MaxInvite is the longest time for which a link may work.
	MaxInvite = 7 * 24 * time.Hour
	// Life is how long a device that is not seen keeps its access.
	Life = 90 * 24 * time.Hour

	firstLink = 24 * time.Hour // how long the link of First works
	notice    = time.Minute    // how often a device is marked as seen, not at each request
	maxName   = entry.MaxBy    // runes of the name of a device: it is that of its entries
)

// Gate lets devices in.
type Gate struct {
	store *logbook.Store
	now   func() time.Time
}

// New returns the gate of a logbook. now is the clock, time.Now except in
// tests.
func New(store *logbook.Store, now func() time.Time) *Gate { return &Gate{store, now} }

// Invite is a link for one device.
type Invite struct {
	ID      string    `json:"id"`
	Role    Role      `json:"role"`
	Name    string    `json:"name"` // of the device, as the lead calls it
	Made    time.Time `json:"made"`
	Expires time.Time `json:"expires"`
	Used    bool      `json:"used"`
	Revoked bool      `json:"revoked"`
}

// Device is a phone or a desk that joined.
type Device struct {
	ID      string    `json:"id"`
	Role    Role      `json:"role"`
	Name    string    `json:"name"`
	Joined  time.Time `json:"joined"`
	Seen    time.Time `json:"seen"` // to the minute
	Expires time.Time `json:"expires"`
	Revoked bool      `json:"revoked"`
}

// newID returns an id that names an invite or a device and gives no access.
func newID(at time.Time) string {
	var random [10]byte
	rand.Read(random[:]) // never fails
	return entry.NewID(at, random)
}

// First returns the token of a link for the lead, "" where a lead has a device.
// Unused links that it made before no longer work.
func (g *Gate) First(ctx context.Context) (token string, err error) {
	err = g.store.Write(ctx, func(tx *sql.Tx) error {
		token = ""
		now := g.now()
		var lead bool
		if err := tx.QueryRow(`SELECT EXISTS (SELECT 1 FROM devices WHERE role = ? AND revoked IS NULL AND expires > ?)`,
			Lead, now.UnixMilli()).Scan(&lead); err != nil || lead {
			return err
		}
		if _, err := tx.Exec(`UPDATE invites SET revoked = ? WHERE role = ? AND used IS NULL AND revoked IS NULL`, now.UnixMilli(), Lead); err != nil {
			return err
		}
		_, token, err = g.invite(tx, Lead, "lead", now.Add(firstLink))
		return err
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

// Invite makes a link for a device of a role, valid for a time. The device is
// called name until it gives itself another. The token is kept nowhere else: it
// cannot be shown again.
func (g *Gate) Invite(ctx context.Context, role Role, name string, life time.Duration) (i Invite, token string, err error) {
	name, err = goodName(name)
	switch {
	case !role.Known():
		return i, "", fmt.Errorf("found the role %.40q; want %s, %s or %s", role, Lead, Tech, Office)
	case life <= 0 || life > MaxInvite:
		return i, "", fmt.Errorf("found a link for %s; want one for at most %s", life, MaxInvite)
	case err != nil:
		return i, "", err
	}
	err = g.store.Write(ctx, func(tx *sql.Tx) error {
		i, token, err = g.invite(tx, role, name, g.now().Add(life))
		return err
	})
	if err != nil {
		return Invite{}, "", err
	}
	return i, token, nil
}

func (g *Gate) invite(tx *sql.Tx, role Role, name string, expires time.Time) (Invite, string, error) {
	now := g.now()
	token, hash := newToken()
	i := Invite{ID: newID(now), Role: role, Name: name, Made: moment(now.UnixMilli()), Expires: moment(expires.UnixMilli())}
	_, err := tx.Exec(`INSERT INTO invites (id, hash, role, name, made, expires) VALUES (?, ?, ?, ?, ?, ?)`,
		i.ID, hash, i.Role, i.Name, now.UnixMilli(), expires.UnixMilli())
	return i, token, err
}

// Join takes the token of a link, which no longer works afterwards, and lets
// the device in. It returns the token of the device, which is kept nowhere
// else. name is how the device calls itself, "" for the name in the invitation; where
// another device in use is called so, a number is added.
func (g *Gate) Join(ctx context.Context, token, name string) (d Device, session string, err error) {
	if name, err = goodName(name); err != nil {
		return d, "", err
	}
	if !plausible(token) {
		return d, "", ErrUnknown
	}
	err = g.store.Write(ctx, func(tx *sql.Tx) error {
		now := g.now()
		var invite string
		var expires int64
		var used, revoked sql.NullInt64
		d = Device{ID: newID(now), Joined: moment(now.UnixMilli()), Seen: moment(now.UnixMilli()), Expires: moment(now.Add(Life).UnixMilli())}
		// The token is looked up by its hash: what the timing reveals about a
		// hash does not help to find a token for it.
		err := tx.QueryRow(`SELECT id, role, name, expires, used, revoked FROM invites WHERE hash = ?`, hashOf(token)).
			Scan(&invite, &d.Role, &d.Name, &expires, &used, &revoked)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			return ErrUnknown
		case err != nil:
			return err
		case used.Valid:
			return ErrUsed
		case revoked.Valid:
			return ErrRevoked
		case expires <= now.UnixMilli():
			return ErrExpired
		}
		if name != "" {
			d.Name = name
		}
		if d.Name, err = freeName(tx, d.Name, now); err != nil {
			return err
		}
		if _, err := tx.Exec(`UPDATE invites SET used = ? WHERE id = ?`, now.UnixMilli(), invite); err != nil {
			return err
		}
		var hash []byte
		session, hash = newToken()
		_, err = tx.Exec(`INSERT INTO devices (id, hash, invite, role, name, joined, seen, expires) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			d.ID, hash, invite, d.Role, d.Name, now.UnixMilli(), now.UnixMilli(), d.Expires.UnixMilli())
		return err
	})
	if err != nil {
		return Device{}, "", err
	}
	return d, session, nil
}

// freeName returns a name that no device in use has, so that whoever reads an entry
// knows which phone it is from: "Phone 2" where there is a "Phone".
func freeName(tx *sql.Tx, name string, now time.Time) (string, error) {
	free := name
	for n := 2; name != ""; n++ {
		var taken bool
		if err := tx.QueryRow(`SELECT EXISTS (SELECT 1 FROM devices WHERE name = ? AND revoked IS NULL AND expires > ?)`,
			free, now.UnixMilli()).Scan(&taken); err != nil {
			return "", err
		}
		if !taken {
			break
		}
		number := fmt.Sprintf(" %d", n)
		letters := []rune(name)
		free = string(letters[:min(len(letters), maxName-len(number))]) + number
	}
	return free, nil
}

// Device returns the device with the token, and records that it was seen.
func (g *Gate) Device(ctx context.Context, session string) (Device, error) {
	if !plausible(session) {
		return Device{}, ErrUnknown
	}
	devices, err := g.devices(ctx, `WHERE hash = ?`, hashOf(session))
	if err != nil {
		return Device{}, err
	}
	if len(devices) == 0 {
		return Device{}, ErrUnknown
	}
	d, now := devices[0], g.now()
	switch {
	case d.Revoked:
		return Device{}, ErrRevoked
	case !now.Before(d.Expires):
		return Device{}, ErrExpired
	case now.Sub(d.Seen) >= notice:
		d.Seen, d.Expires = moment(now.UnixMilli()), moment(now.Add(Life).UnixMilli())
		err = g.store.Write(ctx, func(tx *sql.Tx) error {
			_, err := tx.Exec(`UPDATE devices SET seen = ?, expires = ? WHERE id = ? AND revoked IS NULL`, d.Seen.UnixMilli(), d.Expires.UnixMilli(), d.ID)
			return err
		})
		if errors.Is(err, logbook.ErrDamaged) { // what is there may still be read
			err = nil
		}
	}
	return d, err
}

// Devices returns all devices that ever joined, in order of joining.
func (g *Gate) Devices(ctx context.Context) ([]Device, error) {
	return g.devices(ctx, `ORDER BY joined, id`)
}

func (g *Gate) devices(ctx context.Context, which string, args ...any) ([]Device, error) {
	rows, err := g.store.DB().QueryContext(ctx, `SELECT id, role, name, joined, seen, expires, revoked IS NOT NULL FROM devices `+which, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	devices := []Device{}
	for rows.Next() {
		var d Device
		var joined, seen, expires int64
		if err := rows.Scan(&d.ID, &d.Role, &d.Name, &joined, &seen, &expires, &d.Revoked); err != nil {
			return nil, err
		}
		d.Joined, d.Seen, d.Expires = moment(joined), moment(seen), moment(expires)
		devices = append(devices, d)
	}
	return devices, rows.Err()
}

// Invites returns all links that were ever made, in order of making.
func (g *Gate) Invites(ctx context.Context) ([]Invite, error) {
	rows, err := g.store.DB().QueryContext(ctx, `SELECT id, role, name, made, expires, used IS NOT NULL, revoked IS NOT NULL FROM invites ORDER BY made, id`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	invites := []Invite{}
	for rows.Next() {
		var i Invite
		var made, expires int64
		if err := rows.Scan(&i.ID, &i.Role, &i.Name, &made, &expires, &i.Used, &i.Revoked); err != nil {
			return nil, err
		}
		i.Made, i.Expires = moment(made), moment(expires)
		invites = append(invites, i)
	}
	return invites, rows.Err()
}

// RevokeInvite revokes a link. Revoking a used one changes nothing: the device
// is revoked separately. The error is fs.ErrNotExist where there is no such
// link.
func (g *Gate) RevokeInvite(ctx context.Context, id string) error {
	return g.revoke(ctx, `UPDATE invites SET revoked = ifnull(revoked, ?) WHERE id = ?`, id)
}

// RevokeDevice ends a device's access, from its next request on: one that was lost,
// or one that leaves. The error is fs.ErrNotExist where there is no such device.
func (g *Gate) RevokeDevice(ctx context.Context, id string) error {
	return g.revoke(ctx, `UPDATE devices SET revoked = ifnull(revoked, ?) WHERE id = ?`, id)
}

func (g *Gate) revoke(ctx context.Context, query, id string) error {
	return g.store.Write(ctx, func(tx *sql.Tx) error {
		res, err := tx.Exec(query, g.now().UnixMilli(), id)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n > 0 {
			return err
		}
		return fmt.Errorf("%.40q: %w", id, fs.ErrNotExist)
	})
}

// goodName returns the name of a device without spaces around it.
func goodName(name string) (string, error) {
	name = strings.TrimSpace(name)
	if n := utf8.RuneCountInString(name); n > maxName || !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl) {
		return "", fmt.Errorf("found the name %.40q; want at most %d letters of plain text", name, maxName)
	}
	return name, nil
}

// moment returns the time of milliseconds since 1970.
func moment(ms int64) time.Time { return time.UnixMilli(ms).UTC() }
