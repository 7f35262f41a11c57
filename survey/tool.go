package survey

import "asfound/asbuilt/practice"

// Tool is what a crew digs or probes with. A hole of depth d metres takes
// Start + PerMetre·d + PerSquare·d² minutes.
type Tool struct {
	Name      string
	Radius    float64 // metres, of the hole; for an excavator half the width of its bucket
	Start     float64 // minutes a hole: moving, setting out, sod
	PerMetre  float64 // minutes per metre of depth
	PerSquare float64 // minutes per square metre of depth
	Limit     float64 // metres: no deeper than this
	Notices   float64 // chance of noticing a part that it passes over, relative to an open hole
	Opens     bool    // it exposes what it meets; else a shovel has to follow
	Slot      float64 // minutes per metre of a slot at a metre of depth, in proportion to depth; 0: it digs no slots
	Stabs     bool    // it opens nothing: it is pushed down in grids of stabs
	Layout    float64 // minutes to lay out a grid of stabs
	What      string  // for people
}

// Tools is the one table of tools and their costs. All of it is common
// practice or judgement; no published source. Bringing a tool to the lot is not
// counted: a listed tool is on the lot.
var Tools = []Tool{
	{"rod", practice.RodHole, 0.7, 1, 0.5, 1.2, practice.RodHits, false, 0, true, 5, "probe rod, 3/8 in: grids of stabs feel gravel, a pipe or a lid, and stones, and expose nothing"},
	{"auger", 0.05, 2, 8, 4, 1.8, 0.95, false, 0, false, 0, "hand auger, 3 to 4 in"},
	{"shovel", 0.15, 4, 15, 20, 1.5, 1, true, 0, false, 0, "hole dug by hand, about 1 ft across"},
	{"excavator", 0.2, 4, 3, 1, 2.5, 1, true, 3, false, 0, "small excavator with a bucket of 16 in: holes, and slots across the trenches"},
}

// ToolNamed returns a tool of the table.
func ToolNamed(name string) (t Tool, ok bool) {
	for _, t = range Tools {
		if t.Name == name {
			return t, true
		}
	}
	return Tool{}, false
}

// Minutes returns how long a hole of the given depth in metres takes.
func (t Tool) Minutes(depth float64) float64 {
	return t.Start + t.PerMetre*depth + t.PerSquare*depth*depth
}

// Crew returns the tools that the job's crew digs with: those of its settings, else a
// shovel that digs the crew's usual hole; and its probe rod, nil where it has none.
func (s Settings) Crew() (tools []Tool, rod *Tool) {
	for i := range s.Tools {
		if s.Tools[i].Stabs {
			rod = &s.Tools[i]
		} else {
			tools = append(tools, s.Tools[i])
		}
	}
	if len(tools) > 0 {
		return tools, rod
	}
	t, _ := ToolNamed("shovel")
	t.Radius = s.Hole.Radius
	t.Limit = 0
	return []Tool{t}, rod
}
