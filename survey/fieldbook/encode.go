package fieldbook

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"asfound/geo"
	"asfound/survey"
)

// EncodeReadings writes a log. Lengths are written as they were read where
// that text carries its unit, else in metres with the unit, so that reading
// them back does not depend on the job.
func EncodeReadings(w io.Writer, readings []survey.Reading) error {
	c := csv.NewWriter(w)
	if err := c.Write(known); err != nil {
		return err
	}
	for i := range readings {
		row := EncodeRow(&readings[i])
		fields := make([]string, len(known))
		for k, name := range known {
			fields[k] = row[name]
		}
		if err := c.Write(fields); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// EncodeRow returns the cells of a reading by the names of their columns, as
// EncodeReadings writes them. Cells that it has nothing for are empty or missing.
func EncodeRow(r *survey.Reading) map[string]string {
	row := map[string]string{"id": r.ID, "kind": string(r.Kind), "point": r.Point, "from": r.From, "to": r.To, "target": r.Target,
		"spot": string(r.Spot), "feature": string(r.Feature), "stopped": string(r.Stopped), "by": r.By, "note": r.Note, "value": encodeLength(r.Value),
		"offset": encodeLength(r.Offset), "rise": encodeLength(r.Rise), "depth": encodeLength(r.Depth),
		"radius": encodeLength(r.Radius), "sigma": encodeLength(r.Sigma)}
	if !r.Time.IsZero() {
		row["time"] = r.Time.Format(time.RFC3339Nano)
	}
	if r.Runs != nil {
		row["runs"], row["facing"], row["flow"] = decimal(r.Runs.Degrees(), 9), r.Facing, string(r.Flow)
	}
	if r.Stabs > 0 {
		row["value"] = strconv.Itoa(r.Stabs)
	}
	switch r.Kind {
	case survey.Bearing:
		row["value"], row["north"] = decimal(r.Azimuth.Degrees(), 9), string(r.North)
		if r.SigmaA != nil {
			row["sigma"] = decimal(r.SigmaA.Degrees(), 9)
		}
	case survey.GNSS:
		row["lon"], row["lat"] = decimal(r.Position.Lon.Degrees(), 11), decimal(r.Position.Lat.Degrees(), 11)
		if a := r.Accuracy; a > 0 {
			row["accuracy"] = strconv.FormatFloat(a, 'g', -1, 64)
		}
	}
	return row
}

// decimal writes v to so many decimals, without trailing zeros.
func decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// encodeLength writes a length so that it reads back as the same one.
func encodeLength(l *geo.Length) string {
	if l == nil {
		return ""
	}
	if back, err := geo.ParseLength(l.Written, geo.Pixel); err == nil && back.Metres == l.Metres {
		return l.Written
	}
	if s := fmt.Sprintf("%s %s", l.Written, l.Unit); l.Written != "" {
		if back, err := geo.ParseLength(s, geo.Pixel); err == nil && back.Metres == l.Metres {
			return s
		}
	}
	return strconv.FormatFloat(l.Metres, 'f', -1, 64) + " m"
}
