package access

// Role is what a device may do.
type Role string

// The roles.
const (
	Lead   Role = "lead"
	Tech   Role = "tech"
	Office Role = "office"
)

// Action is something that is allowed to some roles only.
type Action string

// The actions.
const (
	Read   Action = "read"   // jobs, entries, files, documents
	Log    Action = "log"    // entries and files
	Import Action = "import" // whole job folders
	Settle Action = "settle" // change the settings of a job that has some: what is sought, the rules of the crew
	Redraw Action = "redraw" // replace the sketch of a job that has one
	Manage Action = "manage" // set devices and jobs aside; invites, devices, copies of the logbook
)

// may says which role may do what.
var may = map[Role]map[Action]bool{
	Lead:   {Read: true, Log: true, Import: true, Settle: true, Redraw: true, Manage: true},
	Tech:   {Read: true, Log: true},
	Office: {Read: true, Log: true, Import: true, Redraw: true},
}

// Known reports whether there is such a role.
func (r Role) Known() bool { return may[r] != nil }

// May reports whether the role may do something. An unknown role may do
// nothing, and nobody may do an unknown action.
func (r Role) May(a Action) bool { return may[r][a] }
