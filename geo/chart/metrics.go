package chart

import "encoding/binary"

// widthsOf returns the width of every character of a TrueType font at size 1. It
// reads as much of the format as that takes, of fonts that are compiled in: the
// tables head, hhea, hmtx, and in cmap the subtable of Unicode in format 4
// (OpenType specification 1.9). A library that reads whole fonts would be a fiftieth
// of the engine that a phone loads; the tests compare with one.
func widthsOf(ttf []byte) map[rune]float64 {
	at := func(i int) int { return int(binary.BigEndian.Uint16(ttf[i:])) }
	offset := func(i int) int { return int(binary.BigEndian.Uint32(ttf[i:])) }
	table := map[string]int{}
	for i := range at(4) {
		record := 12 + 16*i
		table[string(ttf[record:record+4])] = offset(record + 8)
	}
	perEm, advances := float64(at(table["head"]+18)), at(table["hhea"]+34)
	widths := map[rune]float64{}
	cmap := table["cmap"]
	for i := range at(cmap + 2) {
		record := cmap + 4 + 8*i
		sub := cmap + offset(record+4)
		if at(record) != 3 || at(record+2) != 1 || at(sub) != 4 { // Windows, Unicode; segments
			continue
		}
		twice := at(sub + 6) // of the number of segments
		ends, starts := sub+14, sub+16+twice
		for s := 0; s < twice; s += 2 {
			delta, far := at(starts+twice+s), starts+2*twice+s
			for c := at(starts + s); c <= at(ends+s); c++ {
				glyph := c
				if at(far) != 0 {
					glyph = at(far + at(far) + 2*(c-at(starts+s)))
				}
				if at(far) == 0 || glyph != 0 {
					glyph = (glyph + delta) & 0xFFFF
				}
				if glyph != 0 {
					widths[rune(c)] = float64(at(table["hmtx"]+4*min(glyph, advances-1))) / perEm
				}
			}
		}
	}
	return widths
}
