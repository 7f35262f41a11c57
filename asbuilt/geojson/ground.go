package geojson

import (
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
)

// metresPerDegree is the length of a degree of latitude, near enough to tell
// one lot from two countries.
const metresPerDegree = 111_000

// ground brings a sketch in wgs84 from degrees to metres about its origin, the
// mean of all vertices.
func (d *decoder) ground() {
	first, ok := d.firstVertex()
	if !ok {
		return
	}
	var lons, lats []float64
	var mean asbuilt.Position
	for _, v := range d.vertices() {
		// On either side of the 180th meridian the longitudes are brought to
		// one side (RFC 7946, 3.1.9 lets positions lie on both).
		lons = append(lons, first.X+turn(v.X-first.X))
		lats = append(lats, v.Y)
	}
	for i := range lons {
		mean = mean.Add(asbuilt.Position{X: lons[i], Y: lats[i]}.Scale(1 / float64(len(lons))))
	}
	slices.Sort(lons)
	slices.Sort(lats)
	if !d.together(asbuilt.Position{X: lons[len(lons)/2], Y: lats[len(lats)/2]}) {
		return
	}
	origin, err := geodesy.New(turn(mean.X), mean.Y)
	if err != nil {
		d.addf("features", at(mean), "positions whose mean is on the earth: %v", err)
		return
	}
	d.sketch.Origin = &origin
	site := geodesy.NewSite(origin, 0)
	for p, v := range d.vertices() {
		q, err := geodesy.New(turn(v.X), v.Y)
		w := site.Vec(q)
		if err != nil || !w.Finite() { // cannot be, once they lie together
			d.place = p.Place()
			d.addf("geometry.coordinates", at(*v), "a position near the others")
			d.place = ""
			continue
		}
		*v = asbuilt.Position(w)
	}
}

// together finds the parts that lie further than MaxExtent from the middle of
// all.
func (d *decoder) together(middle asbuilt.Position) bool {
	good := true
	last := 0
	for p, v := range d.vertices() {
		away := apart(middle, *v)
		if away <= MaxExtent || p.Feature == last {
			continue
		}
		good, last = false, p.Feature
		want := "positions of one lot: these lie %.0f km from the middle of the others"
		if apart(middle, asbuilt.Position{X: v.Y, Y: v.X}) <= MaxExtent {
			want += "; longitude and latitude look swapped"
		}
		d.place = p.Place()
		d.addf("geometry.coordinates", at(*v), want, away/1000)
		d.place = ""
	}
	return good
}

// apart returns the distance between two positions in degrees, in metres, as
// near as telling one lot from two countries needs.
func apart(a, b asbuilt.Position) float64 {
	c := math.Cos(geo.Degrees((a.Y + b.Y) / 2).Radians())
	return metresPerDegree * math.Hypot(turn(b.X-a.X)*c, b.Y-a.Y)
}

// turn brings a difference of longitudes in degrees into [−180, 180).
func turn(lon float64) float64 { return lon - 360*math.Floor((lon+180)/360) }

// degrees finds a sketch on paper whose coordinates look like longitude and
// latitude: all of them within a hundredth of a unit, far from 0.
func (d *decoder) degrees() {
	first, ok := d.firstVertex()
	if !ok {
		return
	}
	reach := 0.0
	for _, v := range d.vertices() {
		reach = max(reach, v.Dist(first))
	}
	if reach > 0 && reach < 0.01 && math.Abs(first.X) <= 180 && math.Abs(first.Y) <= 90 && math.Hypot(first.X, first.Y) > 1 {
		d.addf("sketch.plane", fmt.Sprintf("%s, and no two positions further apart than %.2g %s", d.sketch.Plane, reach, d.sketch.Unit),
			"wgs84, if these are longitude and latitude, such as %s", at(first))
	}
}

// vertices ranges over all vertices of the sketch.
func (d *decoder) vertices() func(yield func(*asbuilt.Part, *asbuilt.Position) bool) {
	return func(yield func(*asbuilt.Part, *asbuilt.Position) bool) {
		for i := range d.sketch.Parts {
			p := &d.sketch.Parts[i]
			for _, sh := range p.Shapes {
				for k := range sh.Vertices {
					if !yield(p, &sh.Vertices[k]) {
						return
					}
				}
			}
		}
	}
}

func (d *decoder) firstVertex() (asbuilt.Position, bool) {
	for _, v := range d.vertices() {
		return *v, true
	}
	return asbuilt.Position{}, false
}
