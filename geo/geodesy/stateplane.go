package geodesy

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"asfound/geo"
)

// stateplane.csv holds the zones of the State Plane Coordinate System of 1983;
// stateplane.sql, which made it, says from what.
//
//go:embed stateplane.csv
var statePlaneTable string

// statePlaneCodes maps a code to its row of the table and its realization of
// NAD83. The table is split once, when first asked for.
var statePlaneCodes = sync.OnceValue(func() map[int]statePlaneRow {
	codes := map[int]statePlaneRow{}
	for i, line := range strings.Split(strings.TrimSpace(statePlaneTable), "\n") {
		row := strings.Split(strings.TrimSpace(line), ",")
		if i == 0 || len(row) != 18 {
			continue
		}
		for j, datum := range []string{"NAD83", "NAD83(HARN)", "NAD83(NSRS2007)", "NAD83(2011)"} {
			if code, err := strconv.Atoi(row[10+j]); err == nil {
				codes[code] = statePlaneRow{row, datum}
			}
		}
	}
	return codes
})

type statePlaneRow struct {
	field []string
	datum string
}

// statePlane returns the zone of an EPSG code; ok is false where there is none.
func statePlane(code int) (c CRS, ok bool) {
	row, ok := statePlaneCodes()[code]
	if !ok {
		return CRS{}, false
	}
	number := func(i int) float64 {
		v, _ := strconv.ParseFloat(row.field[i], 64)
		return v
	}
	angle := func(i int) float64 {
		if row.field[2] == "9110" {
			return radians(sexagesimal(row.field[i]))
		}
		return radians(number(i))
	}
	unit, suffix := geo.Metre, ""
	switch row.field[9] {
	case "9002":
		unit, suffix = geo.Foot, " (ft)"
	case "9003":
		unit, suffix = geo.SurveyFoot, " (ftUS)"
	}
	per, _ := unit.Metres()
	fe, fn := number(7)*per, number(8)*per

	c = CRS{
		Code: code, Name: fmt.Sprintf("%s / %s%s", row.datum, strings.Trim(row.field[0], `"`), suffix), Datum: row.datum,
		Unit: unit, Area: box(number(14), number(15), number(16), number(17)), per: per,
	}
	if row.field[1] == "9807" {
		c.plane = newTransverseMercator(GRS80, angle(4), angle(3), number(5), fe, fn)
	} else {
		c.plane = newLambert2(GRS80, angle(4), angle(3), angle(5), angle(6), fe, fn)
	}
	return c, true
}

// sexagesimal returns the degrees of text in the EPSG's unit 9110: degrees,
// a point, two digits of minutes, two of seconds and decimals of a second, so
// that 37.3 is 37°30′. Text that is no number gives 0.
func sexagesimal(text string) float64 {
	whole, rest, _ := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	rest += "0000"
	d, _ := strconv.ParseFloat(whole, 64)
	m, _ := strconv.ParseFloat(rest[:2], 64)
	s, _ := strconv.ParseFloat(rest[2:4]+"."+rest[4:], 64)
	v := d + m/60 + s/3600
	if strings.HasPrefix(text, "-") {
		v = -v
	}
	return v
}
