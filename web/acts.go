package web

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"net/http"
	"strings"
	"time"

	"asfound/web/access"
	"asfound/web/logbook"
)

// record keeps what the device of the request did. It is called before the
// answer: what is not kept was not done, as far as anybody is told. A damaged
// store keeps nothing, and is then read the more.
func (c *call) record(act access.Deed, about string) error { return c.recordOf(c.device, act, about) }

// recordOf is record for another device.
func (c *call) recordOf(d access.Device, act access.Deed, about string) error {
	err := c.Gate.Record(c.Context(), d, c.address(), act, about)
	if errors.Is(err, logbook.ErrDamaged) {
		return nil
	}
	return err
}

// recordRefusal keeps that a request was refused by who asked. Somebody who asks
// again and again fills some lines, and not the disk.
func (c *call) recordRefusal(route *Route, err error) {
	status, says := statusOf(err)
	known := status == http.StatusForbidden || errors.Is(err, access.ErrUsed) || errors.Is(err, access.ErrExpired) || errors.Is(err, access.ErrRevoked)
	if !known && (status != http.StatusUnauthorized || route.Path != "/api/session" || route.Method != http.MethodPost) {
		return
	}
	who := c.address()
	if c.device.ID != "" {
		who = c.device.ID
	}
	if ok, _ := c.refusals.Allow(who, c.Now()); !ok {
		return
	}
	if err := c.record(access.Refused, fmt.Sprintf("%s %s: %s", route.Method, route.Path, says.Says)); err != nil && c.Report != nil {
		c.Report(err)
	}
}

// How often refusals of one asker are kept, and of how many askers apart.
const (
	refusalEvery  = 10 * time.Minute
	refusalBurst  = 3
	refusalAskers = 100
)

// mostActs is how many acts the page shows.
const mostActs = 200

func (c *call) acts() error {
	list, err := c.Gate.Acts(c.Context(), 0, mostActs)
	if err != nil {
		return err
	}
	return c.answer(list)
}

// actsTable sends all acts as a table.
func (c *call) actsTable() error {
	if err := c.record(access.Exported, "acts.csv"); err != nil {
		return err
	}
	list, err := c.Gate.Acts(c.Context(), 0, math.MaxInt)
	if err != nil {
		return err
	}
	c.attach("text/csv; charset=utf-8", "acts.csv")
	w := csv.NewWriter(c.w)
	_ = w.Write([]string{"number", "time", "act", "device", "name", "address", "about"}) // an error shows in Flush
	for _, a := range list {
		_ = w.Write([]string{fmt.Sprint(a.Seq), a.At.Format(time.RFC3339), string(a.Act), a.Device, asText(a.Name), asText(a.Address), asText(a.About)})
	}
	w.Flush() // the client is gone: nobody to report to
	return nil
}

// asText returns a cell that no spreadsheet takes for a formula, whoever wrote it
// (OWASP, CSV Injection: these first characters, and an apostrophe before them).
func asText(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
