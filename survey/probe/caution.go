package probe

import (
	"fmt"
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// protect is the depth in metres from which 29 CFR 1926.652(a)(1) asks for
// protection against cave-in: 5 ft.
const protect = 1.524

// cautions adds what to mind at a hole that is set out by the given ties.
func (b *belief) cautions(h *Proposal, f setout.Fix) {
	say := func(format string, args ...any) { h.Cautions = append(h.Cautions, fmt.Sprintf(format, args...)) }
	unit := b.loc.Job.Settings.Unit
	deep := math.Max(h.StopDepth, h.Depth.Mean)
	switch entry := b.loc.Job.Settings.EntryDepth; {
	case deep >= protect:
		say("May go past 5 ft: nobody in the cut without protection against cave-in (29 CFR 1926.652).")
	case deep >= entry:
		say("May go past %s: a way out within 25 ft, nobody in an unprotected cut (29 CFR 1926.651).", geo.FormatDepth(entry, unit))
	}
	if h.Slot() {
		say("A slot %s long, on to %s. Cut it across in thin lifts; the first gravel, pipe or lid ends it: log what was met where, and the clean stretch as an empty hole every 2 ft. A bucket tears what it meets.",
			geo.FormatLength(h.To.Dist(h.At), unit), farEnd(h, unit))
	}
	for i := range b.Ground.Outs {
		k := &b.Ground.Outs[i]
		d := min(k.Distance(h.At), k.Distance(h.To), k.Distance(h.At.Lerp(h.To, 0.5))) - k.Margin
		if d >= 2 || k.Kind != asbuilt.Utility && k.Kind != asbuilt.NoDig {
			continue
		}
		say("The clearance of %s is within %s: dig by hand.", k.Part, geo.FormatLength(math.Max(d, 0.01), unit))
		if k.Assumed {
			say("The sketch gives %s no clearance; %s is kept, a common tolerance zone. Local law decides.", k.Part, geo.FormatLength(practice.ToleranceZone, unit))
		}
	}
	b.surroundings(h.At, say)
	switch {
	case len(h.Ties) < 2:
		say("There are not two landmarks to set this hole out from by tape.")
	case f.Crossing.Degrees() < setout.Flat:
		say("The tapes cross at %.0f°: a small error in one moves the hole much; use the third tape.", f.Crossing.Degrees())
	}
	if len(f.Blocked) > 0 {
		say("A building stands in the way of the tape from %s: no two landmarks have a clear line to this hole. Set a stake first that sees both.", strings.Join(f.Blocked, " and "))
	}
	if h.Side != "" {
		say("It lies %s.", h.Side)
	}
}

// farEnd says where the far end of a slot lies: by its first two tapes.
func farEnd(h *Proposal, u geo.Unit) string {
	if len(h.ToTies) < 2 {
		return "a place that two tapes do not fix"
	}
	a, b := h.ToTies[0], h.ToTies[1]
	return fmt.Sprintf("%s from %s and %s from %s, %s", geo.FormatLength(a.Distance, u), a.From, geo.FormatLength(b.Distance, u), b.From, h.ToSide)
}

// surroundings says what lies about a hole that is no clearance.
func (b *belief) surroundings(at geo.Vec, say func(string, ...any)) {
	for i := range b.loc.Outlines {
		o := &b.loc.Outlines[i]
		for _, s := range o.Now {
			outline := geo.Outline{Vertices: s.Vertices, Closed: s.Form == asbuilt.Polygon}
			switch d := outline.Distance(at); {
			case o.Kind == asbuilt.Driveway && d == 0:
				say("Under the driveway %s.", o.Part)
			case o.Kind == asbuilt.Well && d < 10:
				say("Near the well %s: keep its ground clean.", o.Part)
			}
		}
	}
}

// cautions returns those of the whole job.
func cautions(loc *locate.Location) []string {
	all := []string{
		"Have utilities located and marked before any hole or rod: in the US call 811, elsewhere the local one-call service. Private lines, this system too, are usually not marked. Dig by hand near a mark.",
		"Never enter a tank, box, pit or trench to look or fetch: septic air kills without warning, and smell stops warning first.",
		"Old tanks, lids and cesspools can collapse: keep people and machines off until found and checked; fence open holes.",
		"Sewage carries disease: gloves and eye protection, wash, no flames at openings.",
		"Places and depths are estimates, not a survey; each depth may be wrong by more than its interval. Local code and licensed practice decide.",
	}
	if loc.Fit != nil && loc.Fit.Doubtful != "" {
		all = append([]string{"Do not dig by this plan as it stands: " + loc.Fit.Doubtful + "."}, all...)
	}
	return all
}
