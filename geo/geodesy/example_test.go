package geodesy_test

import (
	"fmt"

	"asfound/geo/geodesy"
)

func ExampleNewSite() {
	origin, _ := geodesy.New(-79.9, 37.2)
	p, _ := geodesy.New(-79.8995, 37.2004)
	site := geodesy.NewSite(origin, 600)
	v := site.Vec(p)
	fmt.Printf("%.3f m east, %.3f m north\n", v.X, v.Y)
	back := site.LonLat(v)
	fmt.Printf("%.6f, %.6f\n", back.Lon.Degrees(), back.Lat.Degrees())
	// Output:
	// 44.393 m east, 44.397 m north
	// -79.899500, 37.200400
}

// The same from PROJ 9.1.1: echo "35.8 -78.6" | cs2cs -f %.2f EPSG:4269 EPSG:2264
func ExampleByEPSG() {
	p, _ := geodesy.New(-78.6, 35.8)
	c, err := geodesy.ByEPSG(2264)
	if err != nil {
		fmt.Println(err)
		return
	}
	v := c.Forward(p)
	fmt.Printf("%s: %.2f, %.2f %s\n", c.Name, v.X, v.Y, c.Unit)
	// Output: NAD83 / North Carolina (ftUS): 2118612.84, 746335.52 us-ft
}
