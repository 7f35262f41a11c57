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
	var members map[string]json.RawMessage
	if json.Unmarshal(raw, &members) != nil || members == nil {
		d.addf("tools", raw, `an object of what the crew has, such as {"shovel": {}, "excavator": {"start": 10}}; tools are %v`, names)
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		t, ok := survey.ToolNamed(name)
		var change map[string]json.RawMessage
		if !ok || json.Unmarshal(members[name], &change) != nil || change == nil {
			d.addf("tools."+name, members[name], `an object, {} for the usual; tools are %v`, names)
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
