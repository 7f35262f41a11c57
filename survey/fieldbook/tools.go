package fieldbook

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"asfound/geo/spelling"
	"asfound/survey"
)

// named turns a list of names into an object of them with nothing that differs from
// the usual; anything else it leaves as it is.
func named(raw json.RawMessage) json.RawMessage {
	var names []string
	if json.Unmarshal(raw, &names) != nil || names == nil {
		return raw
	}
	members := map[string]struct{}{}
	for _, name := range names {
		members[name] = struct{}{}
	}
	out, err := json.Marshal(members)
	if err != nil {
		return raw
	}
	return out
}

// tools reads what the crew has: a list of names of the table survey.Tools, or an
// object of them, each with what differs from the table.
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
		d.addf("tools", raw, `a list of what the crew has, such as ["shovel", "rod"], or an object, such as {"shovel": {}, "excavator": {"start": 10}}; tools are %v`, names)
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		t, ok := survey.ToolNamed(name)
		_, pushed := survey.PushingNamed(name)
		if !ok && !pushed {
			d.addf("tools", json.RawMessage(strconv.Quote(name)), "%s", spelling.OneOf(name, names))
			continue
		}
		var change map[string]json.RawMessage
		if json.Unmarshal(members[name], &change) != nil || change == nil {
			d.addf("tools."+name, members[name], `an object, {} for the usual`)
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
	minutes := map[string]*float64{"start": &t.Start, "per_metre": &t.PerMetre, "per_square": &t.PerSquare, "slot": &t.Slot, "layout": &t.Layout}
	switch to := minutes[member]; {
	case member == "layout" && !t.Stabs:
		d.addf(place, raw, "nothing here: only a rod is used in grids")
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
		d.addf(place, raw, "start, per_metre, per_square, slot, layout (minutes), radius or limit")
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

// rod reads how far the crew can rely on its probe rod, as far as that differs from
// what is usual. Chances of 0 and 1 are refused: a rod that is always right would
// make one wrong stab proof.
func (d *settings) rod(raw json.RawMessage, r survey.Rodding) *survey.Rodding {
	if raw == nil || string(raw) == "null" {
		return nil
	}
	var members map[string]json.RawMessage
	if json.Unmarshal(raw, &members) != nil || members == nil {
		d.addf("rod", raw, `an object such as {"hits": 0.85, "stones": 0.02}: the chance that a stab over a part feels it, and that one elsewhere feels something hard`)
		return nil
	}
	for _, k := range slices.Sorted(maps.Keys(members)) {
		var v float64
		to, known := map[string]*float64{"hits": &r.Hits, "stones": &r.Stones}[k]
		switch {
		case !known:
			d.addf("rod."+k, members[k], "hits or stones (chances)")
		case json.Unmarshal(members[k], &v) != nil || v < 0.001 || v > 0.999:
			d.addf("rod."+k, members[k], "a chance between 0.001 and 0.999")
		default:
			*to = v
		}
	}
	if r.Stones >= r.Hits {
		d.addf("rod", raw, "hits above stones: else a contact would speak against a part")
		return nil
	}
	return &r
}
