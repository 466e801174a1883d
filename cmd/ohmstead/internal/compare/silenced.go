package compare

import (
	"fmt"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema/source"
)

// Silenced says what plans hide of what is found: a reviewer who does not see
// that sees nothing.
type Silenced struct {
	New     []Silence `json:"new"`     // told before, or not there
	Changed []Silence `json:"changed"` // for another reason, or at a lower level
	Gone    []Silence `json:"gone"`    // told now, or not found any more
	Kept    []Silence `json:"still"`
	// Settings are the levels that a policy gives to rules and did not give, or gives
	// no longer, of which nothing above tells: what would be found tomorrow.
	Settings []Setting `json:"settings"`
}

// Setting is a rule's level that a policy changes; "" where no policy says one.
type Setting struct {
	Rule   string `json:"rule"`
	Was    string `json:"was"`
	Is     string `json:"is"`
	File   string `json:"file"` // of the policy that says it, or said it
	Line   int    `json:"line"`
	Reason string `json:"reason"`
}

// settings compares what the policies of both sides say of rules.
func (m *matching) settings(s *Silenced) {
	levels := func(v *version) (map[string]lint.Setting, []string) {
		out := map[string]lint.Setting{}
		var order []string
		for _, x := range lint.Settings(v.Plan) {
			if _, set := out[x.Rule.Text]; !set {
				out[x.Rule.Text] = x
				order = append(order, x.Rule.Text)
			}
		}
		return out, order
	}
	was, before := levels(m.base)
	is, after := levels(m.head)
	told := map[string]bool{}
	for _, of := range [][]Silence{s.New, s.Changed, s.Gone} {
		for _, x := range of {
			told[x.Rule] = told[x.Rule] || x.By == string(lint.Policy)
		}
	}
	note := func(rule string, of *version, x lint.Setting, a, b string) {
		r, known := ruleNamed(rule)
		if told[rule] || !known || x.Level < r.Level && (r.Guard || !r.Silenceable()) {
			return // what does not work is a finding
		}
		told[rule] = true
		set := Setting{Rule: rule, Was: a, Is: b, Reason: x.Reason}
		if f, start, _, ok := of.Plan.Locate(x.Rule.At); ok {
			set.File, set.Line = f.Text.Path(), f.Text.OffsetPosition(start, source.Rune).Line+1
		}
		s.Settings = append(s.Settings, set)
	}
	for _, rule := range after {
		x := is[rule]
		old, set := was[rule]
		switch {
		case !set:
			note(rule, m.head, x, "", x.Level.String())
		case old.Level != x.Level || old.Reason != x.Reason && x.Level == lint.Off:
			note(rule, m.head, x, old.Level.String(), x.Level.String())
		}
	}
	for _, rule := range before {
		if _, set := is[rule]; !set {
			note(rule, m.base, was[rule], was[rule].Level.String(), "")
		}
	}
}

// sentence says what a policy makes of a rule.
func (x Setting) sentence() string {
	at := fmt.Sprintf(" (%s:%d)", x.File, x.Line)
	because := ""
	if x.Reason != "" && x.Is == lint.Off.String() {
		because = " because " + clip(oneLine(x.Reason), 100)
	}
	level := func(l string) string {
		if l == lint.Off.String() {
			return "off"
		}
		return "a " + l
	}
	switch {
	case x.Is == "":
		return fmt.Sprintf("a policy no longer makes %s %s", x.Rule, level(x.Was))
	case x.Was == x.Is:
		return fmt.Sprintf("%s is off by policy%s for another reason:%s", x.Rule, at, strings.TrimPrefix(because, " because"))
	case x.Was == "" && x.Is == lint.Off.String():
		return fmt.Sprintf("%s is turned off by policy%s%s; today it hides nothing", x.Rule, at, because)
	case x.Was == "":
		return fmt.Sprintf("%s is %s by policy%s now", x.Rule, level(x.Is), at)
	}
	return fmt.Sprintf("%s is %s by policy%s%s, before: %s", x.Rule, level(x.Is), at, because, level(x.Was))
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
	out := Silenced{New: []Silence{}, Changed: []Silence{}, Gone: []Silence{}, Kept: []Silence{}, Settings: []Setting{}}
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
		case s.found.Worse(old.found): // the comment was about less
			s.Worse, s.was = true, old.found
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

func (s *Silenced) same() bool { return len(s.New)+len(s.Changed)+len(s.Gone)+len(s.Settings) == 0 }

// sentence says what is newly hidden, what of it is worst and why nobody is to hear
// of it; "" where nothing changed.
func (s *Silenced) sentence() string {
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
		text := s.Changed[0].changed()
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
	if len(s.Settings) > 0 {
		text := s.Settings[0].sentence()
		if n := len(s.Settings) - 1; n > 0 {
			text += fmt.Sprintf("; and %d more", n)
		}
		parts = append(parts, text)
	}
	if len(parts) > 0 && len(s.Kept) > 0 {
		parts = append(parts, fmt.Sprintf("%d as before", len(s.Kept)))
	}
	return strings.Join(parts, "; ")
}

// changed says how a finding is hidden otherwise than before.
func (x Silence) changed() string {
	if x.ByFile == "" {
		return fmt.Sprintf("%s at %s is a %s now by policy, before: %s", x.Rule, x.Subject, x.Level, x.Was)
	}
	return fmt.Sprintf("%s at %s is hidden for another reason: %s, before: %s", x.Rule, x.Subject, oneLine(x.Reason), oneLine(x.Was))
}

// lowers reports whether less is told than before.
func (x Setting) lowers() bool {
	is, _ := lint.LevelNamed(x.Is)
	was, _ := lint.LevelNamed(x.Was)
	if r, ok := ruleNamed(x.Rule); ok {
		if x.Is == "" {
			is = r.Level
		}
		if x.Was == "" {
			was = r.Level
		}
	}
	return is < was || x.Was == x.Is
}

// sentence says what is hidden, by what and why.
func (x Silence) sentence() string {
	what, _, _ := strings.Cut(x.Message, ";")
	rule := x.Rule
	if x.Guard {
		rule += ", which guards against fire or shock,"
	}
	if x.By == string(lint.Baseline) {
		return fmt.Sprintf("%s is not told any more because %s, which hides: %s", rule, oneLine(x.Reason), clip(oneLine(what), 200))
	}
	if x.Worse {
		return fmt.Sprintf("%s is worse than it was%s, under the same %s (%s:%d) because %s, which hides: %s", rule, grown(x.Finding), x.By, x.ByFile, x.ByLine, clip(oneLine(x.Reason), 100), clip(oneLine(what), 200))
	}
	return fmt.Sprintf("%s is silenced by a %s (%s:%d) because %s, and hides: %s", rule, x.By, x.ByFile, x.ByLine, clip(oneLine(x.Reason), 100), clip(oneLine(what), 200))
}

func (p *Plan) silenceTable() table {
	s := p.Silenced
	t := table{title: fmt.Sprintf("Hidden findings: %d new, %d changed, %d gone, %d as before", len(s.New), len(s.Changed), len(s.Gone), len(s.Kept)),
		head: []string{"", "level", "rule", "what is hidden", "by", "because"}}
	list := func(what string, of []Silence) {
		at := map[string]int{}
		n := map[int]int{}
		for _, x := range of {
			by := fmt.Sprintf("%s %s:%d", x.By, x.ByFile, x.ByLine)
			if x.ByFile == "" {
				by = x.By
			}
			key := x.Rule + by
			if i, seen := at[key]; seen && x.ByFile != "" { // one comment, several findings
				n[i]++
				continue
			}
			at[key] = len(t.rows)
			t.rows = append(t.rows, row{[]string{what, x.Level, x.Rule, x.Message, by, orNone(x.Reason)}, what == "new" && x.Guard})
		}
		for i, more := range n {
			t.rows[i].cells[3] += fmt.Sprintf(" (and %d more)", more)
		}
	}
	list("new", s.New)
	list("changed", s.Changed)
	list("gone", s.Gone)
	list("still", s.Kept)
	for _, x := range s.Settings {
		t.add("policy", orNone(x.Was)+" → "+orNone(x.Is), x.Rule, "whatever it would find", fmt.Sprintf("policy %s:%d", x.File, x.Line), orNone(x.Reason))
	}
	return t
}
