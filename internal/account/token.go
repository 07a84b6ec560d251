package account

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
)

// NewToken returns a token of 128 random bits, fit for an address.
func NewToken() string {
	b := make([]byte, 16)
	rand.Read(b) // never fails
	return base64.RawURLEncoding.EncodeToString(b)
}

// TokenHash is what is kept of a token: SHA-256, hexadecimal. A token is random
// over its whole length, so a fast hash without salt is enough.
func TokenHash(token string) string {
	h := sha256.Sum256([]byte(token))
	return hex.EncodeToString(h[:])
}
