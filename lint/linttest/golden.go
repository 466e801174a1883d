package linttest

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"golang.org/x/tools/txtar"

	"ohmstead/lint"
	"ohmstead/lint/linttest/change"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// updated is the fixture with its golden sections as they come out now.
func (f *Fixture) updated(rules []*lint.Rule) ([]byte, error) {
	out := &txtar.Archive{Comment: f.ar.Comment}
	for _, s := range f.ar.Files {
		if !golden(s.Name) {
			out.Files = append(out.Files, s)
		}
	}
	var list strings.Builder
	var fixed []txtar.File
	seen := map[string]bool{}
	for _, dir := range f.plans() {
		plan := f.decode(dir, nil)
		for _, found := range judge(plan, rules) {
			if found.Rule != f.Rule {
				continue
			}
			dump(&list, plan, &found)
			for _, fix := range found.Fixes {
				files, err := plan.Edited(fix.Edits)
				if err != nil || seen[fix.Title] {
					continue
				}
				seen[fix.Title] = true
				for _, name := range slices.Sorted(maps.Keys(files)) {
					before, err := f.like(path.Dir(name), path.Base(name))
					if err != nil {
						return nil, err
					}
					fixed = append(fixed, txtar.File{
						Name: "fix/" + fix.Title + "/" + path.Base(name) + " like " + path.Dir(name),
						Data: []byte(change.Between(before, string(files[name]))),
					})
				}
			}
		}
	}
	out.Files = append(out.Files, txtar.File{Name: "findings", Data: []byte(list.String())})
	out.Files = append(out.Files, fixed...)
	return txtar.Format(out), nil
}

// dump writes a finding with every field.
func dump(b *strings.Builder, plan *schema.Plan, f *lint.Finding) {
	fmt.Fprintf(b, "%s: %s %s %s\n\t%s\n", span(plan, f.At), f.Level, f.Rule, f.Subject, f.Message)
	if f.Value != nil {
		fmt.Fprintf(b, "\tvalue %.6g against %.6g %s\n", f.Value.Got, f.Value.Limit, f.Value.Unit)
	}
	if f.Case != "" {
		fmt.Fprintf(b, "\tcase %s\n", f.Case)
	}
	for _, r := range f.Related {
		fmt.Fprintf(b, "\trelated %s: %s\n", span(plan, r.At), r.Message)
	}
	for _, x := range f.Fixes {
		fmt.Fprintf(b, "\tfix %s (%s)\n", x.Title, x.Grade)
	}
}

// span writes a place as file:line:column-line:column, counted from 1.
func span(plan *schema.Plan, at source.Span) string {
	f, start, end, ok := plan.Locate(at)
	if !ok {
		return plan.Dir
	}
	a, z := f.Text.OffsetPosition(start, source.UTF8), f.Text.OffsetPosition(end, source.UTF8)
	return fmt.Sprintf("%s:%d:%d-%d:%d", f.Text.Path(), a.Line+1, a.Column+1, z.Line+1, z.Column+1)
}
