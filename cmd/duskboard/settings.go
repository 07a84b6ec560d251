package main

import (
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/netip"
	"strings"

	"duskboard/internal/account/passkey"
	"duskboard/internal/privacy"
	"duskboard/internal/weather"
)

// settings are what the server reads from flags and the environment, once.
type settings struct {
	Addr string
	Data string
	Demo bool
	// Forecast is asked for weather when somebody presses the button; nil in
	// the demo and when it is off.
	Forecast        weather.Provider
	TLSCert, TLSKey string
	InsecureCookies bool
	Origin          string // "https://stars.example"; "" takes it from each request
	Proxies         []netip.Prefix
	MetricsAddr     string
	BackupDir       string
	BackupKeep      int
}

func parseSettings(args []string, env func(string) string, stderr io.Writer) (settings, error) {
	s := settings{Addr: env("DUSKBOARD_ADDR"), Data: env("DUSKBOARD_DATA"), BackupDir: env("DUSKBOARD_BACKUP_DIR")}
	if s.Addr == "" {
		s.Addr = "127.0.0.1:8080"
	}
	if s.Data == "" {
		s.Data = "data"
	}
	proxies := env("DUSKBOARD_PROXIES")
	f := flag.NewFlagSet("serve", flag.ContinueOnError)
	f.SetOutput(stderr)
	forecast := forecastFlags(f, env)
	f.StringVar(&s.Addr, "addr", s.Addr, "address to listen on; :8080 listens on every network (DUSKBOARD_ADDR)")
	f.StringVar(&s.Data, "data", s.Data, "folder that holds the club's data (DUSKBOARD_DATA)")
	f.BoolVar(&s.Demo, "demo", false, "an invented club with a planned night, in a temporary folder, without accounts")
	f.StringVar(&s.TLSCert, "tls-cert", env("DUSKBOARD_TLS_CERT"), "file of the certificate, with its chain; serves HTTPS (DUSKBOARD_TLS_CERT)")
	f.StringVar(&s.TLSKey, "tls-key", env("DUSKBOARD_TLS_KEY"), "file of the certificate's key (DUSKBOARD_TLS_KEY)")
	f.BoolVar(&s.InsecureCookies, "insecure-cookies", env("DUSKBOARD_INSECURE_COOKIES") == "true", "let sign-in work over plain HTTP, for a network of your own only (DUSKBOARD_INSECURE_COOKIES=true)")
	f.StringVar(&s.Origin, "origin", env("DUSKBOARD_ORIGIN"), "address of the site as browsers have it, https://stars.example, for printed codes, links to pass on and passkeys; empty takes it from each request (DUSKBOARD_ORIGIN)")
	f.StringVar(&proxies, "trusted-proxies", proxies, "addresses or networks of reverse proxies, with commas: their X-Forwarded-For and -Proto count (DUSKBOARD_PROXIES)")
	f.StringVar(&s.MetricsAddr, "metrics-addr", env("DUSKBOARD_METRICS_ADDR"), "separate address that answers /metrics, best on 127.0.0.1; empty answers none (DUSKBOARD_METRICS_ADDR)")
	f.StringVar(&s.BackupDir, "backup-dir", s.BackupDir, "folder for a copy each day; empty makes none (DUSKBOARD_BACKUP_DIR)")
	f.IntVar(&s.BackupKeep, "backup-keep", privacy.DailyCopies, "how many daily copies are kept")
	if err := f.Parse(args); err != nil {
		return s, fmt.Errorf("%w: %v", errUsage, err)
	}
	if f.NArg() > 0 {
		return s, fmt.Errorf("%w: unexpected word %q", errUsage, f.Arg(0))
	}
	var err error
	if s.Proxies, err = parsePrefixes(proxies); err != nil {
		return s, fmt.Errorf("%w: --trusted-proxies: %v", errUsage, err)
	}
	if s.Forecast, err = forecast.provider(s.Demo); err != nil {
		return s, err
	}
	return s, s.validate()
}

func (s settings) validate() error {
	switch {
	case (s.TLSCert == "") != (s.TLSKey == ""):
		return fmt.Errorf("%w: --tls-cert and --tls-key go together", errUsage)
	case s.TLSCert != "" && s.InsecureCookies:
		return fmt.Errorf("%w: --insecure-cookies makes no sense with a certificate", errUsage)
	case s.Origin != "" && !soundOrigin(s.Origin):
		return fmt.Errorf("%w: --origin looks like https://stars.example: https, a name, nothing behind it", errUsage)
	case s.BackupKeep < 1:
		return fmt.Errorf("%w: --backup-keep is at least 1", errUsage)
	}
	return nil
}

// soundOrigin reports whether passkeys can be had at an origin.
func soundOrigin(origin string) bool {
	_, err := passkey.At(origin)
	return err == nil
}

// parsePrefixes reads addresses and networks separated by commas.
func parsePrefixes(list string) ([]netip.Prefix, error) {
	var all []netip.Prefix
	for word := range strings.SplitSeq(list, ",") {
		word = strings.TrimSpace(word)
		if word == "" {
			continue
		}
		p, err := netip.ParsePrefix(word)
		if err != nil {
			addr, addrErr := netip.ParseAddr(word)
			if addrErr != nil {
				return nil, errors.Join(err, addrErr)
			}
			p = netip.PrefixFrom(addr, addr.BitLen())
		}
		all = append(all, p.Masked())
	}
	return all, nil
}

// withTLS wraps a listener when there is a certificate.
func (s settings) withTLS(ln net.Listener) (net.Listener, error) {
	if s.TLSCert == "" {
		return ln, nil
	}
	cert, err := tls.LoadX509KeyPair(s.TLSCert, s.TLSKey)
	if err != nil {
		return nil, fmt.Errorf("read the certificate: %w", err)
	}
	return tls.NewListener(ln, &tls.Config{Certificates: []tls.Certificate{cert}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}}), nil
}

// scheme is how a browser reaches the server itself.
func (s settings) scheme() string {
	if s.TLSCert != "" {
		return "https"
	}
	return "http"
}
