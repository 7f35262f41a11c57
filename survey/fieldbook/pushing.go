package fieldbook

import (
	"encoding/json"
	"maps"
	"slices"

	"asfound/survey"
)

// pushings reads what the crew has to push through a pipe: members of tools beside
// what it digs with. What is no object of objects, tools has reported.
func (d *settings) pushings(raw json.RawMessage) (all []survey.Pushing) {
	var members map[string]json.RawMessage
	if json.Unmarshal(raw, &members) != nil {
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		p, ok := survey.PushingNamed(name)
		var change map[string]json.RawMessage
		if !ok || json.Unmarshal(members[name], &change) != nil || change == nil {
			continue
		}
		for _, k := range slices.Sorted(maps.Keys(change)) {
			d.pushing(&p, k, change[k])
		}
		all = append(all, p)
	}
	return all
}

// pushing reads one member of what is pushed.
func (d *settings) pushing(p *survey.Pushing, member string, raw json.RawMessage) {
	place := "tools." + p.Name + "." + member
	var v float64
	to, known := map[string]*float64{"open": &p.Open, "minutes": &p.Minutes, "reaches": &p.Reaches}[member]
	bad := json.Unmarshal(raw, &v) != nil || v < 0
	switch {
	case !known:
		d.addf(place, raw, "open, minutes (minutes) or reaches (a chance)")
	case member == "reaches" && (bad || v > 1):
		d.addf(place, raw, "the chance that it gets to what is sought, 0 to 1")
	case bad || v > 1e4:
		d.addf(place, raw, "minutes, 0 or more")
	default:
		*to = v
	}
}
