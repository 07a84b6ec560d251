package main

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
)

// authenticator is one that the browser plays itself.
func authenticator(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
	if _, err := cdp.Call(ctx, tab, webauthn.Enable, webauthn.EnableParams{}); err != nil {
		return chromedp.Void{}, err
	}
	_, err := cdp.Call(ctx, tab, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
		Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
		HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
	}})
	return chromedp.Void{}, err
}

// inTheme puts the open page under another light without asking for it anew:
// what answers a form cannot be asked for twice.
func inTheme(theme string) chromedp.Action[bool] {
	return chromedp.Evaluate[bool](`document.documentElement.dataset.theme = "` + theme + `"; document.querySelector("meta[name=color-scheme]").content = "` +
		map[string]string{"paper": "light", "lamp": "dark"}[theme] + `"; true`)
}

// pressUnder presses the button of the form that is sent to the address, and
// fails unless the answer has the status.
func pressUnder(action string, status int64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		resp, err := chromedp.RunResponse(ctx, chromedp.Click("form[action='"+action+"'] button"))
		return wants(resp, err, status)
	})
}

func opens(address string, status int64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		resp, err := chromedp.Run(ctx, chromedp.NavigateResponse(address))
		return wants(resp, err, status)
	})
}

func wants(resp *network.Response, err error, status int64) error {
	switch {
	case err != nil:
		return err
	case resp == nil || resp.Status != status:
		return fmt.Errorf("answer %+v, want status %d", resp, status)
	}
	return nil
}

// TestAccessOfAccounts goes where the demo has no pages: from the setup link of
// an empty club through accounts, passkeys, links and refusals, and looks at
// each page as TestAccess does. It also sees the lists while nothing is in them.
func TestAccessOfAccounts(t *testing.T) {
	axe := readAxe(t)
	ctx := browserFor(t, 8*time.Minute)
	_, logs := startedWithLog(t, "--data", t.TempDir())
	// By its name: a bare address has no passkeys.
	setup := strings.Replace(setupLink(t, logs), "127.0.0.1", "localhost", 1)
	base, setupPath, _ := strings.Cut(setup, "/setup/")
	setupPath = "/setup/" + setupPath
	type action = chromedp.Action[chromedp.Void]
	var link string // with which the second account sets its password
	keepLink := chromedp.Func(func(ctx context.Context, _ *chromedp.Target) (err error) {
		link, err = chromedp.Run(ctx, chromedp.Evaluate[string]("document.querySelector('[data-testid=link]').innerText"))
		return err
	})
	useLink := chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error { return chromedp.Do(ctx, opens(link, 200)) })
	setPassword := func(status int64) action {
		return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
			return chromedp.Do(ctx, pressUnder(strings.TrimPrefix(link, base), status))
		})
	}
	if err := chromedp.Do(ctx, authenticator, lessMotion(true)); err != nil {
		t.Fatal(err)
	}
	for _, s := range []struct {
		name string
		come []action
	}{
		{"sign in before there is an account", []action{opens(base+"/sign-in", 200)}},
		{"first set-up", []action{opens(setup, 200)}},
		{"first set-up refused", []action{pressUnder(setupPath, 422)}},
		{"welcome to an empty club", []action{chromedp.SetValue("#name", "Ada"), chromedp.SetValue("#new", "pears on the dome"), pressUnder(setupPath, 200)}},
		{"no nights", []action{opens(base+"/nights", 200)}},
		{"no kit", []action{opens(base+"/kit", 200)}},
		{"no crew", []action{opens(base+"/crew", 200)}},
		{"no targets", []action{opens(base+"/targets", 200)}},
		{"no sites", []action{opens(base+"/sites", 200)}},
		{"a form refused", []action{opens(base+"/sites/new", 200), pressUnder("/sites", 422)}},
		{"set-up link used up", []action{opens(setup, 404)}},
		{"account", []action{opens(base+"/account", 200), chromedp.WaitVisible("form[data-passkey-make]")}},
		{"password refused", []action{pressUnder("/account/password", 422)}},
		{"passkeys", []action{
			opens(base+"/account", 200), chromedp.WaitVisible("form[data-passkey-make]"),
			chromedp.SetValue("form[data-passkey-make] #name", "The blue security key of the club's cupboard"), chromedp.SetValue("#passkey-old", "pears on the dome"),
			press("form[data-passkey-make] button"), chromedp.WaitVisible("[data-testid=passkeys]"),
		}},
		{"accounts", []action{opens(base+"/people", 200)}},
		{"new account refused", []action{pressUnder("/people", 422)}},
		{"link for a new account", []action{chromedp.SetValue("#name", "Bartholomew Featherstonehaugh-Cholmondeley"), pressUnder("/people", 200), keepLink}},
		{"accounts with one more", []action{opens(base+"/people", 200)}},
		{"another's account", []action{opens(base+"/people/2", 200)}},
		{"another's account refused", []action{chromedp.SetValue("#name", " "), pressUnder("/people/2", 422)}},
		{"no such page", []action{opens(base+"/people/77", 404)}},
		{"a link to set a password", []action{opens(base+"/account", 200), press("form[action='/sign-out'] button"), useLink}},
		{"a password refused", []action{setPassword(422)}},
		{"welcome to who has a link", []action{chromedp.SetValue("#new", "apples on the dome"), setPassword(200)}},
		{"not allowed", []action{opens(base+"/people", 403)}},
		{"account of who plans nothing", []action{opens(base+"/account", 200)}},
		{"sign in", []action{press("form[action='/sign-out'] button"), opens(base+"/sign-in", 200)}},
		{"sign in refused", []action{chromedp.SetValue("#name", "Ada"), chromedp.SetValue("#password", "figs"), pressUnder("/sign-in", 422)}},
		{"no such page for who is not signed in", []action{opens(base+"/c/no-such-volunteer", 404)}},
	} {
		if !t.Run(s.name, func(t *testing.T) {
			if err := chromedp.Do(ctx, append([]action{chromedp.EmulateViewport(1280, 900)}, s.come...)...); err != nil {
				body, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("document.location + document.body.innerText"))
				t.Fatalf("%v\nthe page says:\n%s", err, body)
			}
			byKey(t, ctx)
			still(t, ctx)
			enlarged(t, ctx)
			for _, theme := range []string{"paper", "lamp"} {
				if _, err := chromedp.Run(ctx, inTheme(theme)); err != nil {
					t.Fatal(err)
				}
				checked(t, ctx, axe, theme)
			}
		}) && t.Failed() && ctx.Err() != nil {
			return
		}
	}
}
