package entry

import (
	"math/big"
	"strings"
	"time"
)

// crockford are the digits of Crockford's base 32: no I, L, O and U, which are
// misread (https://www.crockford.com/base32.html).
const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// idLength is that of an id: 26 digits of five bits hold 128 bits.
const idLength = 26

// NewID returns an id of the form of a ULID (https://github.com/ulid/spec): 48
// bits of milliseconds since 1970 and 80 random bits, which the caller
// supplies. Ids made later sort later. Times before 1970 count as 1970.
func NewID(at time.Time, random [10]byte) string {
	var b [16]byte
	ms := uint64(max(0, at.UnixMilli()))
	for i := range 6 {
		b[i] = byte(ms >> (40 - 8*i))
	}
	copy(b[6:], random[:])
	v := new(big.Int).SetBytes(b[:])
	id, five := make([]byte, idLength), big.NewInt(31)
	for i := range id {
		id[idLength-1-i] = crockford[new(big.Int).And(v, five).Int64()]
		v.Rsh(v, 5)
	}
	return string(id)
}

// ValidID reports whether s has the form of an id: 26 upper-case digits of
// Crockford's base 32, the first not over 7, so that it is at most 128 bits.
func ValidID(s string) bool {
	if len(s) != idLength || s[0] > '7' {
		return false
	}
	for i := range len(s) {
		if strings.IndexByte(crockford, s[i]) < 0 {
			return false
		}
	}
	return true
}
