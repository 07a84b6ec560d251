package main

import (
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

//go:embed highs.cjs
var highsScript []byte

// solver is the one from outside: CBC, or HiGHS if modules names the folder
// where it is installed.
type solver struct {
	limit   int // seconds
	modules string
}

// answer is what it found.
type answer struct {
	value  float64
	proven bool
	by     string
	took   time.Duration
}

func (s solver) solve(p assign.Problem) (answer, error) {
	tmp, err := os.MkdirTemp("", "assign")
	if err != nil {
		return answer{}, err
	}
	defer os.RemoveAll(tmp)
	file := filepath.Join(tmp, "p.lp")
	f, err := os.Create(file)
	if err != nil {
		return answer{}, err
	}
	if err := errors.Join(assigntest.WriteLP(f, p), f.Close()); err != nil {
		return answer{}, err
	}
	if s.modules != "" {
		return s.highs(tmp, file)
	}
	return s.cbc(file)
}

func (s solver) cbc(file string) (answer, error) {
	began := time.Now()
	out, err := exec.Command("cbc", file, "-ratio", "0", "-sec", fmt.Sprint(s.limit), "-solve", "-quit").CombinedOutput()
	a := answer{by: "CBC 2.10", took: time.Since(began)}
	if err != nil {
		return a, fmt.Errorf("%w\n%s", err, out)
	}
	a.value, err = assigntest.ReadObjective(string(out))
	if errors.Is(err, assigntest.ErrNotProven) {
		return a, nil
	}
	a.proven = err == nil
	return a, err
}

func (s solver) highs(tmp, file string) (answer, error) {
	script := filepath.Join(tmp, "highs.cjs")
	if err := os.WriteFile(script, highsScript, 0o600); err != nil {
		return answer{}, err
	}
	began := time.Now()
	cmd := exec.Command("node", script, s.modules, file, fmt.Sprint(s.limit))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	a := answer{took: time.Since(began)}
	if err != nil {
		return a, fmt.Errorf("HiGHS: %w\n%s", err, out)
	}
	var found struct {
		Status, Version string
		Objective       float64
	}
	if err := json.Unmarshal(out, &found); err != nil {
		return a, fmt.Errorf("HiGHS: %w\n%s", err, out)
	}
	a.by, a.value, a.proven = "HiGHS "+found.Version, found.Objective, found.Status == "Optimal"
	return a, nil
}
