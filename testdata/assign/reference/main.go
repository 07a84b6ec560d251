// Reference solves problems of package assign with a solver from outside.
//
//	go run ./testdata/assign/reference [flags] [NAME...]
//
// Without flags it proves the instances of internal/assign/assigntest with CBC
// (Debian: coinor-cbc) and writes testdata/assign: each instance, and
// optima.json with the optima. With -highs FOLDER the same programmes go to
// HiGHS, and what it proves is written beside what CBC did; FOLDER is where
// "npm install highs@1.15.3" was run (Node 18 or later). With names, only
// those are solved and the others are kept. An instance that is not proven
// within -limit seconds is left out and named.
//
// With -ratio nothing is written: reference and our solver run one after the
// other and a table compares them. With -nights the arguments are night files,
// whose line-ups are compared in the same way; -large adds the two sizes that
// the design promises figures for.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// task is what the flags ask for.
type task struct {
	dir    string
	ratio  bool
	nights bool
	large  bool
	by     solver
}

func main() {
	var t task
	limit := flag.Int("limit", 900, "seconds for each problem")
	highs := flag.String("highs", "", "prove with HiGHS; the folder where npm installed it")
	flag.BoolVar(&t.ratio, "ratio", false, "compare times instead of writing")
	flag.BoolVar(&t.nights, "nights", false, "the arguments are night files; compare their line-ups")
	flag.BoolVar(&t.large, "large", false, "compare the sizes that the design promises figures for")
	flag.StringVar(&t.dir, "dir", "testdata/assign", "where to write")
	flag.Parse()
	t.by = solver{limit: *limit, modules: *highs}
	if err := t.run(flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func (t task) run(args []string) error {
	switch {
	case t.large:
		return t.compareAll(largeOnes())
	case t.nights:
		return t.compareNights(args)
	}
	var all []assigntest.Instance
	for _, in := range assigntest.Instances() {
		if len(args) == 0 || slices.Contains(args, in.Name) {
			all = append(all, in)
		}
	}
	if t.ratio {
		return t.compareAll(all)
	}
	optima, err := readOptima(t.dir)
	if err != nil {
		return err
	}
	for _, in := range all {
		if optima, err = t.prove(in, optima); err != nil {
			return fmt.Errorf("%s: %w", in.Name, err)
		}
	}
	return nil
}

// largeOnes are the sizes that the design promises figures for.
func largeOnes() []assigntest.Instance {
	return []assigntest.Instance{
		{Name: "12 x 150 x 18", Make: func() assign.Problem {
			return assigntest.LineUp(1, assigntest.Shape{Agents: 12, Topics: 150, Blocks: 18, PerTopic: 3, Shared: 6, Pins: 3, MaxRuns: 4})
		}},
		{Name: "30 x 200 x 24", Make: func() assign.Problem {
			return assigntest.LineUp(1, assigntest.Shape{Agents: 30, Topics: 200, Blocks: 24, PerTopic: 3, Shared: 10, Pins: 5, MaxRuns: 4})
		}},
	}
}

// prove finds an instance's optimum and writes it with the others.
func (t task) prove(in assigntest.Instance, optima []assigntest.Optimum) ([]assigntest.Optimum, error) {
	p := in.Make()
	a, err := t.by.solve(p)
	if err != nil {
		return nil, err
	}
	if !a.proven {
		fmt.Printf("%s: not proven in %d s\n", in.Name, t.by.limit)
		return optima, nil
	}
	fmt.Printf("%s: %.6f in %.1f s\n", in.Name, a.value, a.took.Seconds())
	o := assigntest.Optimum{Name: in.Name}
	if i := slices.IndexFunc(optima, func(o assigntest.Optimum) bool { return o.Name == in.Name }); i >= 0 {
		o = optima[i]
		optima = slices.Delete(optima, i, i+1)
	}
	seconds := float64(a.took.Milliseconds()) / 1000
	if t.by.modules == "" {
		o.Optimum, o.Solver, o.Seconds = a.value, a.by, seconds
	} else {
		o.Also = &assigntest.Second{Optimum: a.value, Solver: a.by, Seconds: seconds}
	}
	optima = append(optima, o)
	slices.SortFunc(optima, func(a, b assigntest.Optimum) int { return strings.Compare(a.Name, b.Name) })
	return optima, write(t.dir, in.Name, p, optima)
}

func (t task) compareAll(all []assigntest.Instance) error {
	for _, in := range all {
		if err := t.compare(in.Name, in.Make(), assign.Options{}); err != nil {
			return fmt.Errorf("%s: %w", in.Name, err)
		}
	}
	return nil
}

// compare prints one line of the table.
func (t task) compare(name string, p assign.Problem, opt assign.Options) error {
	began := time.Now()
	plan, err := assign.Solve(context.Background(), p, opt)
	ours := time.Since(began)
	if err != nil {
		return err
	}
	a, err := t.by.solve(p)
	if err != nil {
		return err
	}
	found := "not proven"
	if a.proven {
		found = fmt.Sprintf("%9.3f, ours %.3f %% of it", a.value, 100*plan.Score/a.value)
	}
	fmt.Printf("%-40s %s %s in %.2f s; ours %9.3f (bound %9.3f, gap %.2f %%) in %.3f s; ratio %.0f\n",
		name, a.by, found, a.took.Seconds(), plan.Score, plan.Bound, 100*plan.Gap, ours.Seconds(), a.took.Seconds()/ours.Seconds())
	return nil
}

func base(file string) string { return strings.TrimSuffix(filepath.Base(file), ".night.json") }
