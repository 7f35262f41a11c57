package web

import (
	"time"

	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/entry"
)

// Public is the action that a stranger may do.
const Public access.Action = ""

// Rate names a rate limit.
type Rate string

// The rates.
const (
	Often   Rate = "often"   // reads
	Joining Rate = "joining" // by address: guesses at tokens
	Logging Rate = "logging" // entries and files
	Working Rate = "working" // what the engine works out
	Seldom  Rate = "seldom"  // imports and copies
)

// rates are the limits by name: burst requests at once, then one every so
// often. A phone that comes back into coverage sends some hundred entries in a
// few requests; a table of readings requests one thing at a time.
var rates = map[Rate]struct {
	every time.Duration
	burst int
}{
	Often:   {20 * time.Millisecond, 300},
	Joining: {6 * time.Second, 10},
	Logging: {50 * time.Millisecond, 100},
	Working: {200 * time.Millisecond, 30},
	Seldom:  {10 * time.Second, 10},
}

// askers is how many devices or addresses are distinguished.
const askers = 10_000

// Route is one endpoint.
type Route struct {
	Method string
	Path   string        // as of net/http.ServeMux
	Action access.Action // who may use it: the roles that may do this; Public: everybody
	Rate   Rate
	Takes  string // media type of the body; "": none
	Limit  int64  // bytes of the body
	Says   string // what it is, for the documentation

	do func(*call) error
}

// Media types of bodies. Any is whatever a file may be.
const (
	JSON = "application/json"
	Zip  = "application/zip"
	Any  = "*/*"
)

// MaxFolder is the most bytes of a packed job folder.
const MaxFolder = 128 << 20

// Routes is the one table of all endpoints and who may use them.
var Routes = []Route{
	{"GET", "/{$}", Public, Often, "", 0, "the page", (*call).page},
	{"GET", "/static/{name...}", Public, Often, "", 0, "a file of the page", (*call).static},
	{"GET", "/sw.js", Public, Often, "", 0, "the service worker", (*call).serviceWorker},
	{"GET", "/manifest.webmanifest", Public, Often, "", 0, "the web app manifest", (*call).manifest},
	{"GET", "/api/openapi.json", Public, Often, "", 0, "this description", (*call).openapi},

	{"POST", "/api/session", Public, Joining, JSON, 4 << 10, "joins with the token of a one-time link", (*call).join},
	{"GET", "/api/session", access.Read, Often, "", 0, "who this device is", (*call).session},
	{"DELETE", "/api/session", access.Read, Often, "", 0, "leaves: the device is forgotten", (*call).leave},

	{"GET", "/api/jobs", access.Read, Often, "", 0, "the list of jobs", (*call).jobs},
	{"POST", "/api/jobs", access.Import, Seldom, Zip, MaxFolder, "imports a packed job folder", (*call).importJob},
	{"GET", "/api/jobs/{job}/folder.zip", access.Read, Working, "", 0, "a job as a packed folder", (*call).folder},
	{"GET", "/api/jobs/{job}/papers/{name}", access.Read, Working, "", 0, "a document of a job: map, dig plan, record, tables", (*call).paper},
	{"GET", "/api/jobs/{job}/files/{sha256}", access.Read, Often, "", 0, "a file of a job", (*call).file},
	{"PUT", "/api/jobs/{job}/files/{sha256}", access.Log, Logging, Any, entry.MaxFile, "keeps the bytes of a file of a job", (*call).putFile},

	{"GET", "/api/entries", access.Read, Often, "", 0, "entries in order of arrival", (*call).entries},
	{"POST", "/api/entries", access.Log, Logging, JSON, entry.MaxBody + 1<<20, "logs entries", (*call).log},
	{"POST", "/api/stage/{name}", access.Read, Working, JSON, api.MaxRequest, "asks the engine, for browsers that do not have it", (*call).stage},

	{"GET", "/api/invites", access.Manage, Often, "", 0, "the links made for devices", (*call).invites},
	{"POST", "/api/invites", access.Manage, Logging, JSON, 4 << 10, "makes a one-time link for a device", (*call).invite},
	{"DELETE", "/api/invites/{id}", access.Manage, Often, "", 0, "revokes a link", (*call).revokeInvite},
	{"GET", "/api/devices", access.Manage, Often, "", 0, "the devices that joined", (*call).devices},
	{"DELETE", "/api/devices/{id}", access.Manage, Often, "", 0, "revokes a device", (*call).revokeDevice},
	{"GET", "/api/acts", access.Manage, Often, "", 0, "who invited, joined, was refused, revoked, exported and backed up, the latest first", (*call).acts},
	{"GET", "/api/acts.csv", access.Manage, Seldom, "", 0, "the same as a table, all of it", (*call).actsTable},
	{"GET", "/api/backup", access.Manage, Seldom, "", 0, "a copy of the whole logbook, an SQLite file", (*call).backup},
}

// Roles returns the roles that may use the route; all for a public one.
func (r Route) Roles() (roles []access.Role) {
	for _, role := range []access.Role{access.Lead, access.Tech, access.Office} {
		if r.Action == Public || role.May(r.Action) {
			roles = append(roles, role)
		}
	}
	return roles
}
