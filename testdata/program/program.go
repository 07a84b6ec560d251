// Package program runs the real program for the tools beside it, which measure
// it and take its pictures from outside.
package program

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"syscall"
)

var address = regexp.MustCompile(`http://[0-9.:]+`)

// Demo builds the program, runs its demo on a free port of 127.0.0.1 and waits
// until it is ready. stop ends it and removes what was built.
func Demo() (base string, stop func(), err error) {
	dir, err := os.MkdirTemp("", "duskboard-program-")
	if err != nil {
		return "", nil, err
	}
	bin := filepath.Join(dir, "duskboard")
	if out, err := exec.Command("go", "build", "-o", bin, "./cmd/duskboard").CombinedOutput(); err != nil {
		return "", nil, errors.Join(fmt.Errorf("build: %w\n%s", err, out), os.RemoveAll(dir))
	}
	cmd := exec.Command(bin, "serve", "--demo", "--addr", "127.0.0.1:0")
	out, err := cmd.StdoutPipe()
	if err != nil {
		return "", nil, errors.Join(err, os.RemoveAll(dir))
	}
	if err := cmd.Start(); err != nil {
		return "", nil, errors.Join(err, os.RemoveAll(dir))
	}
	stop = func() {
		_ = cmd.Process.Signal(syscall.SIGTERM)
		_ = cmd.Wait()
		_ = os.RemoveAll(dir)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if base = address.FindString(lines.Text()); base != "" {
			go func() { _, _ = io.Copy(io.Discard, out) }()
			return base, stop, nil
		}
	}
	stop()
	return "", nil, errors.New("the program did not start")
}
