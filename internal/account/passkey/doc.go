// Package passkey lets somebody sign in with a passkey: a key pair that their
// phone, computer or security key keeps, of which the club holds the public
// half. It follows Web Authentication (W3C, Level 3); the reading and checking
// of what a browser sends is that of github.com/go-webauthn/webauthn.
//
// It knows no clock and no database: the caller keeps the question between the
// two halves of a ceremony, sees that it is answered once and in time, and
// stores keys. Every key is wanted discoverable (no name is typed) and with its
// owner verified (finger, face or PIN), so that it stands for two factors.
package passkey
