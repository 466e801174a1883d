package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"

	"ohmstead/lint"
)

// Statistics writes how often each rule found something, the most frequent
// first; nothing when none did.
func Statistics(w io.Writer, r *Run) error {
	type line struct {
		rule  string
		level lint.Level
		n     int
		plans map[string]bool
	}
	byRule := map[string]*line{}
	for f := range r.All {
		l := byRule[f.Rule]
		if l == nil {
			l = &line{rule: f.Rule, plans: map[string]bool{}}
			byRule[f.Rule] = l
		}
		l.n++
		l.level = max(l.level, f.Level)
		l.plans[f.Plan] = true
	}
	if len(byRule) == 0 {
		return nil
	}
	var lines []*line
	for _, l := range byRule {
		lines = append(lines, l)
	}
	slices.SortFunc(lines, func(a, b *line) int {
		return cmp.Or(b.n-a.n, cmp.Compare(a.rule, b.rule))
	})
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%5s  %5s  %-8s %s\n", "found", "plans", "level", "rule")
	for _, l := range lines {
		fmt.Fprintf(b, "%5d  %5d  %-8s %s\n", l.n, len(l.plans), l.level, l.rule)
	}
	return b.Flush()
}
