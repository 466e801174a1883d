package compare

import (
	"fmt"
	"strings"

	"ohmstead/lint"
)

// Silenced says what plans hide of what is found: a reviewer who does not see
// that sees nothing.
type Silenced struct {
	New     []Silence `json:"new"`     // told before, or not there
	Changed []Silence `json:"changed"` // for another reason, or at a lower level
	Gone    []Silence `json:"gone"`    // told now, or not found any more
	Kept    []Silence `json:"still"`
}

// Silence is a finding that is hidden, or told at a lower level than before.
type Silence struct {
	Finding
	Guard  bool   `json:"guard"` // the rule guards against fire or shock
	By     string `json:"by"`    // "comment" or "policy"
	ByFile string `json:"by_file"`
	ByLine int    `json:"by_line"`
	Reason string `json:"reason"`
	Was    string `json:"was,omitempty"` // the reason or the level before, where that changed
}

func silenced(was, is []Silence) Silenced {
	out := Silenced{New: []Silence{}, Changed: []Silence{}, Gone: []Silence{}, Kept: []Silence{}}
	before := map[string]Silence{}
	for _, s := range was {
		before[s.Fingerprint] = s
	}
	after := map[string]bool{}
	for _, s := range is {
		after[s.Fingerprint] = true
		old, known := before[s.Fingerprint]
		switch {
		case !known:
			out.New = append(out.New, s)
		case old.Reason != s.Reason || old.By != s.By:
			s.Was = old.Reason
			out.Changed = append(out.Changed, s)
		default:
			out.Kept = append(out.Kept, s)
		}
	}
	for _, s := range was {
		if !after[s.Fingerprint] {
			out.Gone = append(out.Gone, s)
		}
	}
	return out
}

// lowered notes a finding that weighs less than before, as a policy says.
func (s *Silenced) lowered(was, is Finding) {
	old, _ := lint.LevelNamed(was.Level)
	now, _ := lint.LevelNamed(is.Level)
	if now < old {
		s.Changed = append(s.Changed, Silence{Finding: is, By: "policy", Was: was.Level})
	}
}

func (s *Silenced) same() bool { return len(s.New)+len(s.Changed)+len(s.Gone) == 0 }

// told says what is newly hidden, what of it is worst and why nobody is to hear
// of it; "" where nothing changed.
func (s *Silenced) told() string {
	var parts []string
	if len(s.New) > 0 {
		worst := s.New[0]
		for _, x := range s.New {
			if x.Guard && !worst.Guard {
				worst = x
			}
		}
		text := countOf(len(s.New), "finding is newly hidden", "findings are newly hidden") + ": " + worst.sentence()
		if n := len(s.New) - 1; n > 0 {
			text += fmt.Sprintf("; and %d more", n)
		}
		parts = append(parts, text)
	}
	if len(s.Changed) > 0 {
		x := s.Changed[0]
		text := fmt.Sprintf("%s at %s is hidden for another reason: %s, before: %s", x.Rule, x.Subject, oneLine(x.Reason), oneLine(x.Was))
		if x.ByFile == "" {
			text = fmt.Sprintf("%s at %s is a %s now, before: %s", x.Rule, x.Subject, x.Level, x.Was)
		}
		if n := len(s.Changed) - 1; n > 0 {
			text += fmt.Sprintf("; and %d more", n)
		}
		parts = append(parts, text)
	}
	if len(s.Gone) > 0 {
		var of []Finding
		for _, x := range s.Gone {
			of = append(of, x.Finding)
		}
		parts = append(parts, "hidden no longer: "+named(of))
	}
	if len(parts) > 0 && len(s.Kept) > 0 {
		parts = append(parts, fmt.Sprintf("%d as before", len(s.Kept)))
	}
	return strings.Join(parts, "; ")
}

// sentence says what is hidden, by what and why.
func (x Silence) sentence() string {
	what, _, _ := strings.Cut(x.Message, ";")
	rule := x.Rule
	if x.Guard {
		rule += ", which guards against fire or shock,"
	}
	return fmt.Sprintf("%s is silenced by a %s (%s:%d) because %s, and hides: %s", rule, x.By, x.ByFile, x.ByLine, clip(oneLine(x.Reason), 100), clip(oneLine(what), 200))
}

func (p *Plan) silenceTable() table {
	s := p.Silenced
	t := table{title: fmt.Sprintf("Hidden findings: %d new, %d changed, %d gone, %d as before", len(s.New), len(s.Changed), len(s.Gone), len(s.Kept)),
		head: []string{"", "level", "rule", "what is hidden", "by", "because"}}
	list := func(what string, of []Silence) {
		for _, x := range of {
			by := fmt.Sprintf("%s %s:%d", x.By, x.ByFile, x.ByLine)
			if x.ByFile == "" {
				by = x.By
			}
			t.rows = append(t.rows, row{[]string{what, x.Level, x.Rule, x.Message, by, orNone(x.Reason)}, what == "new" && x.Guard})
		}
	}
	list("new", s.New)
	list("changed", s.Changed)
	list("gone", s.Gone)
	list("still", s.Kept)
	return t
}
