// Package lint judges a plan: rules look at what the plan says and at what was
// worked out from it, and report findings. It knows no protocol and no file
// system.
package lint

import (
	"strconv"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Level says how much a finding weighs.
type Level int

// Off silences a rule; Hint is advice, Warning will likely disappoint, Error
// cannot work or can hurt someone or something.
const (
	Off Level = iota
	Hint
	Warning
	Error
)

func (l Level) String() string { return [...]string{"off", "hint", "warning", "error"}[l] }

// LevelNamed reads a level's name.
func LevelNamed(s string) (Level, bool) {
	for l := Off; l <= Error; l++ {
		if l.String() == s {
			return l, true
		}
	}
	return Off, false
}

// Rule is one thing that can be wrong with a plan. Its name says what is
// wrong, so that "allow NAME because …" reads well; names never change.
type Rule struct {
	Name    string
	Title   string // at most 60 letters, no full stop
	Level   Level  // of its findings; one of them may weigh less
	Guard   bool   // guards against fire or shock: a policy cannot switch it off
	Why     string // Markdown
	Formula string // Markdown; empty where nothing is computed
	Do      string // Markdown: what to do about it
	NoFix   string // Markdown: why no edit of the text can clear its findings; empty where one can
	Sources []string
	Bad     func() string // a whole plan that has this finding; put together when it is asked for
	Good    func() string // the same plan mended
	// Hazard is the margin that the findings are about, if it is one: a remedy
	// brings it to 1, also where another finding would hide that it does not.
	Hazard figures.Hazard
	// Follows names rules whose findings about the same block explain those of
	// this one: these are told under them.
	Follows []string
	// Long is set for one that takes longer than the others where it has something to do, and
	// works on several things at a time: it begins before them.
	Long bool
	// Check looks at the plan and reports. It is nil for the rules of the
	// language itself, which the decoder reports.
	Check func(*Pass)
}

// Silenceable reports whether a comment or a policy may silence the rule. What
// the decoder reports cannot be silenced: a value that makes no sense as text
// is not there, whatever a comment says of it, and neither can the rules about
// silencing.
func (r *Rule) Silenceable() bool { return r.Check != nil }

// RuleNamed finds a rule by its name.
func RuleNamed(rules []*Rule, name string) (*Rule, bool) {
	for _, r := range rules {
		if r.Name == name {
			return r, true
		}
	}
	return nil, false
}

// Pass is one rule's look at one plan.
type Pass struct {
	Plan    *schema.Plan
	Figures *figures.Figures

	rule *Rule
	out  *[]Finding
}

// Report adds a finding of the pass's rule. Rule is filled in, and so is Level
// where the finding does not weigh less than its rule. One about a value that is
// usual is told at the block, and points to the value too.
func (p *Pass) Report(f Finding) {
	if b, ok := p.Plan.Find(f.Subject); ok && schema.HeaderOf(b).IsUsual(f.At) {
		h := schema.HeaderOf(b)
		f.Related = append([]Related{{At: f.At, Message: "comes from usual " + strconv.Quote(h.Type.Name)}}, f.Related...)
		f.At = h.Head()
	}
	f.Rule = p.rule.Name
	if f.Level == Off || f.Level > p.rule.Level {
		f.Level = p.rule.Level
	}
	*p.out = append(*p.out, f)
}
