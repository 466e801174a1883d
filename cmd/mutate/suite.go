package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// suite is the compiled tests of one package.
type suite struct {
	binary, dir string
	took        time.Duration // without a change
	reached     map[int]bool  // the mutants that the tests come by
}

// compile makes the tests of a package and runs them once with no mutant on. It
// is nil for a package without tests.
func compile(pkg, overlay, binary string) (*suite, error) {
	out, err := exec.Command("go", "list", "-f", "{{.Dir}}", pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", pkg, err)
	}
	s := &suite{binary: binary, dir: strings.TrimSpace(string(out)), reached: map[int]bool{}}
	if out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", binary, pkg).CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	if _, err := os.Stat(binary); err != nil {
		return nil, nil
	}
	seen := binary + ".seen"
	began := time.Now()
	if out, err := s.command(context.Background(), "MUTANT_SEEN="+seen).CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the tests of %s fail without a change: %w\n%s", pkg, err, out)
	}
	s.took = time.Since(began)
	if list, err := os.ReadFile(seen); err == nil { // there is none when no mutant was reached
		for _, line := range strings.Fields(string(list)) {
			n, err := strconv.Atoi(line)
			if err != nil {
				return nil, err
			}
			s.reached[n] = true
		}
	}
	return s, nil
}

func (s *suite) command(ctx context.Context, env string) *exec.Cmd {
	c := exec.CommandContext(ctx, s.binary, "-test.failfast", "-test.timeout=0")
	c.Dir = s.dir
	c.Env = append(os.Environ(), env)
	c.WaitDelay = time.Second // programs that the tests have started may hold its output
	return c
}

// notices tells whether the tests fail with a mutant on.
func (s *suite) notices(mutant int) bool {
	ctx, cancel := context.WithTimeout(context.Background(), 10*s.took+30*time.Second)
	defer cancel()
	return s.command(ctx, "MUTANT="+strconv.Itoa(mutant)).Run() != nil
}
