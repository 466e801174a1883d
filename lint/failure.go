package lint

import (
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// look is what came of one rule's look at a plan.
type look struct {
	found  []Finding
	failed bool
}

// look lets a rule look at a plan. A panic is a mistake in the rule: what it
// found until then cannot be trusted, and that it failed is the finding.
func (r *Rule) look(plan *schema.Plan, fig *figures.Figures) (l look) {
	defer func() {
		if caught := recover(); caught != nil {
			l = look{failed: true, found: []Finding{{Rule: RuleFailed, Level: Error, Message: fmt.Sprintf(
				"%s failed on this plan, and what it looks for is not judged (%v%s); this is a mistake in the program: report it with the plan, and judge by hand until then",
				r.Name, caught, whence())}}}
		}
	}()
	r.Check(&Pass{Plan: plan, Figures: fig, rule: r, out: &l.found})
	return l
}

// whence is where in the program a panic began, as " in file:line", as far as
// that can be told.
func whence() string {
	callers := make([]uintptr, 64)
	frames := runtime.CallersFrames(callers[:runtime.Callers(0, callers)])
	for panicked := false; ; {
		f, more := frames.Next()
		switch {
		case f.Function == "runtime.gopanic":
			panicked = true
		case panicked && f.Function != "" && !strings.HasPrefix(f.Function, "runtime."):
			return fmt.Sprintf(" in %s:%d", filepath.Base(f.File), f.Line)
		}
		if !more {
			return ""
		}
	}
}
