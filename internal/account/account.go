package account

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"duskboard/internal/fault"
)

// Role is what somebody may do. Each role may all that the ones before it may.
type Role string

// Roles, least first.
const (
	Viewer      Role = "viewer"      // looks at plans
	Crew        Role = "crew"        // works on a night: ticks, counts, answers
	Coordinator Role = "coordinator" // plans, and sees contact data and accounts
)

// Roles lists every role, least first.
var Roles = []Role{Viewer, Crew, Coordinator}

// rank is the place of a role in Roles; -1 for an unknown one.
func (r Role) rank() int {
	for i, known := range Roles {
		if r == known {
			return i
		}
	}
	return -1
}

// Known reports whether there is such a role.
func (r Role) Known() bool { return r.rank() >= 0 }

// Covers reports whether r may do what needs the role least. An unknown role
// may nothing, and nobody may what needs an unknown one.
func (r Role) Covers(least Role) bool { return least.Known() && r.rank() >= least.rank() }

// Account is one person who may sign in.
type Account struct {
	ID       int64
	Version  int64
	Name     string // typed at sign-in; no two differ by case alone
	Role     Role
	Password string // PHC string; "" when none was set yet
	Epoch    int64  // sessions begun under another epoch are over
	Disabled bool
	Made     time.Time // UTC
	Seen     time.Time // last sign-in, UTC; zero when never
}

// Limits of what is typed. Length counts more than kinds of characters (ASVS
// 5.0, 6.2.1 wants 8 and recommends 15); the upper limit only bounds the work
// of hashing.
const (
	MaxName     = 80
	MinPassword = 12
	MaxPassword = 256
)

// CleanName trims a name and joins its white space; a fault says why it cannot
// be used.
func CleanName(s string) (string, error) {
	name := strings.Join(strings.Fields(s), " ")
	switch {
	case name == "":
		return "", fault.New(fault.Invalid, "Give the account a name.")
	case !utf8.ValidString(name) || strings.ContainsFunc(name, invisible):
		return "", fault.New(fault.Invalid, "Use letters that can be seen.")
	case utf8.RuneCountInString(name) > MaxName:
		return "", fault.New(fault.Invalid, "At most %d letters.", MaxName)
	}
	return name, nil
}

// invisible finds control and format characters, among them those that turn
// the direction of writing: two names must not look the same and differ.
func invisible(r rune) bool { return unicode.Is(unicode.C, r) }

// CheckPassword says why a new password is too easy to guess; nil when it is
// not. Any characters are fine, also spaces.
func CheckPassword(password, name string) error {
	n := utf8.RuneCountInString(password)
	lower := strings.ToLower(password)
	different := map[rune]bool{}
	for _, r := range lower {
		different[r] = true
	}
	switch {
	case n < MinPassword:
		return fault.New(fault.Invalid, "At least %d characters; a few words in a row are easy to keep.", MinPassword)
	case len(password) > MaxPassword:
		return fault.New(fault.Invalid, "At most %d characters.", MaxPassword)
	case len(different) < 5:
		return fault.New(fault.Invalid, "That is the same few characters again and again.")
	case sequence(lower):
		return fault.New(fault.Invalid, "That is a row of neighbouring characters.")
	case name != "" && utf8.RuneCountInString(strings.ReplaceAll(lower, strings.ToLower(name), "")) < MinPassword/2:
		return fault.New(fault.Invalid, "That is little more than the name.")
	}
	return nil
}

// sequence reports that a password runs up or down a keyboard or the alphabet:
// each character lies beside the one before it in one of the rows.
func sequence(lower string) bool {
	for _, row := range []string{"0123456789", "abcdefghijklmnopqrstuvwxyz", "qwertyuiopasdfghjklzxcvbnm", "qwertzuiopasdfghjklyxcvbnm"} {
		if run := row + row + row; strings.Contains(run, lower) || strings.Contains(reversed(run), lower) {
			return true
		}
	}
	return false
}

func reversed(s string) string {
	b := []byte(s)
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	return string(b)
}
