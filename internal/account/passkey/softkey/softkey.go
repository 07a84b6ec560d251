// Package softkey is an authenticator in memory, for tests: it answers a
// browser's questions about passkeys as Web Authentication (W3C, Level 3,
// sections 6.1, 6.5 and 8.7) lays them out. The bytes are put together here by
// hand, so that the library under test is not asked about itself.
package softkey

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
)

// Flags of authenticator data.
const (
	present  = 1 << 0
	verified = 1 << 2
	attested = 1 << 6
)

// Key is one passkey in an authenticator. A test may change what it says.
type Key struct {
	Origin   string // as the browser reports it
	Party    string // host that the key signs for
	ID       []byte
	Handle   []byte
	Counter  uint32
	Verified bool // whether the owner showed a finger, a face or a PIN
	private  *ecdsa.PrivateKey
}

// New returns a key for an origin with no counter yet.
func New(origin, party string) *Key {
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		panic(err) // no randomness: no test
	}
	k := &Key{Origin: origin, Party: party, ID: make([]byte, 16), Verified: true, private: private}
	rand.Read(k.ID)
	return k
}

func b64(b []byte) string { return base64.RawURLEncoding.EncodeToString(b) }

// question is what of the options an authenticator needs.
type question struct {
	PublicKey struct {
		Challenge string `json:"challenge"`
		User      struct {
			ID string `json:"id"`
		} `json:"user"`
	} `json:"publicKey"`
}

// Make answers the options for a new key.
func (k *Key) Make(options []byte) ([]byte, error) {
	var q question
	if err := json.Unmarshal(options, &q); err != nil {
		return nil, err
	}
	var err error
	if k.Handle, err = base64.RawURLEncoding.DecodeString(q.PublicKey.User.ID); err != nil {
		return nil, err
	}
	data := k.data(attested)
	data = append(data, make([]byte, 16)...) // no make of authenticator
	data = binary.BigEndian.AppendUint16(data, uint16(len(k.ID)))
	data = append(data, k.ID...)
	data = append(data, k.cose()...)
	// {"fmt": "none", "attStmt": {}, "authData": data}
	object := append([]byte("\xa3\x63fmt\x64none\x67attStmt\xa0\x68authData\x59"), byte(len(data)>>8), byte(len(data)))
	object = append(object, data...)
	return json.Marshal(map[string]any{
		"id": b64(k.ID), "rawId": b64(k.ID), "type": "public-key",
		"response": map[string]any{"clientDataJSON": b64(k.client("webauthn.create", q)), "attestationObject": b64(object)},
	})
}

// Sign answers the options of a sign-in.
func (k *Key) Sign(options []byte) ([]byte, error) {
	var q question
	if err := json.Unmarshal(options, &q); err != nil {
		return nil, err
	}
	client, data := k.client("webauthn.get", q), k.data(0)
	hash := sha256.Sum256(client)
	sum := sha256.Sum256(append(append([]byte{}, data...), hash[:]...))
	signature, err := ecdsa.SignASN1(rand.Reader, k.private, sum[:])
	if err != nil {
		return nil, err
	}
	return json.Marshal(map[string]any{
		"id": b64(k.ID), "rawId": b64(k.ID), "type": "public-key",
		"response": map[string]any{
			"clientDataJSON": b64(client), "authenticatorData": b64(data), "signature": b64(signature), "userHandle": b64(k.Handle),
		},
	})
}

func (k *Key) client(kind string, q question) []byte {
	b, err := json.Marshal(map[string]any{"type": kind, "challenge": q.PublicKey.Challenge, "origin": k.Origin, "crossOrigin": false})
	if err != nil {
		panic(err) // strings always marshal
	}
	return b
}

func (k *Key) data(flags byte) []byte {
	party := sha256.Sum256([]byte(k.Party))
	flags |= present
	if k.Verified {
		flags |= verified
	}
	return binary.BigEndian.AppendUint32(append(party[:], flags), k.Counter)
}

// cose is the public key: {1: 2 (EC2), 3: -7 (ES256), -1: 1 (P-256), -2: x, -3: y}.
func (k *Key) cose() []byte {
	point, err := k.private.PublicKey.Bytes() // 4, x, y
	if err != nil {
		panic(err) // the key was made above
	}
	out := append([]byte("\xa5\x01\x02\x03\x26\x20\x01\x21\x58\x20"), point[1:33]...)
	return append(append(out, "\x22\x58\x20"...), point[33:]...)
}
