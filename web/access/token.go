package access

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
)

// tokenBytes is 256 bits.
const tokenBytes = 32

// newToken returns a token and what is stored of it.
func newToken() (token string, hash []byte) {
	var b [tokenBytes]byte
	rand.Read(b[:]) // never fails: it ends the program where the system has no random numbers
	token = base64.RawURLEncoding.EncodeToString(b[:])
	return token, hashOf(token)
}

// hashOf returns what is stored of a token.
func hashOf(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

// plausible reports whether s has the form of a token, so that a long text
// from outside is not even hashed.
func plausible(s string) bool {
	return len(s) == base64.RawURLEncoding.EncodedLen(tokenBytes)
}
