package access

import (
	"context"
	"database/sql"
	"time"
)

// Deed is what people do to the logbook itself.
type Deed string

// The deeds.
const (
	Invited  Deed = "invited"   // made a link
	Joined   Deed = "joined"    // with a link
	Refused  Deed = "refused"   // was not let in, or not let do something
	Revoked  Deed = "revoked"   // a link or a device
	Left     Deed = "left"      // revoked itself
	Exported Deed = "exported"  // took the list of acts, or a job as a folder
	BackedUp Deed = "backed up" // took a copy of the logbook
)

// Act is one thing that somebody did to the logbook itself. It is kept for good
// and never changed.
type Act struct {
	Seq     int64     `json:"seq"`
	At      time.Time `json:"at"` // by the clock of the server
	Act     Deed      `json:"act"`
	Device  string    `json:"device"`  // id of who did it, "" where it has not joined
	Name    string    `json:"name"`    // of the device
	Address string    `json:"address"` // that the request came from
	About   string    `json:"about"`   // the name, role, job or request that it was about
}

// Record keeps what a device did, or somebody whose device has not joined.
func (g *Gate) Record(ctx context.Context, d Device, address string, act Deed, about string) error {
	return g.store.Write(ctx, func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT INTO acts (at, act, device, name, address, about) VALUES (?, ?, ?, ?, ?, ?)`,
			g.now().UnixMilli(), act, d.ID, d.Name, address, about)
		return err
	})
}

// Acts returns at most so many acts from before number seq (0: from the last
// one), the latest first.
func (g *Gate) Acts(ctx context.Context, seq int64, limit int) ([]Act, error) {
	rows, err := g.store.DB().QueryContext(ctx, `SELECT seq, at, act, device, name, address, about FROM acts
		WHERE ?1 = 0 OR seq < ?1 ORDER BY seq DESC LIMIT ?2`, seq, limit)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	acts := []Act{}
	for rows.Next() {
		var a Act
		var at int64
		if err := rows.Scan(&a.Seq, &at, &a.Act, &a.Device, &a.Name, &a.Address, &a.About); err != nil {
			return nil, err
		}
		a.At = moment(at)
		acts = append(acts, a)
	}
	return acts, rows.Err()
}
