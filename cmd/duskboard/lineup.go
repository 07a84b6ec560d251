package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"duskboard/internal/catalog"
	"duskboard/internal/crew"
	"duskboard/internal/fault"
	"duskboard/internal/lineup"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
)

const lineUpUsage = `duskboard lineup proposes the line-up of a night file, as the page does.

  duskboard lineup --night FILE [--json] [--as-is]

  --night   a night file ("duskboard-night/1"), or - for standard input
  --json    everything as JSON: line-up, fits with factors and vetoes, duties,
            cool-down and dew; without it a short table
  --as-is   judge the showings that the file holds instead of proposing anew

Pinned showings of the file stay where they are. What could not be kept or
shown is listed with its reason. A file with faults is refused with the path of
each and exit code 2.
`

// lineUpQuery is what the words of the command ask for.
type lineUpQuery struct {
	file            string
	printJSON, asIs bool
}

// lineUp carries out "duskboard lineup".
func lineUp(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	q, err := parseLineUp(args)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(stdout, lineUpUsage)
		return nil
	}
	if err != nil {
		return fmt.Errorf("%w: %v; see duskboard lineup --help", errUsage, err)
	}
	plan, err := readNight(q.file)
	if err != nil {
		return fmt.Errorf("%w: %s", errUsage, faultLines(q.file, err))
	}
	sh, err := night.Build(plan, night.OwnCatalogue(catalog.Default(), plan.Own))
	if err != nil {
		return fmt.Errorf("%w: %s", errUsage, faultLines(q.file, err))
	}
	r, err := lineUpOf(ctx, sh, q.asIs)
	if err != nil {
		return err
	}
	duties, gaps, err := dutiesOf(ctx, sh, r, q.asIs)
	if err != nil {
		return err
	}
	a := newLineUpAnswer(sh, r, duties)
	a.Gaps = gaps
	if !q.printJSON {
		return a.print(stdout)
	}
	e := json.NewEncoder(stdout)
	e.SetIndent("", "  ")
	return e.Encode(a)
}

func parseLineUp(args []string) (lineUpQuery, error) {
	var q lineUpQuery
	f := flag.NewFlagSet("lineup", flag.ContinueOnError)
	f.SetOutput(io.Discard) // the error is told once, by run
	f.StringVar(&q.file, "night", "", "")
	f.BoolVar(&q.printJSON, "json", false, "")
	f.BoolVar(&q.asIs, "as-is", false, "")
	if err := f.Parse(args); err != nil {
		return q, err
	}
	switch {
	case f.NArg() > 0:
		return q, fmt.Errorf("what does %q mean? The file goes behind --night", f.Arg(0))
	case q.file == "":
		return q, errors.New("--night is missing")
	}
	return q, nil
}

func readNight(file string) (night.Plan, error) {
	if file == "-" {
		return nightfile.Read(os.Stdin)
	}
	f, err := os.Open(file)
	if err != nil {
		return night.Plan{}, err
	}
	defer f.Close()
	return nightfile.Read(f)
}

// faultLines tells every fault of a file on a line of its own, each behind its
// path in the file.
func faultLines(file string, err error) string {
	var fields fault.Fields
	if !errors.As(err, &fields) {
		return fmt.Sprintf("%s: %v", file, err)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s has faults:", file)
	for _, f := range fields {
		fmt.Fprintf(&b, "\n  %s: %s", f.Name, f.Message)
	}
	return b.String()
}

// lineUpOf proposes, or judges what the file holds. The score of showings that
// nobody proposed has no bound: what they could at best be is another plan's.
func lineUpOf(ctx context.Context, sh *night.Sheet, asIs bool) (lineup.Result, error) {
	if !asIs {
		return lineup.Propose(ctx, sh.Input, sh.Fits())
	}
	return sh.Input.Judged(ctx, sh.Fits(), sh.Showings)
}

// dutiesOf staffs the line-up as the roster's page does, or takes the file's
// own duties as they are. Without volunteers there is nobody to ask.
func dutiesOf(ctx context.Context, sh *night.Sheet, r lineup.Result, asIs bool) ([]crew.Duty, []string, error) {
	if asIs || len(sh.Volunteers) == 0 {
		return sh.Duties, nil, nil
	}
	staffed := *sh
	staffed.Showings = r.Showings
	p, err := crew.Propose(ctx, staffed.Scene(), sh.Duties)
	if err != nil {
		return nil, nil, fmt.Errorf("propose duties: %w", err)
	}
	var gaps []string
	for _, g := range p.Gaps {
		gaps = append(gaps, g.Words)
	}
	return p.Duties, gaps, nil
}
