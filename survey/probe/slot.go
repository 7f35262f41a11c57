package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
)

const slotSites = 12 // draws that slots are tried on

// slotLengths are those that are tried, metres: to the next trench, over one,
// over two, where trenches lie 6 to 9 ft apart.
var slotLengths = [...]float64{1.5, 3, 5}

// slots returns the slots worth a try: across the trenches, over what is sought
// and over each lateral's near end and middle, as some of the draws have them.
func (b *belief) slots(e effort) (all [][2]geo.Vec) {
	machine := false
	for i := range b.Tools {
		machine = machine || b.Tools[i].Slot > 0
	}
	if !machine {
		return nil
	}
	for k, i := range b.sample(min(slotSites, e.sites)) {
		var across geo.Vec
		var over []geo.Vec
		for n := range b.Objects {
			o := &b.Objects[n]
			if u, ok := o.Along(i); ok && o.Kind == asbuilt.Lateral {
				across = u.Right()
				if v, ok := o.Place(i, 0.5*float64(k%2)); ok {
					over = append(over, v)
				}
			}
			if o.Sought {
				if v, ok := o.Place(i, 0.5); ok {
					over = append(over, v)
				}
			}
		}
		if across == (geo.Vec{}) {
			continue
		}
		long := slotLengths[k%len(slotLengths)]
		for _, v := range over {
			if v.Finite() && max(math.Abs(v.X), math.Abs(v.Y)) < asbuilt.MaxCoordinate {
				from, to := round(v.Sub(across.Scale(long/2))), round(v.Add(across.Scale(long/2)))
				all = append(all, [2]geo.Vec{from, to.Sub(from)})
			}
		}
	}
	return all
}
