package fieldbook

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// DecodeNMEA reads the GGA and GST sentences of an NMEA 0183 file, of any
// talker, as one satellite fix of point: the mean of all epochs with a fix.
// Other sentences are passed over. Every sentence with a wrong checksum is a
// problem. The result is empty where no epoch had a fix.
func DecodeNMEA(r io.Reader, file, point string) ([]survey.Reading, asbuilt.Problems) {
	var problems asbuilt.Problems
	text, ok := readText(r, file, &problems)
	if !ok {
		return nil, problems
	}
	var m epochs
	lines := bufio.NewScanner(bytes.NewReader(text))
	lines.Buffer(make([]byte, 0, 4096), 1<<20)
	row, sentences := 0, 0
	for lines.Scan() {
		row++
		s := strings.TrimSpace(lines.Text())
		if s == "" {
			continue
		}
		if len(problems) > maxProblems {
			problems.Addf(file, "", "", "more problems than are listed", "these fixed first")
			break
		}
		place := fmt.Sprintf("line %d", row)
		fields, found, want := sentence(s)
		if want != "" {
			problems.Addf(file, place, "", found, "%s", want)
			continue
		}
		sentences++
		switch kind := fields[0]; {
		case len(kind) == 5 && strings.HasSuffix(kind, "GGA"):
			found, want = m.gga(fields)
		case len(kind) == 5 && strings.HasSuffix(kind, "GST"):
			found, want = m.gst(fields)
		}
		if want != "" {
			problems.Addf(file, place, fields[0], found, "%s", want)
		}
	}
	if lines.Err() != nil {
		problems.Addf(file, fmt.Sprintf("line %d", row+1), "", "a line of more than 1 MB", "NMEA 0183 sentences, a line each")
	}
	if sentences == 0 && len(problems) == 0 {
		problems.Addf(file, "", "", "no NMEA 0183 sentence", "sentences such as $GPGGA,…*47")
	}
	if sentences > 0 && m.sentences == 0 && len(problems) == 0 {
		problems.Addf(file, "", "", "no GGA sentence", "positions: the receiver has to write GGA sentences")
	}
	if len(m.fixes) == 0 || len(problems) > 0 {
		return nil, problems
	}
	reading, err := m.reading(file, point)
	if err != nil {
		problems.Addf(file, "", "", err.Error(), "fixes of one point")
		return nil, problems
	}
	return []survey.Reading{reading}, problems
}

// sentence checks a sentence and returns its fields, the first being talker
// and kind. The checksum is the exclusive or of the bytes between $ and *.
func sentence(s string) (fields []string, found, want string) {
	if !strings.HasPrefix(s, "$") && !strings.HasPrefix(s, "!") {
		return nil, show(s), "a sentence that begins with $"
	}
	body, sum, ok := strings.Cut(s[1:], "*")
	if !ok {
		return nil, show(s), "a checksum after * at the end"
	}
	stated, err := strconv.ParseUint(strings.TrimSpace(sum), 16, 8)
	if err != nil || len(strings.TrimSpace(sum)) != 2 {
		return nil, show("*" + sum), "two hexadecimal digits after *"
	}
	var x byte
	for i := range len(body) {
		x ^= body[i]
	}
	if byte(stated) != x {
		return nil, fmt.Sprintf("checksum %s", strings.TrimSpace(sum)), fmt.Sprintf("%02X, which its characters give: the sentence was damaged", x)
	}
	return strings.Split(body, ","), "", ""
}

// epochs sums up the epochs of a file.
type epochs struct {
	sentences      int              // GGA, with a fix or without
	fixes          []geodesy.LonLat // of the epochs with a fix
	spread         float64          // largest radius in metres at 95 % of any GGA
	gstN           int              // epochs with GST
	varLat, varLon float64          // sums of squared metres
}

// gga takes a GGA sentence: time, ddmm.mmmm, N/S, dddmm.mmmm, E/W, quality,
// satellites, HDOP.
func (m *epochs) gga(f []string) (found, want string) {
	if len(f) < 9 {
		return fmt.Sprintf("%d fields", len(f)-1), "at least 8 fields after the name"
	}
	quality, err := strconv.Atoi(f[6])
	if err != nil {
		return show(f[6]), "a fix quality, 0 to 8, in field 6"
	}
	switch quality {
	case 1, 2, 3, 4, 5: // satellites alone, differential, precise, kinematic fixed and float
	case 0, 6, 7, 8: // no fix, dead reckoning, typed in, simulated: not from satellites
		m.sentences++
		return "", ""
	default:
		return show(f[6]), "a fix quality, 0 to 8, in field 6"
	}
	m.sentences++
	lat, ok := degrees(f[2], 2, f[3], "N", "S", 90)
	if !ok {
		return show(f[2] + "," + f[3]), "a latitude ddmm.mmmm,N or S"
	}
	lon, ok := degrees(f[4], 3, f[5], "E", "W", 180)
	if !ok {
		return show(f[4] + "," + f[5]), "a longitude dddmm.mmmm,E or W"
	}
	hdop := 1.0
	if f[8] != "" {
		if hdop, ok = number(f[8]); !ok || hdop < 0 || hdop > 1000 {
			return show(f[8]), "a horizontal dilution of precision in field 8"
		}
	}
	// Metres at 95 % for HDOP 1. Real-time kinematic and differential figures
	// are common practice, no published source.
	base := openSky
	switch quality {
	case 2:
		base = 2
	case 4:
		base = 0.05
	case 5:
		base = 0.5
	}
	p, err := geodesy.New(lon, lat)
	if err != nil {
		return show(strings.Join(f[2:6], ",")), err.Error()
	}
	m.fixes = append(m.fixes, p)
	m.spread = max(m.spread, base*max(1, hdop))
	return "", ""
}

// degrees reads ddmm.mmmm with so many digits of degrees and a hemisphere.
func degrees(s string, digits int, side, plus, minus string, most float64) (v float64, ok bool) {
	if len(s) < digits+2 {
		return 0, false
	}
	for i := range digits {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
	}
	d, okD := number(s[:digits])
	m, okM := number(s[digits:])
	v = d + m/60
	if !okD || !okM || m < 0 || m >= 60 || v > most {
		return 0, false
	}
	switch side {
	case plus:
		return v, true
	case minus:
		return -v, true
	}
	return 0, false
}

// gst takes a GST sentence: time, rms, semi-major, semi-minor, orientation, and
// the standard deviations of latitude, longitude and altitude in metres.
func (m *epochs) gst(f []string) (found, want string) {
	if len(f) < 9 {
		return fmt.Sprintf("%d fields", len(f)-1), "8 fields after the name"
	}
	if f[6] == "" || f[7] == "" { // no fix at this epoch
		return "", ""
	}
	lat, ok := number(f[6])
	lon, ok2 := number(f[7])
	if !ok || !ok2 || lat <= 0 || lon <= 0 || lat > 1e5 || lon > 1e5 {
		return show(f[6] + "," + f[7]), "standard deviations of latitude and longitude in metres in fields 6 and 7"
	}
	m.gstN++
	m.varLat, m.varLon = m.varLat+lat*lat, m.varLon+lon*lon
	return "", ""
}

// oneFix is the distance in metres from the first epoch beyond which a file is
// not a fix of one point: the receiver was moved.
const oneFix = 100

// reading returns the mean of the epochs. Its accuracy is what the receiver
// states, or the radius about the mean that holds 95 % of the epochs where
// that is more.
func (m *epochs) reading(file, point string) (survey.Reading, error) {
	site := geodesy.NewSite(m.fixes[0], 0)
	var mean geo.Vec
	for _, p := range m.fixes {
		v := site.Vec(p)
		if !(v.Norm() <= oneFix) {
			return survey.Reading{}, fmt.Errorf("epochs %.0f m apart", v.Norm())
		}
		mean = mean.Add(v.Scale(1 / float64(len(m.fixes))))
	}
	away := make([]float64, 0, len(m.fixes))
	for _, p := range m.fixes {
		away = append(away, site.Vec(p).Dist(mean))
	}
	slices.Sort(away)
	scatter := away[(len(away)*95+99)/100-1]
	r := survey.Reading{ID: file, File: file, Row: 1, Kind: survey.GNSS, Point: point, Position: site.LonLat(mean), Accuracy: m.spread,
		Note: fmt.Sprintf("mean of %d epochs", len(m.fixes))}
	if m.gstN > 0 {
		g := float64(m.gstN)
		r.SigmaENU = [2]float64{math.Sqrt(m.varLon / g), math.Sqrt(m.varLat / g)}
		r.Accuracy = geo.Within95 * math.Sqrt((m.varLon+m.varLat)/(2*g))
	}
	if wider := scatter / r.Accuracy; wider > 1 {
		r.Accuracy = scatter
		r.SigmaENU[0], r.SigmaENU[1] = r.SigmaENU[0]*wider, r.SigmaENU[1]*wider
	}
	return r, nil
}
