package simulate

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// Frame returns the motion that brings the truth into the frame of a fit: none
// where that is on the earth, else the one that lays the landmarks on those of
// the fit as well as a turn and a shift can.
func (s *Site) Frame(f *survey.Fit, p *survey.Posterior) func(geo.Vec) geo.Vec {
	if f.Frame.Kind == survey.Geodetic {
		origin, _ := geodesy.New(lotLon, lotLat)
		lot := geodesy.NewSite(origin, 0)
		return func(v geo.Vec) geo.Vec { return f.Frame.Site.Vec(lot.LonLat(v)) }
	}
	var from, to []geo.Vec
	for _, name := range []string{"A", "B", "C", "D"} {
		k := survey.SpotName{Part: name, Spot: asbuilt.Center}
		g, ok := p.Spot(k)
		if ok && p.Refers(name) {
			from, to = append(from, s.Truth[k]), append(to, g.At)
		}
	}
	var fc, tc geo.Vec
	for i := range from {
		fc, tc = fc.Add(from[i].Scale(1/float64(len(from)))), tc.Add(to[i].Scale(1/float64(len(from))))
	}
	var dot, cross float64
	for i := range from {
		a, b := from[i].Sub(fc), to[i].Sub(tc)
		dot, cross = dot+a.Dot(b), cross+a.Cross(b)
	}
	turn := geo.Radians(math.Atan2(cross, dot))
	return func(v geo.Vec) geo.Vec { return v.Sub(fc).Rotate(turn).Add(tc) }
}

func (s *Site) inside(f *survey.Fit, p *survey.Posterior, name survey.SpotName, v geo.Vec, g survey.Gauss) bool {
	d := s.Frame(f, p)(v).Sub(g.At)
	sin, cos := math.Sincos(g.Ellipse.Bearing.Radians())
	a, b := d.Dot(geo.Vec{X: sin, Y: cos})/g.Ellipse.SemiMajor, d.Dot(geo.Vec{X: cos, Y: -sin})/g.Ellipse.SemiMinor
	return a*a+b*b <= 1
}
