// Package geodesy brings positions on the earth into planes and back: the WGS
// 84 ellipsoid, the local ground frame of a site, UTM, and projected systems
// by their EPSG code. Longitude and latitude are always a LonLat, plane
// coordinates always a geo.Vec of metres (or of the system's own unit where
// that is said).
package geodesy
