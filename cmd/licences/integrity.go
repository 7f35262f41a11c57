package main

import (
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"strings"
)

// hexadecimal returns the SHA-512 of a member integrity of a lock file (W3C
// Subresource Integrity).
func hexadecimal(integrity string) (string, error) {
	text, ok := strings.CutPrefix(integrity, "sha512-")
	b, err := base64.StdEncoding.DecodeString(text)
	if !ok || err != nil || len(b) != 64 {
		return "", fmt.Errorf("integrity %q; want a SHA-512", integrity)
	}
	return hex.EncodeToString(b), nil
}
