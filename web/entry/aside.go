package entry

import (
	"encoding/json"
	"slices"
)

// Aside is the body of an entry by which the lead sets something of a job aside,
// or takes it up again. Nothing is deleted: what is set aside is left out when
// the job is put together.
type Aside struct {
	Device string `json:"device"` // everything that this device sent; "": the job as a whole
	Aside  bool   `json:"aside"`  // false: taken up again
}

// Asides is what is set aside of a job: the ids of devices, "" for the whole job.
type Asides map[string]bool

// Whole reports whether the whole job is set aside.
func (a Asides) Whole() bool { return a[""] }

// Of reports whether what a device sent is set aside. What no device is known to
// have sent never is.
func (a Asides) Of(device string) bool { return device != "" && a[device] }

// Devices returns the ids of the devices whose entries are set aside, in order.
func (a Asides) Devices() []string {
	devices := []string{}
	for device := range a {
		if a.Of(device) {
			devices = append(devices, device)
		}
	}
	slices.Sort(devices)
	return devices
}

// SetAside returns what is set aside, by job. The entry that arrived last decides.
func SetAside(entries []Entry) map[string]Asides {
	var own []Entry
	for _, e := range entries {
		if e.Kind == KindAside {
			own = append(own, e)
		}
	}
	slices.SortFunc(own, compareArrival)
	all := map[string]Asides{}
	for _, e := range own {
		var a Aside
		if json.Unmarshal(e.Body, &a) != nil {
			continue
		}
		if all[e.Job] == nil {
			all[e.Job] = Asides{}
		}
		all[e.Job][a.Device] = a.Aside
	}
	return all
}
