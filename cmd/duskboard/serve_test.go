package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"duskboard/internal/night"
	"duskboard/internal/store"
)

func noEnv(string) string { return "" }

// TestSettings guards what the server refuses to start with, and that the
// environment stands behind the flags.
func TestSettings(t *testing.T) {
	for _, args := range [][]string{
		{"--tls-cert", "c.pem"}, {"--tls-key", "k.pem"}, {"--trusted-proxies", "10.0.0.0/33"}, {"--trusted-proxies", "proxy.example"},
		{"--tls-cert", "c", "--tls-key", "k", "--insecure-cookies"}, {"--backup-keep", "0"}, {"--no-such-flag"}, {"word"},
	} {
		if _, err := parseSettings(args, noEnv, io.Discard); err == nil {
			t.Errorf("%q was taken", args)
		}
	}
	env := map[string]string{"DUSKBOARD_PROXIES": "10.1.2.3/8, ::1", "DUSKBOARD_BACKUP_DIR": "copies", "DUSKBOARD_INSECURE_COOKIES": "true"}
	s, err := parseSettings([]string{"--backup-dir", "elsewhere"}, func(k string) string { return env[k] }, io.Discard)
	if err != nil || len(s.Proxies) != 2 || s.Proxies[0].String() != "10.0.0.0/8" || s.Proxies[1].String() != "::1/128" || s.BackupDir != "elsewhere" || !s.InsecureCookies {
		t.Errorf("settings %+v, %v", s, err)
	}
	if s.Addr != "127.0.0.1:8080" {
		t.Errorf("without --addr the server listens on %s: only this machine may be the default", s.Addr)
	}
}

func openStore(t *testing.T, dir string) *store.Store {
	t.Helper()
	st, err := store.Open(context.Background(), filepath.Join(dir, databaseName))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	return st
}

// TestDailyCopies guards the rotation: one a day, seven kept, and nothing
// touched that is not a daily copy; and that a copy can be restored.
func TestDailyCopies(t *testing.T) {
	ctx := context.Background()
	st, dir := openStore(t, t.TempDir()), filepath.Join(t.TempDir(), "copies")
	site := night.Site{Name: "Heron Meadow", Zone: "UTC", Brightness: 20}
	if err := st.SaveSite(ctx, &site); err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 9, 1, 3, 0, 0, 0, time.UTC)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	mine := filepath.Join(dir, "duskboard-before-the-fair.db")
	if err := os.WriteFile(mine, []byte("by hand"), 0o600); err != nil {
		t.Fatal(err)
	}
	for day := range 10 {
		for _, hour := range []time.Duration{0, time.Hour, 23 * time.Hour} {
			name, err := backupDue(ctx, st, dir, 7, now.AddDate(0, 0, day).Add(hour))
			if err != nil {
				t.Fatal(err)
			}
			if (name != "") != (hour == 0) {
				t.Errorf("day %d, %v later: copy %q", day, hour, name)
			}
		}
	}
	copies, err := dailyCopies(dir)
	if err != nil || len(copies) != 7 || copies[0] != "duskboard-20260904T030000Z.db" {
		t.Errorf("copies %q, %v: want the last seven", copies, err)
	}
	if _, err := os.Stat(mine); err != nil {
		t.Errorf("a file of one's own is gone: %v", err)
	}
	target := t.TempDir()
	var out bytes.Buffer
	if code := run(ctx, []string{"restore", filepath.Join(dir, copies[6]), "--data", target}, noEnv, &out, &out); code != 0 {
		t.Fatalf("restore: %s", out.String())
	}
	back, err := openStore(t, target).Site(ctx, site.ID)
	if err != nil || back.Name != site.Name {
		t.Errorf("restored site %+v, %v", back, err)
	}
}

// TestAccountCommand guards the way back in from the command line: a link made
// beside a running server sets a password there.
func TestAccountCommand(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	base, logs := startedWithLog(t, "--data", dir, "--insecure-cookies", "--metrics-addr", "127.0.0.1:0")
	client := func() *http.Client {
		jar, _ := cookiejar.New(nil)
		return &http.Client{Jar: jar}
	}
	post := func(c *http.Client, address string, form url.Values) *http.Response {
		t.Helper()
		resp, err := c.PostForm(address, form)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp
	}
	ada := client()
	if resp := post(ada, setupLink(t, logs), url.Values{"name": {"Ada"}, "new": {"pears on the dome"}}); resp.Request.URL.Path != "/" || resp.StatusCode != 200 {
		t.Fatalf("setup ends at %s with %d", resp.Request.URL, resp.StatusCode)
	}
	duskboard := func(want int, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		if code := run(ctx, append(args, "--data", dir), noEnv, &out, &out); code != want {
			t.Errorf("%q: code %d, want %d: %s", args, code, want, out.String())
		}
		return out.String()
	}
	if got := duskboard(0, "account", "list"); got != "coordinator  Ada\n" {
		t.Errorf("list says %q", got)
	}
	duskboard(1, "account", "link", "Nobody")
	duskboard(2, "account", "link", "Bo", "--role", "owner")
	duskboard(2, "account", "dance")
	link := regexp.MustCompile(`/account/link/\S+`).FindString(duskboard(0, "account", "link", "ada"))
	if resp := post(client(), base+link, url.Values{"new": {"apples on the dome"}}); resp.StatusCode != 200 || resp.Request.URL.Path != "/" {
		t.Errorf("the link ends at %s with %d", resp.Request.URL, resp.StatusCode)
	}
	resp, err := ada.Get(base + "/kit")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.Request.URL.Path != "/sign-in" {
		t.Errorf("the session from before the new password still reaches %s", resp.Request.URL)
	}
	duskboard(0, "account", "sign-out", "Ada")
	duskboard(0, "account", "link", "New Person", "--role", "coordinator")
}

// TestTLS guards HTTPS by own certificate files, with HSTS.
func TestTLS(t *testing.T) {
	cert, key := selfSigned(t)
	_, logs := startedWithLog(t, "--data", t.TempDir(), "--tls-cert", cert, "--tls-key", key)
	link := setupLink(t, logs)
	if !strings.HasPrefix(link, "https://") {
		t.Fatalf("link %s", link)
	}
	pool := x509.NewCertPool()
	b, err := os.ReadFile(cert)
	if err != nil {
		t.Fatal(err)
	}
	pool.AppendCertsFromPEM(b)
	c := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	resp, err := c.Get(link)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != 200 || resp.Header.Get("Strict-Transport-Security") == "" {
		t.Errorf("status %d, HSTS %q", resp.StatusCode, resp.Header.Get("Strict-Transport-Security"))
	}
}

func selfSigned(t *testing.T) (certFile, keyFile string) {
	t.Helper()
	k, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	tmpl := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "test"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true,
	}
	der, err := x509.CreateCertificate(rand.Reader, tmpl, tmpl, &k.PublicKey, k)
	if err != nil {
		t.Fatal(err)
	}
	private, err := x509.MarshalPKCS8PrivateKey(k)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	certFile, keyFile = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for file, block := range map[string]*pem.Block{certFile: {Type: "CERTIFICATE", Bytes: der}, keyFile: {Type: "PRIVATE KEY", Bytes: private}} {
		if err := os.WriteFile(file, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return certFile, keyFile
}
