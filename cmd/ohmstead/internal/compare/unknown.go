package compare

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// unjudged lists the runs and leads of head of which no figures could be worked out,
// and gives what of its text is to blame.
func (m *matching) unjudged() (ids []string, why string) {
	f := m.head.Figures
	for i, r := range f.Runs {
		if !r.OK || len(f.Cases) > 0 && !f.Cases[0].Runs[i].OK {
			ids = append(ids, r.ID())
		}
	}
	for _, l := range f.Leads {
		if !l.OK {
			ids = append(ids, l.ID())
		}
	}
	var messages []string
	for _, p := range m.head.Plan.Problems {
		if r, ok := ruleNamed(p.Rule); ok && r.Level == lint.Error && !slices.ContainsFunc(m.base.Plan.Problems, func(b *schema.Problem) bool { return b.Message == p.Message }) {
			what, _, _ := strings.Cut(p.Message, ";")
			if file, start, _, ok := m.head.Plan.Locate(p.At); ok && p.Rule == "syntax" {
				what = fmt.Sprintf("%s:%d: %s", file.Text.Path(), file.Text.OffsetPosition(start, source.Rune).Line+1, what)
			}
			messages = append(messages, what)
		}
	}
	for id := range m.head.twice {
		if !m.base.twice[m.renameBack(id)] {
			return ids, id + " is written twice"
		}
	}
	if len(messages) > 0 {
		why = messages[0]
	}
	return ids, why
}

// unjudgedText says what nobody knows after the change.
func (p *Plan) unjudgedText() string {
	s := ""
	switch p.Unsolved {
	case "base":
		return "not all of the wiring could be worked out before the change; what is told as new may have been there"
	case "head":
		s = "after the change "
	case "both":
		s = "neither before nor after the change "
	}
	if len(p.Unjudged) > 0 {
		s += listed(p.Unjudged, 3) + " and what hangs on them"
	} else {
		s += "all of the wiring"
	}
	if p.Why != "" {
		s += ", because " + clip(oneLine(p.Why), 160)
	}
	return s
}

// blamed reports whether a finding is what the plan could not be judged for, which is
// told where that is.
func (p *Plan) blamed(f Finding) bool {
	what, _, _ := strings.Cut(f.Message, ";")
	return p.halfKnown() && strings.HasSuffix(p.Why, what)
}

// halfKnown reports whether the figures after the change say only part.
func (p *Plan) halfKnown() bool { return p.Unsolved == "head" || p.Unsolved == "both" }
