package survey

import (
	"strings"

	"asfound/asbuilt"
)

// Drafting is what the finished jobs of a firm or a county say of how far their
// sheets err. Package learn makes it.
type Drafting struct{ Groups []DraftingGroup }

// DraftingGroup is what the finished jobs with one kind of sheet say.
type DraftingGroup struct {
	Trust asbuilt.Trust
	asbuilt.Learned
	Gain float64 // logarithm of how much likelier each job's readings are by what the others say than without it, summed over the jobs, less its standard error; not above 0: it is not used
}

// Of returns what is known of sheets like s: by its drafter, else by its decade,
// else by its trust; nil where nothing is, and of the sketch of a finished job, which
// says itself how well it knows each part.
func (d *Drafting) Of(s *asbuilt.Sketch) *asbuilt.Learned {
	if d == nil || s == nil || s.Known != nil {
		return nil
	}
	var all, decade *asbuilt.Learned
	for i := range d.Groups {
		g := &d.Groups[i]
		switch {
		case g.Gain <= 0 || g.Trust != s.Trust:
		case g.By != "":
			if SameDrafter(g.By, s.By) {
				return &g.Learned
			}
		case g.Decade == "":
			all = &g.Learned
		case g.Decade == s.Decade():
			decade = &g.Learned
		}
	}
	if decade != nil {
		return decade
	}
	return all
}

// SameDrafter reports whether two names of drafters are one, whatever their
// capitals and spaces.
func SameDrafter(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
