package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"duskboard/internal/assign"
	"duskboard/internal/assign/assigntest"
	"duskboard/internal/catalog"
	"duskboard/internal/night"
	"duskboard/internal/nightfile"
)

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
	enc := json.NewEncoder(&table)
	enc.SetIndent("", "\t")
	if err := enc.Encode(optima); err != nil {
		return err
	}
	return errors.Join(
		os.WriteFile(filepath.Join(dir, name+".json.gz"), problem.Bytes(), 0o644),
		os.WriteFile(filepath.Join(dir, "optima.json"), table.Bytes(), 0o644))
}

// compareNights puts the line-ups of night files to both solvers.
func (t task) compareNights(files []string) error {
	for _, file := range files {
		p, err := problemOf(file)
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		if err := t.compare(base(file), p, assign.Options{}); err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
	}
	return nil
}

func problemOf(file string) (assign.Problem, error) {
	f, err := os.Open(file)
	if err != nil {
		return assign.Problem{}, err
	}
	defer f.Close()
	plan, err := nightfile.Read(f)
	if err != nil {
		return assign.Problem{}, err
	}
	sheet, err := night.Build(plan, catalog.Default())
	if err != nil {
		return assign.Problem{}, err
	}
	return sheet.Input.Problem(sheet.Fits()), nil
}
