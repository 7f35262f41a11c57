package web

import (
	"net/http"
	"slices"
	"time"

	"asfound/web/access"
	"asfound/web/entry"
)

// Session is who a device is.
type Session struct {
	Name       string      `json:"name"`
	Role       access.Role `json:"role"`
	ServerTime time.Time   `json:"server_time"` // for phones whose clock is off
	// The store of the server is damaged: what is sent is not kept there.
	Damaged bool `json:"damaged,omitempty"`
	// Bytes of the largest file that is accepted.
	MaxFile int64 `json:"max_file"`
}

// Join is a device's request to join.
type Join struct {
	// What follows #join= in the link.
	Token string `json:"token"`
	// How the device calls itself; empty: as it was invited.
	Name string `json:"name,omitempty"`
}

// join lets a device in.
func (c *call) join() error {
	var q Join
	if err := c.read(&q); err != nil {
		return err
	}
	d, session, err := c.Gate.Join(c.Context(), q.Token, q.Name)
	if err != nil {
		return err
	}
	c.device = d
	if err := c.record(access.Joined, string(d.Role)); err != nil {
		return err
	}
	// The session that the browser had ends: nobody could leave with it any more.
	if old, err := c.who(); err == nil {
		if err := c.end(old); err != nil && c.Report != nil {
			c.Report(err)
		}
	}
	c.setSession(session)
	return c.session()
}

// end ends the session of a device that leaves.
func (c *call) end(d access.Device) error {
	if err := c.Gate.RevokeDevice(c.Context(), d.ID); err != nil {
		return err
	}
	return c.recordOf(d, access.Left, "")
}

func (c *call) session() error {
	return c.answer(Session{c.device.Name, c.device.Role, c.Now().UTC(), c.Store.Damage() != nil, entry.MaxFile})
}

func (c *call) leave() error {
	if err := c.end(c.device); err != nil {
		return err
	}
	c.setSession("")
	c.w.WriteHeader(http.StatusNoContent)
	return nil
}

// Invitation is a link that was just made. Its URL is shown only this once.
type Invitation struct {
	access.Invite
	URL string `json:"url"`
	QR  string `json:"qr"` // an SVG picture of the URL
}

// life is how long a link works by default.
const life = 24 * time.Hour

// NewInvite asks for a link.
type NewInvite struct {
	Role access.Role `json:"role"`
	// Of the device.
	Name string `json:"name,omitempty"`
	// For which it works, 24 if left out, 168 at most.
	Hours float64 `json:"hours,omitempty" jsonschema:"exclusiveMinimum=0,maximum=168"`
}

func (c *call) invite() error {
	var q NewInvite
	if err := c.read(&q); err != nil {
		return err
	}
	if !q.Role.Known() {
		return refuse(http.StatusBadRequest, "role %.40q; want lead, tech or office", q.Role)
	}
	hours := time.Duration(q.Hours * float64(time.Hour))
	switch {
	case q.Hours == 0:
		hours = life
	case !(q.Hours > 0) || q.Hours > access.MaxInvite.Hours():
		return refuse(http.StatusBadRequest, "hours %g; want more than 0, at most %g", q.Hours, access.MaxInvite.Hours())
	}
	i, token, err := c.Gate.Invite(c.Context(), q.Role, q.Name, hours)
	if err != nil {
		return err
	}
	if err := c.record(access.Invited, i.Name+", "+string(i.Role)); err != nil {
		return err
	}
	url := c.origin() + "/#join=" + token
	picture, err := picture(url)
	if err != nil {
		return err
	}
	return write(c.w, http.StatusCreated, Invitation{i, url, picture})
}

// origin is the address of the site.
func (c *call) origin() string {
	switch {
	case c.Origin != "":
		return c.Origin
	case c.Secure:
		return "https://" + c.Host
	}
	return "http://" + c.Host
}

func (c *call) invites() error {
	list, err := c.Gate.Invites(c.Context())
	if err != nil {
		return err
	}
	return c.answer(append([]access.Invite{}, list...))
}

func (c *call) revokeInvite() error {
	id := c.PathValue("id")
	if err := c.Gate.RevokeInvite(c.Context(), id); err != nil {
		return err
	}
	list, err := c.Gate.Invites(c.Context())
	if err != nil {
		return err
	}
	i := slices.IndexFunc(list, func(i access.Invite) bool { return i.ID == id })
	if err := c.record(access.Revoked, list[i].Name+", "+string(list[i].Role)); err != nil {
		return err
	}
	c.w.WriteHeader(http.StatusNoContent)
	return nil
}

func (c *call) devices() error {
	list, err := c.Gate.Devices(c.Context())
	if err != nil {
		return err
	}
	return c.answer(append([]access.Device{}, list...))
}

func (c *call) revokeDevice() error {
	id := c.PathValue("id")
	if err := c.Gate.RevokeDevice(c.Context(), id); err != nil {
		return err
	}
	list, err := c.Gate.Devices(c.Context())
	if err != nil {
		return err
	}
	i := slices.IndexFunc(list, func(d access.Device) bool { return d.ID == id })
	if err := c.record(access.Revoked, list[i].Name+", "+string(list[i].Role)); err != nil {
		return err
	}
	c.w.WriteHeader(http.StatusNoContent)
	return nil
}
