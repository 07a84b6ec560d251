// Load asks a running Duskboard for the pages that the crew reads, as fast as
// it answers, for a bounded time, and reports requests per second, errors and
// the longest waits. Meanwhile it edits the line-up as a coordinator does, so
// that nothing is measured that only a standing still program could do.
//
//	go run ./testdata/load                # builds and starts the demo itself
//	go run ./testdata/load -budget        # each kind of page once: time and bytes
//	go run ./testdata/load -seconds 20 -clients 32
//
// It starts the program as a process of its own on 127.0.0.1 and ends it.
package main

import (
	"compress/gzip"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"duskboard/testdata/program"
)

// crewReads are the pages that volunteers open on the way and on the field.
var crewReads = []string{
	"/nights/1",
	"/nights/1/line-up",
	"/nights/1/roster",
	"/nights/1/departure",
	"/nights/1/departure/4",
	"/nights/1/glass",
	"/nights/1/weather",
}

func main() {
	seconds := flag.Int("seconds", 10, "how long to ask, seconds; at most 60")
	clients := flag.Int("clients", 16, "how many ask at once; at most 256")
	budget := flag.Bool("budget", false, "measure each kind of page alone instead: time on the server and bytes on the wire")
	flag.Parse()
	if err := run(min(*seconds, 60), min(*clients, 256), *budget); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

func run(seconds, clients int, budget bool) error {
	base, stop, err := program.Demo()
	if err != nil {
		return err
	}
	defer stop()
	if budget {
		return budgets(base)
	}
	return load(base, time.Duration(seconds)*time.Second, clients)
}

func client(n int) *http.Client {
	return &http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: n, DisableCompression: true}}
}

// get asks for a page as a browser does, compressed, and returns the bytes on
// the wire.
func get(c *http.Client, address string) (body []byte, err error) {
	req, err := http.NewRequest(http.MethodGet, address, nil)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Accept-Encoding", "gzip")
	resp, err := c.Do(req)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	if body, err = io.ReadAll(resp.Body); err != nil {
		return nil, err
	}
	if resp.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s: %s", address, resp.Status)
	}
	return body, nil
}

// load asks for the crew's pages in turn from many clients.
func load(base string, long time.Duration, clients int) error {
	for _, p := range crewReads { // each is computed once before the clock starts
		if _, err := get(client(1), base+p); err != nil {
			return err
		}
	}
	ctx, cancel := context.WithTimeout(context.Background(), long)
	defer cancel()
	var faults, bytes, edits atomic.Int64
	var wg sync.WaitGroup
	waits := make([][]time.Duration, clients)
	c := client(clients)
	for i := range clients {
		wg.Go(func() {
			for n := i; ctx.Err() == nil; n++ {
				begun := time.Now()
				b, err := get(c, base+crewReads[n%len(crewReads)])
				if err != nil {
					faults.Add(1)
					fmt.Fprintln(os.Stderr, err)
					continue
				}
				bytes.Add(int64(len(b)))
				waits[i] = append(waits[i], time.Since(begun))
			}
		})
	}
	wg.Go(func() {
		for turn := 0; ctx.Err() == nil; turn++ {
			if err := edit(base, turn); err != nil {
				faults.Add(1)
				fmt.Fprintln(os.Stderr, "edit:", err)
			} else {
				edits.Add(1)
			}
			time.Sleep(time.Second)
		}
	})
	wg.Wait()
	all := slices.Concat(waits...)
	slices.Sort(all)
	if len(all) == 0 {
		return errors.New("nothing was answered")
	}
	fmt.Printf("%d clients, %s: %d answers, %.0f each second, %d errors, %d edits of the line-up meanwhile\n",
		clients, long, len(all), float64(len(all))/long.Seconds(), faults.Load(), edits.Load())
	fmt.Printf("waits: half under %s, 99 of 100 under %s, longest %s; %.1f MB each second\n",
		all[len(all)/2].Round(time.Microsecond*100), all[len(all)*99/100].Round(time.Millisecond), all[len(all)-1].Round(time.Millisecond),
		float64(bytes.Load())/1e6/long.Seconds())
	if faults.Load() > 0 {
		return fmt.Errorf("%d requests failed", faults.Load())
	}
	return nil
}

var (
	showing = regexp.MustCompile(`/line-up\?show=(\d+)`)
	version = regexp.MustCompile(`data-version="(\d+)"`)
)

// edit pins a showing of the line-up, or lets it go again, as a form without
// JavaScript does: look at the board, press, look at what came of it.
func edit(base string, turn int) error {
	board, err := plain(base + "/nights/1/line-up")
	if err != nil {
		return err
	}
	all, at := showing.FindAllStringSubmatch(board, -1), version.FindStringSubmatch(board)
	if len(all) == 0 || at == nil {
		return errors.New("no showing on the board")
	}
	pinned := ""
	if turn%2 == 0 {
		pinned = "1"
	}
	resp, err := http.PostForm(base+"/nights/1/line-up/showings/"+all[0][1]+"/pin", url.Values{"version": {at[1]}, "pinned": {pinned}})
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	_, _ = io.Copy(io.Discard, resp.Body)
	if resp.StatusCode != http.StatusOK {
		return errors.New(resp.Status)
	}
	after, err := plain(base + "/nights/1/line-up")
	if err != nil {
		return err
	}
	if now := version.FindStringSubmatch(after); now == nil || now[1] == at[1] {
		return fmt.Errorf("the board still shows version %s after a change", at[1])
	}
	return nil
}

func plain(address string) (string, error) {
	b, err := get(client(1), address)
	if err != nil {
		return "", err
	}
	z, err := gzip.NewReader(strings.NewReader(string(b)))
	if err != nil {
		return string(b), nil // not compressed
	}
	text, err := io.ReadAll(z)
	return string(text), err
}

var (
	link   = regexp.MustCompile(`href="(/[^"#]*)"`)
	asset  = regexp.MustCompile(`(?:href|src)="(/static/[^"]+\.(?:css|js|svg))"`)
	number = regexp.MustCompile(`\d+`)
)

// budgets walks one page of each kind, asks for it five times and prints the
// middle of the times with the bytes of the page and of what it loads, fonts
// left out.
func budgets(base string) error {
	c := client(1)
	kinds, queue := map[string]string{"/": "/"}, []string{"/"}
	sizes := map[string]int{}
	type row struct {
		path        string
		took        time.Duration
		page, whole int
	}
	var rows []row
	for len(queue) > 0 {
		path := queue[0]
		queue = queue[1:]
		text, err := plain(base + path)
		if err != nil {
			continue // a form's answer or a file
		}
		r := row{path: path}
		var times []time.Duration
		for range 5 {
			begun := time.Now()
			b, err := get(c, base+path)
			if err != nil {
				return err
			}
			times = append(times, time.Since(begun))
			r.page = len(b)
		}
		slices.Sort(times)
		r.took, r.whole = times[2], r.page
		for _, m := range asset.FindAllStringSubmatch(text, -1) {
			if _, ok := sizes[m[1]]; !ok {
				b, err := get(c, base+m[1])
				if err != nil {
					return err
				}
				sizes[m[1]] = len(b)
			}
			r.whole += sizes[m[1]]
		}
		rows = append(rows, r)
		for _, m := range link.FindAllStringSubmatch(text, -1) {
			to := strings.ReplaceAll(m[1], "&amp;", "&")
			kind := number.ReplaceAllString(strings.SplitN(to, "?", 2)[0], "N")
			if strings.HasPrefix(to, "/static/") || kinds[kind] != "" {
				continue
			}
			kinds[kind] = to
			queue = append(queue, to)
		}
	}
	sort.Slice(rows, func(i, j int) bool { return rows[i].took > rows[j].took })
	fmt.Printf("%-50s %10s %10s %10s\n", "page", "answer", "page kB", "with all")
	for _, r := range rows {
		fmt.Printf("%-50s %10s %10.1f %10.1f\n", r.path, r.took.Round(100*time.Microsecond), float64(r.page)/1000, float64(r.whole)/1000)
	}
	return nil
}
