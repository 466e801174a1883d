package ide

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Diagnostic is a finding at its place.
type Diagnostic struct {
	Location
	Level       lint.Level
	Code        string // the rule's name
	Explained   bool   // there is a rule of that name, and a page about it
	Message     string
	Unnecessary bool // marks text that has no effect
	Related     []RelatedPlace
	Finding     int // index of v.Findings
}

// RelatedPlace is another place that has to do with a finding.
type RelatedPlace struct {
	Location
	Message string
}

// Diagnostics gives the findings of a level and above at their places, in all
// files of the plan and its stock. One about the plan as a whole stands at the
// start of its first file. v.File is not looked at.
func Diagnostics(v *View, least lint.Level) []Diagnostic {
	var out []Diagnostic
	for i := range v.Findings {
		f := &v.Findings[i]
		if f.Level < least {
			continue
		}
		at, ok := v.Locate(f.At)
		if !ok {
			if at, ok = v.whole(f); !ok {
				continue
			}
		}
		_, explained := v.rule(f.Rule)
		d := Diagnostic{
			Location: at, Level: f.Level, Code: f.Rule, Explained: explained, Message: Shown(f), Finding: i,
			Unnecessary: f.Rule == lint.RuleAllowUnused,
		}
		for _, r := range f.Related {
			if l, ok := v.Locate(r.At); ok {
				d.Related = append(d.Related, RelatedPlace{l, terminal.Printable(r.Message)})
			}
		}
		out = append(out, d)
	}
	return out
}

// Shown is the message of a finding as the editor has it.
func Shown(f *lint.Finding) string { return terminal.Printable(lint.Headline(f.Message)) }

// Unjudged tells the wiring that no rule has looked at, where what has to be known
// first is written. Nothing is to be mended there but what a finding says anyway.
func Unjudged(v *View) []Diagnostic {
	var out []Diagnostic
	for _, u := range lint.UnjudgedIn(v.Plan, v.Figures) {
		if at, ok := v.Locate(u.At); ok {
			out = append(out, Diagnostic{Location: at, Code: "not-judged", Message: terminal.Printable(u.String())})
		}
	}
	return out
}

// whole is where a finding about the plan as a whole is shown: one about a
// refused file in that, unless it cannot be opened.
func (v *View) whole(f *lint.Finding) (Location, bool) {
	files := v.files()
	if len(files) == 0 {
		return Location{}, false
	}
	file := files[0]
	if f.Rule == schema.RuleTooLarge {
		if i := slices.IndexFunc(files, func(x *source.File) bool { return strings.HasPrefix(f.Message, x.Text.Path()+": ") }); i >= 0 {
			file = files[i]
		}
		if i := slices.IndexFunc(files, func(x *source.File) bool { return x.Unread() == nil }); i >= 0 && file.Unread() != nil {
			file = files[i]
		}
	}
	return Location{file.Text.Path(), file.Text.LineStart(0), file.Text.LineStart(0)}, true
}

// Explain writes what there is to say about a rule, as Markdown.
func Explain(r *lint.Rule) string {
	var p page
	p.add("# %s", r.Name)
	p.add("%s. Level: %s.", r.Title, r.Level)
	if r.Guard {
		p.add("It guards against fire or shock: a policy cannot switch it off.")
	}
	p.add("%s", r.Why)
	if r.Formula != "" {
		p.add("## How it is worked out\n\n%s", strings.TrimSpace(r.Formula))
	}
	if r.Do != "" {
		p.add("## What to do\n\n%s", strings.TrimSpace(r.Do))
	}
	if r.NoFix != "" {
		p.add("## Why nothing is offered\n\n%s", strings.TrimSpace(r.NoFix))
	}
	if r.Bad != nil {
		p.add("## A plan that has it\n\n%s", code(r.Bad()))
	}
	if r.Good != nil {
		p.add("## The same, mended\n\n%s", code(r.Good()))
	}
	if len(r.Sources) > 0 {
		var lines []string
		for _, s := range r.Sources {
			lines = append(lines, fmt.Sprintf("- %s", s))
		}
		p.add("## Sources\n\n%s", strings.Join(lines, "\n"))
	}
	return p.String()
}
