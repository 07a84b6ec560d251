package account

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"sync"

	"golang.org/x/crypto/argon2"
)

// cost is what one hash takes: memory in KiB, passes over it, threads.
type cost struct {
	memory, passes uint32
	threads        uint8
}

// today is OWASP's least for Argon2id (Password Storage Cheat Sheet): 19 MiB,
// two passes, one thread. A hash of another cost is made anew at the next
// sign-in.
var today = cost{memory: 19456, passes: 2, threads: 1}

const (
	saltLength = 16
	keyLength  = 32
	// atOnce bounds the hashes computed at a time: 4 x 19 MiB is what a flood
	// of sign-ins can take of the memory.
	atOnce = 4
)

var slots = make(chan struct{}, atOnce)

// errFormat is in the chain when a stored hash is not one of ours.
var errFormat = errors.New("account: not a PHC string of Argon2id")

// Hash returns the password as a PHC string with a fresh salt. It waits for its
// turn, at most until ctx ends.
func Hash(ctx context.Context, password string) (string, error) {
	salt := make([]byte, saltLength)
	rand.Read(salt) // never fails
	key, err := derive(ctx, password, salt, today, keyLength)
	if err != nil {
		return "", err
	}
	return phc(today, salt, key), nil
}

func phc(c cost, salt, key []byte) string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, c.memory, c.passes, c.threads,
		base64.RawStdEncoding.EncodeToString(salt), base64.RawStdEncoding.EncodeToString(key))
}

func derive(ctx context.Context, password string, salt []byte, c cost, length uint32) ([]byte, error) {
	select {
	case slots <- struct{}{}:
		defer func() { <-slots }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return argon2.IDKey([]byte(password), salt, c.passes, c.memory, c.threads, length), nil
}

// dummy stands in for the hash of an account that is not there.
var dummy = sync.OnceValues(func() (string, error) { return Hash(context.Background(), "nobody has this password") })

// Match reports whether the password is that of the stored hash, and whether
// the hash should be made anew because the cost has risen. With stored "" it
// takes as long and says no, so that the time does not tell which names exist.
func Match(ctx context.Context, stored, password string) (ok, stale bool, err error) {
	there := stored != ""
	if !there {
		if stored, err = dummy(); err != nil {
			return false, false, err
		}
	}
	c, salt, key, err := parse(stored)
	if err != nil {
		return false, false, err
	}
	if len(password) > MaxPassword { // no need to hash what can never have been set
		password, there = "", false
	}
	got, err := derive(ctx, password, salt, c, uint32(len(key)))
	if err != nil {
		return false, false, err
	}
	same := subtle.ConstantTimeCompare(got, key) == 1
	return same && there, same && there && c != today, nil
}

// parse takes a PHC string apart. Costs beyond reason are refused, so that a
// damaged row cannot eat the memory.
func parse(s string) (c cost, salt, key []byte, err error) {
	parts := strings.Split(s, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return c, nil, nil, errFormat
	}
	if n, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &c.memory, &c.passes, &c.threads); err != nil || n != 3 {
		return c, nil, nil, errFormat
	}
	salt, errSalt := base64.RawStdEncoding.DecodeString(parts[4])
	key, errKey := base64.RawStdEncoding.DecodeString(parts[5])
	if errSalt != nil || errKey != nil || len(salt) < 8 || len(key) < 16 || len(key) > 64 ||
		c.memory < 8 || c.memory > 1<<20 || c.passes < 1 || c.passes > 20 || c.threads < 1 || c.threads > 16 {
		return c, nil, nil, errFormat
	}
	return c, salt, key, nil
}
