package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// test is one test function in a compiled package.
type test struct {
	binary, dir, name string

	took    time.Duration // without a change
	reached map[int]bool  // the mutants that it comes by
}

// compile makes the tests of a package and runs each once with no mutant on.
func compile(pkg, overlay, binary string) ([]*test, error) {
	dir, err := exec.Command("go", "list", "-f", "{{.Dir}}", pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", pkg, err)
	}
	if out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", binary, pkg).CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	if _, err := os.Stat(binary); errors.Is(err, fs.ErrNotExist) {
		return nil, nil // the package has no tests
	}
	all := test{binary: binary, dir: strings.TrimSpace(string(dir))}
	list := exec.Command(binary, "-test.list", "^(Test|Example|Fuzz)")
	list.Dir = all.dir
	names, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("the tests of %s: %w", pkg, err)
	}
	var tests []*test
	for _, name := range strings.Fields(string(names)) {
		t := all
		t.name = name
		if err := t.learn(filepath.Join(filepath.Dir(binary), "seen")); err != nil {
			return nil, fmt.Errorf("%s: %w", pkg, err)
		}
		if len(t.reached) > 0 {
			tests = append(tests, &t)
		}
	}
	return tests, nil
}

// learn runs the test with no mutant on; those that it comes by are written to
// the file seen.
func (t *test) learn(seen string) error {
	began := time.Now()
	if out, err := t.command(context.Background(), "MUTANT_SEEN="+seen).CombinedOutput(); err != nil {
		return fmt.Errorf("%s fails without a change: %w\n%s", t.name, err, out)
	}
	t.took, t.reached = time.Since(began), map[int]bool{}
	list, err := os.ReadFile(seen)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // it comes by none
	} else if err != nil {
		return err
	}
	for _, line := range strings.Fields(string(list)) {
		n, err := strconv.Atoi(line)
		if err != nil {
			return err
		}
		t.reached[n] = true
	}
	return os.Remove(seen)
}

func (t *test) command(ctx context.Context, env string) *exec.Cmd {
	c := exec.CommandContext(ctx, t.binary, "-test.failfast", "-test.timeout=0", "-test.run", "^"+t.name+"$")
	c.Dir = t.dir
	c.Env = append(os.Environ(), env)
	c.WaitDelay = time.Second // programs that it has started may hold its output
	return c
}

// notices tells whether the test fails with a mutant on.
func (t *test) notices(mutant int) bool {
	ctx, cancel := context.WithTimeout(context.Background(), 10*t.took+30*time.Second)
	defer cancel()
	return t.command(ctx, "MUTANT="+strconv.Itoa(mutant)).Run() != nil
}
