package linttest

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/remedy"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

var update = flag.Bool("update", false, "rewrite the golden sections of fixtures")

// Run judges a fixture file by all rules and reports what differs from what it
// wants.
func Run(t *testing.T, file string, rules []*lint.Rule) {
	t.Helper()
	f, err := Load(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range f.Judge(rules) {
		t.Error(m)
	}
	now, err := f.updated(rules)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(file, now, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if have := txtar.Format(f.ar); !bytes.Equal(have, now) {
		t.Errorf("%s: findings or fixes differ from the golden sections; review with -update:\n%s", file, firstChange(string(have), string(now)))
	}
}

// Judge compares the findings in every plan of the fixture with its wants, and
// tries every fix of the fixture's rule. It returns one message for each
// difference.
func (f *Fixture) Judge(rules []*lint.Rule) []string {
	var out []string
	for _, dir := range f.plans() {
		plan := f.decode(dir, nil)
		found := judge(plan, rules)
		wants, err := f.wants(dir)
		if err != nil {
			return append(out, err.Error())
		}
		for i := range found {
			file, line := place(plan, found[i].At)
			if !met(wants, &found[i], file, line) && found[i].Level >= lint.Warning {
				out = append(out, fmt.Sprintf("%s:%d: not wanted: %s %s: %s\n\t%s", file, line, found[i].Level, found[i].Rule, found[i].Message, f.line(file, line)))
			}
		}
		for _, w := range wants {
			if !w.met && strings.HasPrefix(w.file, dir+"/") {
				out = append(out, fmt.Sprintf("%s:%d: no %s that says %q\n\t%s", w.file, w.line, w.rule, w.re, f.line(w.file, w.line)))
			}
		}
		for i := range found {
			if found[i].Rule == f.Rule {
				out = append(out, f.tryFixes(dir, plan, found, &found[i], rules)...)
			}
		}
	}
	return out
}

func judge(plan *schema.Plan, rules []*lint.Rule) []lint.Finding {
	fig, _ := figures.Work(context.Background(), plan, nil) // fails only where its context ends
	v, _ := lint.Run(context.Background(), plan, fig, rules)
	found, _ := remedy.New(plan, fig, v.Findings, rules).All(context.Background())
	return found
}

func met(wants []*want, f *lint.Finding, file string, line int) bool {
	for _, w := range wants {
		if !w.met && w.file == file && w.line == line && w.rule == f.Rule && w.re.MatchString(f.Message) {
			w.met = true
			return true
		}
	}
	return false
}

// place is where a finding stands; findings about the plan as a whole stand at
// the first line of its first file.
func place(plan *schema.Plan, at source.Span) (file string, line int) {
	if f, start, _, ok := plan.Locate(at); ok {
		return f.Text.Path(), f.Text.OffsetPosition(start, source.UTF8).Line + 1
	}
	if len(plan.Files) > 0 {
		return plan.Files[0].Text.Path(), 1
	}
	return plan.Dir, 1
}

// line is a line of a plan, for a reader who sees only what the fixture writes
// of it.
func (f *Fixture) line(file string, n int) string {
	for _, s := range f.files {
		if lines := strings.Split(string(s.Data), "\n"); s.Name == file && n <= len(lines) {
			return lines[n-1]
		}
	}
	return ""
}

// tryFixes applies each fix of a finding and judges the plan again.
func (f *Fixture) tryFixes(dir string, plan *schema.Plan, before []lint.Finding, of *lint.Finding, rules []*lint.Rule) []string {
	var out []string
	for _, fix := range of.Fixes {
		files, err := plan.Edited(fix.Edits)
		if err != nil {
			out = append(out, fmt.Sprintf("%s: fix %q: %v", dir, fix.Title, err))
			continue
		}
		left := map[[2]string]int{}
		for _, b := range before {
			left[[2]string{b.Rule, b.Subject}]++
		}
		left[[2]string{of.Rule, of.Subject}]--
		for _, a := range judge(f.decode(dir, files), rules) {
			k := [2]string{a.Rule, a.Subject}
			if left[k]--; left[k] < 0 && (a.Level >= lint.Warning || a.Rule == of.Rule) {
				out = append(out, fmt.Sprintf("%s: after fix %q there is %s %s: %s", dir, fix.Title, a.Level, a.Rule, a.Message))
			}
		}
	}
	return out
}

func firstChange(have, want string) string {
	a, b := strings.Split(have, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("line %d\nhave %s\nnow  %s", i+1, a[i], b[i])
		}
	}
	return fmt.Sprintf("have %d lines, now %d", len(a), len(b))
}
