// Reference solves the instances of internal/assign/assigntest with CBC
// (Debian: coinor-cbc) and writes testdata/assign: each instance, and
// optima.json with the proven optima.
//
//	go run ./testdata/assign/reference [-limit 900] [-ratio] [NAME...]
//
// With names, only those are solved and the others' optima are kept. An
// instance that CBC does not prove within the limit (seconds of CBC's own
// time) is left out and named. With -ratio nothing is written: CBC and our
// solver run one after the other and a table compares them.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

func main() {
	limit := flag.Int("limit", 900, "seconds of CBC time per instance")
	ratio := flag.Bool("ratio", false, "compare times instead of writing")
	dir := flag.String("dir", "testdata/assign", "where to write")
	flag.Parse()
	if err := run(*dir, *limit, *ratio, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(dir string, limit int, ratio bool, names []string) error {
	optima, err := readOptima(dir)
	if err != nil {
		return err
	}
	for _, in := range assigntest.Instances() {
		if len(names) > 0 && !slices.Contains(names, in.Name) {
			continue
		}
		p := in.Make()
		began := time.Now()
		value, err := solve(p, limit)
		took := time.Since(began)
		if err != nil && !errors.Is(err, assigntest.ErrNotProven) {
			return fmt.Errorf("%s: %w", in.Name, err)
		}
		if ratio {
			compare(in.Name, p, value, took, err)
			continue
		}
		if err != nil {
			fmt.Printf("%s: not proven in %d s\n", in.Name, limit)
			continue
		}
		fmt.Printf("%s: %.6f in %.1f s\n", in.Name, value, took.Seconds())
		optima = slices.DeleteFunc(optima, func(o assigntest.Optimum) bool { return o.Name == in.Name })
		optima = append(optima, assigntest.Optimum{Name: in.Name, Optimum: value, Solver: "CBC 2.10", Seconds: float64(took.Milliseconds()) / 1000})
		if err := write(dir, in.Name, p, optima); err != nil {
			return err
		}
	}
	return nil
}

// solve returns the optimum that CBC proves.
func solve(p assign.Problem, limit int) (float64, error) {
	tmp, err := os.MkdirTemp("", "assign")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(tmp)
	file := filepath.Join(tmp, "p.lp")
	f, err := os.Create(file)
	if err != nil {
		return 0, err
	}
	if err := errors.Join(assigntest.WriteLP(f, p), f.Close()); err != nil {
		return 0, err
	}
	out, err := exec.Command("cbc", file, "-ratio", "0", "-sec", fmt.Sprint(limit), "-solve", "-quit").CombinedOutput()
	if err != nil {
		return 0, fmt.Errorf("%w\n%s", err, out)
	}
	return assigntest.ReadObjective(string(out))
}

// compare prints one line of the table.
func compare(name string, p assign.Problem, value float64, took time.Duration, proven error) {
	began := time.Now()
	plan, err := assign.Solve(context.Background(), p, assign.Options{})
	ours := time.Since(began)
	if err != nil {
		fmt.Println(name, err)
		return
	}
	found := fmt.Sprintf("%.3f", value)
	if proven != nil {
		found = "not proven"
	}
	fmt.Printf("%-18s CBC %12s in %9.2f s; ours %9.3f (bound %9.3f, gap %.2f %%) in %6.3f s; ratio %.0f\n",
		name, found, took.Seconds(), plan.Score, plan.Bound, 100*plan.Gap, ours.Seconds(), took.Seconds()/ours.Seconds())
}

func readOptima(dir string) ([]assigntest.Optimum, error) {
	data, err := os.ReadFile(filepath.Join(dir, "optima.json"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var optima []assigntest.Optimum
	return optima, json.Unmarshal(data, &optima)
}

// write keeps the instance and all optima so far.
func write(dir, name string, p assign.Problem, optima []assigntest.Optimum) error {
	var problem, table bytes.Buffer
	if err := assigntest.Save(&problem, p); err != nil {
		return err
	}
	slices.SortFunc(optima, func(a, b assigntest.Optimum) int { return strings.Compare(a.Name, b.Name) })
	enc := json.NewEncoder(&table)
	enc.SetIndent("", "\t")
	if err := enc.Encode(optima); err != nil {
		return err
	}
	return errors.Join(
		os.WriteFile(filepath.Join(dir, name+".json.gz"), problem.Bytes(), 0o644),
		os.WriteFile(filepath.Join(dir, "optima.json"), table.Bytes(), 0o644))
}
