package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

const (
	nearClearance = 2.0    // metres from a clearance within which a hole is dug by hand. Judgement, no published source
	nearWell      = 10.0   // metres from a well within which the ground is kept clean. Judgement, no published source
	slotStep      = 0.6096 // metres, 2 ft: how often the clean stretch of a slot is logged as an empty hole. Judgement, no published source
)

// cautions adds what to watch for at a hole that is set out by the given ties.
func (b *belief) cautions(h *Proposal, f setout.Fix) {
	mind := func(c finding.Finding) { h.Cautions = append(h.Cautions, c) }
	deep := math.Max(h.StopDepth, h.Depth.Mean)
	if c, ok := practice.Deep(deep, b.loc.Job.Settings.EntryDepth); ok {
		mind(c)
	}
	if h.Slot() {
		mind(slotEnd(h))
		mind(finding.SlotCut.New(finding.Number("step", slotStep)))
	}
	for i := range b.Ground.Outs {
		k := &b.Ground.Outs[i]
		d := min(k.Distance(h.At), k.Distance(h.To), k.Distance(h.At.Lerp(h.To, 0.5))) - k.Margin
		if d >= nearClearance || k.Kind != asbuilt.Utility && k.Kind != asbuilt.NoDig {
			continue
		}
		mind(finding.ClearanceNear.New(finding.Parts(k.Part), finding.Number("distance", math.Max(d, 0.01))))
		if k.Assumed {
			mind(finding.ClearanceAssumed.New(finding.Parts(k.Part), finding.Number("kept", practice.ToleranceZone)))
		}
	}
	b.surroundings(h.At, mind)
	switch {
	case len(h.Ties) < 2:
		mind(finding.FewLandmarks.New())
	case f.Crossing.Degrees() < setout.Flat:
		mind(finding.FlatCrossing.New(finding.Number("crossing", f.Crossing.Degrees())))
	}
	if len(f.Blocked) > 0 {
		mind(finding.TapeBlocked.New(finding.Parts(f.Blocked...)))
	}
	if h.Side.Known() {
		mind(finding.OnSide.New(finding.About(h.Side.Finding())))
	}
}

// slotEnd says where the far end of a slot lies: by its first two tapes.
func slotEnd(h *Proposal) finding.Finding {
	long := finding.Number("long", h.To.Dist(h.At))
	if len(h.ToTies) < 2 {
		return finding.SlotEndUnfixed.New(long)
	}
	a, b := h.ToTies[0], h.ToTies[1]
	return finding.SlotEnd.New(long, finding.Parts(a.From, b.From), finding.Number("first", a.Distance), finding.Number("second", b.Distance),
		finding.About(h.ToSide.Finding()))
}

// surroundings says what lies around a hole, clearances aside.
func (b *belief) surroundings(at geo.Vec, mind func(finding.Finding)) {
	for i := range b.loc.Outlines {
		o := &b.loc.Outlines[i]
		for _, outline := range o.Now {
			switch d := outline.Distance(at); {
			case o.Kind == asbuilt.Driveway && d == 0:
				mind(finding.UnderDriveway.New(finding.Parts(o.Part)))
			case o.Kind == asbuilt.Well && d < nearWell:
				mind(finding.NearWell.New(finding.Parts(o.Part)))
			}
		}
	}
}

// cautions returns those of the whole job.
func cautions(loc *locate.Location) []finding.Finding {
	all := practice.Safety(loc.Job.Settings.EntryDepth)
	if loc.Fit != nil && loc.Fit.Doubtful != nil {
		all = append([]finding.Finding{finding.DoNotDig.New(finding.About(*loc.Fit.Doubtful))}, all...)
	}
	for _, r := range loc.Job.Live() {
		if r.Stopped == survey.StopUtility {
			all = append(all, practice.UtilityMet(r.Point, r.ID))
		}
	}
	return all
}
