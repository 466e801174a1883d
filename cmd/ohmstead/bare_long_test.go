//go:build long

package main

import (
	"regexp"
	"strings"
	"testing"
)

// On a machine that has nothing but Go every test passes or says which tool it lacks.
func TestBareMachine(t *testing.T) {
	withoutNoSkip(t)
	out, passed := bare(t, t.TempDir())
	if !passed {
		t.Errorf("without any tool tests fail:\n%s", out)
	}
	reasons := regexp.MustCompile(`(?m)^ +\w+\.go:\d+: (.+) is not there$`).FindAllStringSubmatch(out, -1)
	lacked := map[string]bool{}
	for _, r := range reasons {
		lacked[r[1]] = true
	}
	for _, tool := range []string{"git", "pre-commit", "nvim", "emacs", "vim"} {
		if !lacked[tool] {
			t.Errorf("no test says that %s is not there", tool)
		}
	}
	if skips := strings.Count(out, "--- SKIP"); skips != len(reasons) {
		t.Errorf("%d tests skip, and %d say for want of what", skips, len(reasons))
	}
}
