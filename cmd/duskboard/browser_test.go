package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// browser starts a headless Chromium, or skips the test with a clear word when
// none is installed; under CI a missing browser is a failure.
func browser(t *testing.T) context.Context {
	t.Helper()
	return browserFor(t, 3*time.Minute)
}

// browserFor is browser with a time limit of its own.
func browserFor(t *testing.T, limit time.Duration) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no chromium on this machine, and CI must have one")
		}
		t.Skip("no chromium on this machine: install it to run the browser tests")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()), chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.WindowSize(1280, 1000))
	alloc, stopAlloc := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, stop := chromedp.NewContext(alloc)
	ctx, cancel := context.WithTimeout(ctx, limit)
	t.Cleanup(func() { cancel(); stop(); stopAlloc() })
	return ctx
}

// watched is an output that can be read while it is written.
type watched struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (w *watched) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.Write(p)
}

func (w *watched) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.String()
}

var readyLine = regexp.MustCompile(`https?://[0-9a-z.:\[\]]+`)

// started runs the real program with the arguments and returns its address
// once it says that it is ready.
func started(t *testing.T, args ...string) string {
	t.Helper()
	base, _ := startedWithLog(t, args...)
	return base
}

// setupLink finds the address at which the first account is made, in the log.
func setupLink(t *testing.T, logs *watched) string {
	t.Helper()
	for range 100 {
		if m := regexp.MustCompile(`link=(\S+/setup/\S+)`).FindStringSubmatch(logs.String()); m != nil {
			return m[1]
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("no setup link in the log:\n%s", logs.String())
	return ""
}

func startedWithLog(t *testing.T, args ...string) (string, *watched) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	var out watched
	logs := &watched{}
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, append([]string{"serve", "--addr", "127.0.0.1:0"}, args...), func(string) string { return "" }, &out, logs)
	}()
	t.Cleanup(func() {
		stop()
		if code := <-done; code != 0 {
			t.Errorf("the server ended with code %d:\n%s", code, logs.String())
		}
		if strings.Contains(logs.String(), "status=500") {
			t.Errorf("a page answered 500:\n%s", logs.String())
		}
	})
	for range 600 {
		if addr := readyLine.FindString(out.String()); addr != "" {
			return addr, logs
		}
		select {
		case code := <-done:
			done <- code
			t.Fatalf("the server did not start:\n%s", logs.String())
		case <-time.After(100 * time.Millisecond):
		}
	}
	t.Fatal("the server did not say that it is ready within a minute")
	return "", nil
}

// press clicks what the selector finds and waits for the page that answers.
func press(sel string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.RunResponse(ctx, chromedp.Click(sel))
		return err
	})
}

// save presses the button of the page's form.
func save() chromedp.Action[chromedp.Void] { return press("main form.form .save button.button") }

// TestWholeWay is the job of the README: from an empty program to printed
// cards, as a newcomer goes it.
func TestWholeWay(t *testing.T) {
	ctx := browser(t)
	base, logs := startedWithLog(t, append([]string{"--data", t.TempDir()}, openFlags...)...)
	type action = chromedp.Action[chromedp.Void]
	// The form swaps its zone field when a guess arrives; a field that was
	// replaced under one's hands is filled again.
	fill := func(id, v string) action {
		return func(ctx context.Context, tab *chromedp.Target) (chromedp.Void, error) {
			var err error
			for range 5 {
				if _, err = chromedp.SetValue("#"+id, v)(ctx, tab); err == nil || !strings.Contains(err.Error(), "No node") {
					return chromedp.Void{}, err
				}
			}
			return chromedp.Void{}, err
		}
	}
	open := func(path string) action { return chromedp.Navigate(base + path) }
	steps := []struct {
		name string
		do   []action
	}{
		{"make the first account", []action{chromedp.Navigate(setupLink(t, logs)), fill("name", "Ada"), fill("new", "pears on the dome"), save()}},
		{"the first page says what to do", []action{open("/"), chromedp.WaitVisible("[data-testid=todo]")}},
		{"add a site", []action{open("/sites/new"), fill("Name", "Heron Meadow"), fill("Lat", "50°05'N"), fill("Lon", "9.31 E"), fill("Zone", "Europe/Berlin"), fill("Measured", "20.6"), save()}},
		{"add an instrument in four answers", []action{open("/kit/instruments/new"), fill("Design", "newtonian"), fill("Aperture", "8 in"), fill("FocalLength", "f/6"), fill("Mount", "rocker-box"), fill("Name", "Bucket"), save()}},
		{"add a wide eyepiece", []action{open("/kit/eyepieces/new"), fill("FocalLength", "30"), fill("ApparentField", "70"), fill("Barrel", "2in"), fill("Name", "Window"), save()}},
		{"add a stronger eyepiece", []action{open("/kit/eyepieces/new"), fill("FocalLength", "12"), fill("ApparentField", "60"), fill("Name", "Twelve"), save()}},
		{"plan a night", []action{open("/nights/new"), fill("Date", "2027-02-13"), fill("From", "19:00"), fill("To", "21:30"), fill("Guests", "60"), fill("Name", "First night"), save()}},
		{"keep the targets that are offered", []action{chromedp.WaitVisible("input[name=targets][value=m45]"), save()}},
		{"propose", []action{open("/nights/1/line-up"), press("[data-testid=propose]"), chromedp.WaitVisible(".board-wide a.bar-link")}},
		{"open the cards", []action{open("/nights/1/cards"), chromedp.WaitVisible("[data-testid=card]")}},
	}
	for _, s := range steps {
		if err := chromedp.Do(ctx, s.do...); err != nil {
			body, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("document.location + document.body.innerText"))
			t.Fatalf("%s: %v\nthe page says:\n%s", s.name, err, body)
		}
	}
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatal(err)
	}
	text := pdfText(t, pdf)
	for _, want := range []string{"Bucket", "203 mm f/6", "13/14 February 2027", "CET", "×", "Eyepiece at"} {
		if !strings.Contains(text, want) {
			t.Errorf("the printed cards do not say %q:\n%s", want, text)
		}
	}
	if !strings.Contains(text, "30 mm") && !strings.Contains(text, "12 mm") {
		t.Errorf("the printed cards name neither eyepiece:\n%s", text)
	}
}

// pdfText reads the text of a PDF with poppler.
func pdfText(t *testing.T, pdf []byte) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no pdftotext on this machine, and CI must have it")
		}
		t.Skip("no pdftotext on this machine: install poppler-utils to read the printed cards")
	}
	file := filepath.Join(t.TempDir(), "cards.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// openFlags start a server without sign-in, for tests that are about something
// else.
var openFlags = []string{}
