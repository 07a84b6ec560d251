// Screens makes the pictures of the README anew from the demo:
//
//	go run ./testdata/screens
//
// It builds the program, runs the demo on 127.0.0.1 and takes the pictures
// with Chromium (Debian: chromium). The demo's night is the coming Saturday,
// so that the pictures differ from week to week.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"duskboard/testdata/program"
)

// screens are the pictures: a file, a page, a theme and the size in CSS pixels.
var screens = []struct {
	file, path, theme string
	width, height     int64
	ready             string // what must be in sight before the picture is taken
}{
	{"line-up.png", "/nights/1/line-up", "paper", 1280, 1100, ".board-wide"},
	{"fits.png", "/nights/1/fits", "paper", 1280, 900, "table"},
	{"departure-lamp.png", "/nights/1/departure/4", "lamp", 390, 844, "[data-testid=leave]"},
	{"night-lamp.png", "/nights/1", "lamp", 390, 844, "h1"},
	{"card.png", "/nights/1/print", "paper", 800, 1120, "h1, h2"},
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "screens:", err)
		os.Exit(1)
	}
}

func run() error {
	browser, err := exec.LookPath("chromium")
	if err != nil {
		return errors.New("no chromium on this machine: install it to take pictures")
	}
	base, stop, err := program.Demo()
	if err != nil {
		return err
	}
	defer stop()
	profile, err := os.MkdirTemp("", "duskboard-screens-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(profile)
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(browser), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile), chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("hide-scrollbars", true))
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stopAlloc()
	ctx, stopTab := chromedp.NewContext(alloc)
	defer stopTab()
	ctx, cancel := context.WithTimeout(ctx, 3*time.Minute)
	defer cancel()
	for _, s := range screens {
		theme := chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
			_, err := cdp.Call(ctx, tab, network.SetCookie, network.SetCookieParams{Name: "theme", Value: s.theme, URL: base})
			return err
		})
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(s.width, s.height), theme, chromedp.Navigate(base+s.path), chromedp.WaitVisible(s.ready)); err != nil {
			return fmt.Errorf("%s: %w", s.path, err)
		}
		shot, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			return fmt.Errorf("%s: %w", s.path, err)
		}
		if err := os.WriteFile(filepath.Join("testdata/screens", s.file), shot, 0o644); err != nil {
			return err
		}
		fmt.Println(s.file, len(shot)/1000, "kB")
	}
	return nil
}
