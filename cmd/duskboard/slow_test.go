package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// slowly are clients that hold a connection open: each writes its beginning
// and then, for ever, nothing or a byte at a time.
var slowly = map[string]string{
	"no request at all":         "",
	"a header that never ends":  "GET / HTTP/1.1\r\nHost: club.example\r\nX-Slow: ",
	"a body that never comes":   "POST /sign-in HTTP/1.1\r\nHost: club.example\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 100000\r\n\r\nname=",
	"an answer never read":      "GET /large HTTP/1.1\r\nHost: club.example\r\n\r\n",
	"chunks that never end":     "POST /sign-in HTTP/1.1\r\nHost: club.example\r\nTransfer-Encoding: chunked\r\n\r\n1\r\na\r\n",
	"a second request, kept":    "GET /healthz HTTP/1.1\r\nHost: club.example\r\n\r\nGET /he",
	"no host, and no end":       "GET / HTTP/1.1\r\n",
	"an upgrade that is nobody": "GET / HTTP/1.1\r\nHost: club.example\r\nUpgrade: h2c\r\nConnection: Upgrade\r\n",
}

// TestSlowClientsAreLetGo opens many slow connections of each kind to the real
// server with its time limits cut down, and wants other requests answered
// meanwhile and every slow connection closed by the server in the end.
func TestSlowClientsAreLetGo(t *testing.T) {
	if own := limits; own.ReadHeader <= 0 || own.Read <= 0 || own.Write <= 0 || own.Idle <= 0 || own.Read > time.Minute || own.Write > 2*time.Minute {
		t.Fatalf("the server's own limits do not end a slow client: %+v", own)
	}
	was := limits
	limits = timeLimits{ReadHeader: time.Second, Read: 2 * time.Second, Write: 2 * time.Second, Idle: time.Second}
	defer func() { limits = was }()

	large := strings.Repeat("x", 1<<20)
	mux := http.NewServeMux()
	mux.HandleFunc("/healthz", func(w http.ResponseWriter, _ *http.Request) { fmt.Fprintln(w, "ok") })
	mux.HandleFunc("/large", func(w http.ResponseWriter, _ *http.Request) {
		for range 64 { // more than the network's buffers hold
			if _, err := io.WriteString(w, large); err != nil {
				return
			}
		}
	})
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) { _, _ = io.Copy(io.Discard, r.Body) })
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- listen(ctx, ln, mux, slog.New(slog.DiscardHandler)) }()

	var open []net.Conn
	for _, begin := range slowly {
		for range 40 {
			c, err := net.Dial("tcp", ln.Addr().String())
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.WriteString(c, begin); err != nil {
				t.Fatal(err)
			}
			open = append(open, c)
		}
	}
	for range 20 {
		resp, err := http.Get("http://" + ln.Addr().String() + "/healthz")
		if err != nil {
			t.Fatalf("with %d slow clients: %v", len(open), err)
		}
		resp.Body.Close()
		if resp.StatusCode != http.StatusOK {
			t.Errorf("with %d slow clients: status %d", len(open), resp.StatusCode)
		}
	}
	// The wait only bounds a server that never lets go; a sound one ends each
	// connection by itself, and reading then comes to an end.
	for i, c := range open {
		_ = c.SetReadDeadline(time.Now().Add(30 * time.Second))
		if _, err := io.Copy(io.Discard, c); isTimeout(err) {
			t.Errorf("slow client %d is still held", i)
			break
		}
		c.Close()
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func isTimeout(err error) bool {
	e, ok := err.(net.Error)
	return ok && e.Timeout()
}

// TestRequestUnderWayFinishes guards the graceful stop: what was asked before
// the stop is answered whole, and nothing new is taken.
func TestRequestUnderWayFinishes(t *testing.T) {
	begun, finish := make(chan bool), make(chan bool)
	h := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		close(begun)
		<-finish
		fmt.Fprintln(w, "saved")
	})
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- listen(ctx, ln, h, slog.New(slog.DiscardHandler)) }()
	c, err := net.Dial("tcp", ln.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprint(c, "POST /save HTTP/1.1\r\nHost: club.example\r\nContent-Length: 0\r\n\r\n")
	<-begun
	stop()
	for { // until the listener is closed
		other, err := net.Dial("tcp", ln.Addr().String())
		if err != nil {
			break
		}
		other.Close()
		time.Sleep(5 * time.Millisecond)
	}
	select {
	case err := <-ended:
		t.Fatalf("the server ended before the request did: %v", err)
	default:
	}
	close(finish)
	resp, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := io.ReadAll(resp.Body); err != nil || string(b) != "saved\n" {
		t.Errorf("the answer is %q, %v", b, err)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}
