package passkey

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"net"
	"net/url"
	"strings"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"duskboard/internal/fault"
)

// MaxKeys is how many passkeys one account may have.
const MaxKeys = 20

// Key is one passkey of an account.
type Key struct {
	ID, AccountID int64
	Name          string    // what its owner calls it: "phone"
	Party         string    // host for which it was made; worth nothing elsewhere
	Handle        []byte    // random; names the account to the authenticator, the same for all its keys
	Credential    []byte    // by which the browser names it
	Record        []byte    // public key, counter and flags, as JSON
	Made, Used    time.Time // UTC; Used is zero when never
}

// Question is what one half of a ceremony leaves for the other: kept on the
// server, never given to the browser.
type Question []byte

// Party is the site that passkeys are made for and checked by.
type Party struct{ web *webauthn.WebAuthn }

// At returns the party of an origin, "https://stars.example:8443". Browsers have
// passkeys over TLS only, on this machine (localhost) without, and never for a
// bare address: those are fault.Invalid.
func At(origin string) (*Party, error) {
	u, err := url.Parse(origin)
	if err != nil || u.Host == "" || strings.Trim(u.Path, "/") != "" || u.RawQuery != "" || u.User != nil {
		return nil, fault.New(fault.Invalid, "An origin looks like https://stars.example, with nothing behind it.")
	}
	host := strings.ToLower(u.Hostname())
	switch {
	case net.ParseIP(host) != nil:
		return nil, fault.New(fault.Invalid, "Passkeys need a name: open the site by its name, not by a bare address.")
	case u.Scheme != "https" && (u.Scheme != "http" || host != "localhost" && !strings.HasSuffix(host, ".localhost")):
		return nil, fault.New(fault.Invalid, "Passkeys need https.")
	}
	web, err := webauthn.New(&webauthn.Config{
		RPID: host, RPDisplayName: "Duskboard", RPOrigins: []string{u.Scheme + "://" + strings.ToLower(u.Host)},
		AttestationPreference: protocol.PreferNoAttestation, // which make of key it is does not matter here
		AuthenticatorSelection: protocol.AuthenticatorSelection{
			ResidentKey: protocol.ResidentKeyRequirementRequired, UserVerification: protocol.VerificationRequired,
		},
	})
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "Passkeys cannot be had at %s.", origin)
	}
	return &Party{web}, nil
}

// Name is the host that keys of this party are for.
func (p *Party) Name() string { return p.web.Config.RPID }

// AskNew begins the making of a key for an account of that name with the keys
// it has. The options are JSON for the browser.
func (p *Party) AskNew(name string, have []Key) (options []byte, q Question, err error) {
	if len(have) >= MaxKeys {
		return nil, nil, fault.New(fault.Conflict, "An account has at most %d passkeys. Remove one first.", MaxKeys)
	}
	u := holder{name: name}
	if len(have) > 0 {
		u.handle = have[0].Handle
	} else {
		u.handle = make([]byte, 32)
		rand.Read(u.handle) // never fails
	}
	var known []protocol.CredentialDescriptor // a device that has one makes no second
	for _, k := range have {
		if k.Party == p.Name() {
			known = append(known, protocol.CredentialDescriptor{Type: protocol.PublicKeyCredentialType, CredentialID: k.Credential})
		}
	}
	creation, session, err := p.web.BeginRegistration(u, webauthn.WithExclusions(known))
	if err != nil {
		return nil, nil, fmt.Errorf("begin to make a passkey: %w", err)
	}
	return both(creation, session)
}

// Make checks the browser's answer to AskNew and returns the new key, without
// name and account.
func (p *Party) Make(q Question, answer []byte) (Key, error) {
	var session webauthn.SessionData
	if err := json.Unmarshal(q, &session); err != nil {
		return Key{}, fmt.Errorf("read the question: %w", err)
	}
	parsed, err := protocol.ParseCredentialCreationResponseBytes(answer)
	if err != nil {
		return Key{}, refused(err)
	}
	c, err := p.web.CreateCredential(holder{handle: session.UserID}, session, parsed)
	if err != nil {
		return Key{}, refused(err)
	}
	record, err := json.Marshal(c)
	if err != nil {
		return Key{}, fmt.Errorf("write the passkey: %w", err)
	}
	return Key{Party: p.Name(), Handle: session.UserID, Credential: c.ID, Record: record}, nil
}

// Ask begins a sign-in; whose it is shows with the answer.
func (p *Party) Ask() (options []byte, q Question, err error) {
	assertion, session, err := p.web.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return nil, nil, fmt.Errorf("begin to sign in with a passkey: %w", err)
	}
	return both(assertion, session)
}

// Check judges the browser's answer to Ask: it was signed by a key that find
// knows, for this party and this question, with its owner verified, and its
// counter has moved on. It returns the key with its new record.
func (p *Party) Check(q Question, answer []byte, find func(credential []byte) (Key, error)) (Key, error) {
	var session webauthn.SessionData
	if err := json.Unmarshal(q, &session); err != nil {
		return Key{}, fmt.Errorf("read the question: %w", err)
	}
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer)
	if err != nil {
		return Key{}, refused(err)
	}
	k, err := find(parsed.RawID)
	switch {
	case fault.KindOf(err) == fault.NotFound || err == nil && k.Party != p.Name():
		return Key{}, fault.New(fault.Forbidden, "This passkey is not known here. It may have been removed; sign in with your password.")
	case err != nil:
		return Key{}, err
	}
	var c webauthn.Credential
	if err := json.Unmarshal(k.Record, &c); err != nil {
		return Key{}, fmt.Errorf("read passkey %d: %w", k.ID, err)
	}
	owner := func(_, handle []byte) (webauthn.User, error) {
		if !bytes.Equal(handle, k.Handle) {
			return nil, fault.New(fault.Forbidden, "another account's passkey")
		}
		return holder{handle: k.Handle, keys: []webauthn.Credential{c}}, nil
	}
	used, err := p.web.ValidateDiscoverableLogin(owner, session, parsed)
	if err != nil {
		return Key{}, refused(err)
	}
	if used.Authenticator.CloneWarning {
		return Key{}, fault.New(fault.Forbidden, "This passkey counts backwards, as a copy of it would. Sign in with your password, remove it and make a new one.")
	}
	if k.Record, err = json.Marshal(used); err != nil {
		return Key{}, fmt.Errorf("write passkey %d: %w", k.ID, err)
	}
	return k, nil
}

// refused has one sentence for whatever did not fit; the cause is for the log.
func refused(err error) error {
	return fault.Wrap(fault.Forbidden, err, "The passkey was not accepted. Try again, or sign in with your password.")
}

func both(options any, session *webauthn.SessionData) ([]byte, Question, error) {
	o, err := json.Marshal(options)
	if err != nil {
		return nil, nil, fmt.Errorf("write the options: %w", err)
	}
	q, err := json.Marshal(session)
	if err != nil {
		return nil, nil, fmt.Errorf("write the question: %w", err)
	}
	return o, q, nil
}

// holder is an account as the library wants to see one.
type holder struct {
	handle []byte
	name   string
	keys   []webauthn.Credential
}

func (h holder) WebAuthnID() []byte                         { return h.handle }
func (h holder) WebAuthnName() string                       { return h.name }
func (h holder) WebAuthnDisplayName() string                { return h.name }
func (h holder) WebAuthnCredentials() []webauthn.Credential { return h.keys }
