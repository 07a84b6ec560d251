package assign_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
)

// TestInstances: the kept problems are those that the generator makes, so
// the optima can be proven again.
func TestInstances(t *testing.T) {
	for _, in := range assigntest.Instances() {
		f, err := os.Open(filepath.Join(fixtures, in.Name+".json.gz"))
		if err != nil {
			t.Error(err)
			continue
		}
		kept, err := assigntest.Load(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		var got, want bytes.Buffer
		if err := errors.Join(assigntest.Save(&got, kept), assigntest.Save(&want, in.Make())); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want.Bytes()) {
			t.Errorf("%s is not what the generator makes", in.Name)
		}
	}
}

const fixtures = "../../testdata/assign"

// TestAgainstProvenOptima compares with optima that CBC and HiGHS proved on a
// model written by other code (testdata/assign/reference). It guards the
// promise of 99 percent and that the bound is one.
func TestAgainstProvenOptima(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(fixtures, "optima.json"))
	if err != nil {
		t.Fatal(err)
	}
	var optima []assigntest.Optimum
	if err := json.Unmarshal(data, &optima); err != nil {
		t.Fatal(err)
	}
	if len(optima) < 12 {
		t.Errorf("only %d proven optima", len(optima))
	}
	for i, o := range optima {
		t.Run(o.Name, func(t *testing.T) {
			f, err := os.Open(filepath.Join(fixtures, o.Name+".json.gz"))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			p, err := assigntest.Load(f)
			if err != nil {
				t.Fatal(err)
			}
			plan, err := assign.Solve(context.Background(), p, assign.Options{})
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, uint64(i), p, plan)
			// CBC's own tolerance is 1e-6 of a variable; values go up to 10.
			slack := 1e-5 * math.Abs(o.Optimum)
			if o.Also == nil || math.Abs(o.Also.Optimum-o.Optimum) > slack {
				t.Errorf("%s proved %v, a second solver %+v", o.Solver, o.Optimum, o.Also)
			}
			if plan.Score < 0.99*o.Optimum || plan.Score > o.Optimum+slack {
				t.Errorf("score %v, optimum %v", plan.Score, o.Optimum)
			}
			if plan.Bound < o.Optimum-slack {
				t.Errorf("bound %v below the optimum %v", plan.Bound, o.Optimum)
			}
			t.Logf("optimum %.3f, score %.3f (%.2f %%), bound %.3f (%.2f %%)", o.Optimum, plan.Score,
				100*plan.Score/o.Optimum, plan.Bound, 100*plan.Bound/o.Optimum)
		})
	}
}
