package main

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
)

// TestPasskeyInABrowser adds a passkey and signs in with it in Chromium, with
// an authenticator that the browser itself plays (the WebAuthn domain of its
// debugging protocol): what the pages' script sends is what a browser makes.
func TestPasskeyInABrowser(t *testing.T) {
	ctx := browser(t)
	_, logs := startedWithLog(t, "--data", t.TempDir())
	// By its name: a bare address has no passkeys.
	link := strings.Replace(setupLink(t, logs), "127.0.0.1", "localhost", 1)
	base := link[:strings.Index(link, "/setup/")]
	authenticator := chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		if _, err := cdp.Call(ctx, tab, webauthn.Enable, webauthn.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, tab, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
			Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
			HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
		}})
		return err
	})
	steps := []struct {
		name string
		do   chromedp.Action[chromedp.Void]
	}{
		{"an authenticator", authenticator},
		{"the first account", chromedp.Navigate(link)},
		{"its name", chromedp.SetValue("#name", "Ada")},
		{"its password", chromedp.SetValue("#new", "pears on the dome")},
		{"make it", save()},
		{"the account page", chromedp.Navigate(base + "/account")},
		{"the form shows with a script", chromedp.WaitVisible("form[data-passkey-make]")},
		{"what to call it", chromedp.SetValue("form[data-passkey-make] #name", "Laptop")},
		{"the password again", chromedp.SetValue("#passkey-old", "pears on the dome")},
		{"add it", press("form[data-passkey-make] button")},
		{"it is listed", chromedp.WaitVisible("[data-testid=passkeys]")},
		{"sign out", press("form[action='/sign-out'] button")},
		{"sign in with it", press("[data-passkey-enter] button")},
		{"signed in", chromedp.WaitVisible("a.who")},
		{"the account page again", chromedp.Navigate(base + "/account")},
	}
	for _, s := range steps {
		if err := chromedp.Do(ctx, s.do); err != nil {
			body, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("document.location + document.body.innerText"))
			t.Fatalf("%s: %v\nthe page says:\n%s", s.name, err, body)
		}
	}
	said, err := chromedp.Run(ctx, chromedp.Evaluate[string]("document.querySelector('[data-testid=passkeys]').innerText"))
	if err != nil {
		t.Fatal(err)
	}
	if used := "last used " + time.Now().UTC().Format("2 January 2006"); !strings.Contains(said, "Laptop") || !strings.Contains(said, used) {
		t.Errorf("the account lists %q", said)
	}
	if strings.Contains(logs.String(), "Laptop") || strings.Contains(logs.String(), "Ada") {
		t.Error("the log has a name")
	}
}
