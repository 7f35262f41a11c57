package api

import (
	"context"
	"fmt"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey/answer"
)

// maxPlaces are the most places of one request: the corners of some pictures.
const maxPlaces = 1000

// LonLatRequest asks where places of a coordinate reference system lie on the earth, such
// as the corners of a picture. CRS is its EPSG code, such as EPSG:2264.
type LonLatRequest struct {
	CRS string `json:"crs"`
	// East before north, in the unit of the system.
	Places [][2]float64 `json:"places"`
}

func lonLat(_ context.Context, _ *Memory, q *LonLatRequest) (*answer.LonLats, error) {
	c, err := geodesy.ParseCRS(q.CRS)
	if err != nil {
		return nil, refuse("%v", err)
	}
	if len(q.Places) > maxPlaces {
		return nil, refuse("%d places; at most %d are read", len(q.Places), maxPlaces)
	}
	out := &answer.LonLats{Name: c.Name, Datum: c.Datum, Places: make([]answer.LonLat, len(q.Places))}
	for i, at := range q.Places {
		p, err := c.Inverse(geo.Vec{X: at[0], Y: at[1]})
		if err != nil {
			return nil, refuse("%v", err)
		}
		if !c.Covers(p) {
			return nil, refuse("%s lies outside the area of EPSG:%d %s: another system, or its axes the other way round?", where(p), c.Code, c.Name)
		}
		out.Places[i] = answer.LonLat{Lon: answer.Degrees(p.Lon.Degrees()), Lat: answer.Degrees(p.Lat.Degrees())}
	}
	return out, nil
}

// where names a position in degrees.
func where(p geodesy.LonLat) string {
	return fmt.Sprintf("longitude %.4f, latitude %.4f", p.Lon.Degrees(), p.Lat.Degrees())
}
