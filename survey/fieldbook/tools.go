package fieldbook

import (
	"encoding/json"
	"maps"
	"slices"

	"asfound/survey"
)

// tools reads what the crew has: an object of names of the table
// survey.Tools, each with what differs from the table.
func (d *settings) tools(raw json.RawMessage) (all []survey.Tool) {
	if raw == nil || string(raw) == "null" {
		return nil
	}
	var names []string
	for _, t := range survey.Tools {
		names = append(names, t.Name)
	}
	for _, p := range survey.Pushings {
		names = append(names, p.Name)
	}
	var members map[string]json.RawMessage
	if json.Unmarshal(raw, &members) != nil || members == nil {
		d.addf("tools", raw, `an object of what the crew has, such as {"shovel": {}, "excavator": {"start": 10}}; tools are %v`, names)
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		t, ok := survey.ToolNamed(name)
		_, pushed := survey.PushingNamed(name)
		var change map[string]json.RawMessage
		if !ok && !pushed || json.Unmarshal(members[name], &change) != nil || change == nil {
			d.addf("tools."+name, members[name], `an object, {} for the usual; tools are %v`, names)
			continue
		}
		if pushed { // pushings reads it
			continue
		}
		for _, k := range slices.Sorted(maps.Keys(change)) {
			d.tool(&t, name, k, change[k])
		}
		all = append(all, t)
	}
	return all
}

// tool reads one member of a tool.
func (d *settings) tool(t *survey.Tool, name, member string, raw json.RawMessage) {
	place := "tools." + name + "." + member
	minutes := map[string]*float64{"start": &t.Start, "per_metre": &t.PerMetre, "per_square": &t.PerSquare, "slot": &t.Slot}
	switch to := minutes[member]; {
	case to != nil:
		var v float64
		if json.Unmarshal(raw, &v) != nil || v < 0 || v > 1e4 {
			d.addf(place, raw, "minutes, 0 or more")
			return
		}
		*to = v
	case member == "radius":
		d.length(place, raw, d.unit, 0.005, 5, &t.Radius)
	case member == "limit":
		d.length(place, raw, d.unit, 0.1, 30, &t.Limit)
	default:
		d.addf(place, raw, "start, per_metre, per_square, slot (minutes), radius or limit")
	}
}

// follow reads what it takes the crew to follow a pipe or trench, as far as that
// differs from what is usual.
func (d *settings) follow(raw json.RawMessage, f survey.Following) *survey.Following {
	if raw == nil || string(raw) == "null" {
		return nil
	}
	var members map[string]json.RawMessage
	if json.Unmarshal(raw, &members) != nil || members == nil {
		d.addf("follow", raw, `an object such as {"pipe": 5, "trench": 3, "loses": 0.15}: minutes a metre, and the chance to lose it on 5 m; {"loses": 1} follows nothing`)
		return nil
	}
	for _, k := range slices.Sorted(maps.Keys(members)) {
		var v float64
		to, known := map[string]*float64{"pipe": &f.Pipe, "trench": &f.Trench, "loses": &f.Loses}[k]
		bad := json.Unmarshal(members[k], &v) != nil || v < 0
		switch {
		case !known:
			d.addf("follow."+k, members[k], "pipe, trench (minutes a metre) or loses (a chance)")
		case k == "loses" && (bad || v > 1):
			d.addf("follow.loses", members[k], "the chance to lose a line on 5 m, 0 to 1; 1: nothing is followed")
		case bad || v > 1e4:
			d.addf("follow."+k, members[k], "minutes a metre, 0 or more")
		default:
			*to = v
		}
	}
	return &f
}
