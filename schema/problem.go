package schema

import (
	"fmt"
	"strconv"
	"strings"

	"ohmstead/schema/source"
)

// Problem is something in a plan's text that does not make sense as language:
// a wrong unit, an unknown name. What makes sense but will not work on the
// wall is for the rules of package lint.
type Problem struct {
	Rule    string // the language rule's name, one of the Rule constants
	At      source.Span
	Message string
	Related []Related
	Fixes   []Fix
}

// Related is another place that has to do with a problem.
type Related struct {
	At      source.Span
	Message string
}

// Fix is a remedy as edits of the text.
type Fix struct {
	Title string // a verb phrase: "Write let.gap"
	Then  string // what it brings, once it was tried: "far pixel 4.87 V, 13 g of copper more"; empty for nothing beside what Title says
	Grade Grade
	Edits []Edit
}

// Grade says what a fix asks of whoever applies it.
type Grade int

// A Choice costs money or moves something, or is a guess among several. A
// Notation says the same thing rightly, and has only one sensible outcome. A
// Fact writes down what only a look at the wall can settle: a count, a length
// that nobody measured.
const (
	GradeChoice Grade = iota
	GradeNotation
	GradeFact
)

// Caution is what is said behind the title of a fix: a fact is looked at before it is written.
func (g Grade) Caution() string {
	if g == GradeFact {
		return "; check it on site first"
	}
	return ""
}

func (g Grade) String() string { return [...]string{"choice", "notation", "fact"}[g] }

// Edit replaces a stretch of text; an empty stretch inserts.
type Edit struct {
	At  source.Span
	New string
}

// The names of the language rules.
const (
	RuleSyntax        = "syntax"
	RuleTooLarge      = "too-large"
	RuleBlockUnknown  = "block-unknown"
	RuleBlockShape    = "block-shape"
	RuleNameDuplicate = "name-duplicate"
	RuleAttrUnknown   = "attribute-unknown"
	RuleAttrMissing   = "attribute-missing"
	RuleAttrClash     = "attribute-clash"
	RuleValueKind     = "value-kind"
	RuleValueRange    = "value-range"
	RuleValueUnknown  = "value-unknown"
	RuleUnitMissing   = "unit-missing"
	RuleUnitUnknown   = "unit-unknown"
	RuleDimension     = "dimension-mismatch"
	RuleRefUnknown    = "reference-unknown"
	RuleRefKind       = "reference-kind"
	RuleRefCycle      = "reference-cycle"
	RuleFunction      = "function-misuse"
	RuleStock         = "stock-unusable"
	RulePlanMissing   = "plan-missing"
)

func (r *resolver) report(rule string, at source.Span, format string, args ...any) *Problem {
	p := &Problem{Rule: rule, At: at, Message: fmt.Sprintf(format, args...)}
	r.plan.Problems = append(r.plan.Problems, p)
	if r.rec != nil {
		r.rec.faulty = true
	}
	return p
}

func (p *Problem) related(at source.Span, format string, args ...any) *Problem {
	p.Related = append(p.Related, Related{at, fmt.Sprintf(format, args...)})
	return p
}

func (p *Problem) fix(title string, grade Grade, edits ...Edit) *Problem {
	p.Fixes = append(p.Fixes, Fix{Title: title, Grade: grade, Edits: edits})
	return p
}

// rename offers another name for what has its name at a place.
func (p *Problem) rename(label source.Span, name string) *Problem {
	if strings.HasPrefix(string(label.Bytes()), `"`) {
		name = strconv.Quote(name)
	}
	return p.fix("Call it "+name, GradeChoice, Edit{label, name})
}

// remove offers to take an item out of its list.
func (p *Problem) remove(item source.Span, what string) *Problem {
	return p.fix("Remove "+what, GradeChoice, RemoveItem(item))
}

// onlyOf is the grade of one of n ways to write something.
func onlyOf(n int) Grade {
	if n == 1 {
		return GradeNotation
	}
	return GradeChoice
}
