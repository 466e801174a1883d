package lint

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
	"sync"
)

// The names of the engine's own rules.
const (
	RuleNameUnknown = "rule-unknown"
	RuleUnpermitted = "policy-unpermitted"
	RuleAllowBare   = "allow-unexplained"
	RuleAllowUnused = "allow-unused"
	RuleFailed      = "rule-failed"
)

// allowPlaceholder stands where editors ask for a reason; it is none.
const allowPlaceholder = "REASON"

// Allow is a comment "# ohmstead: allow RULE because REASON" above a block or
// beside or above a line in it.
type Allow struct {
	Rule   schema.Name
	Reason string
	At     source.Span // the comment from its # or // on
	// Where it holds: the block that it stands above, or the next line.
	Over source.Span
}

// allowMark stands in every comment that allows something.
var allowMark = []byte("ohmstead:")

var allowForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:#|//)\s*ohmstead:\s*allow\s+([A-Za-z0-9_-]+)(?:\s+because\b[ \t]*(.*?))?\s*$`)
})

// Allows reads the silencing comments of a piece of text.
func Allows(p *source.Piece) []Allow {
	type memo struct{}
	return p.Memo(memo{}, func(p *source.Piece) any { return readAllows(p) }).([]Allow)
}

func readAllows(p *source.Piece) []Allow {
	if !bytes.Contains(p.Bytes(), allowMark) {
		return []Allow(nil)
	}
	var out []Allow
	for _, t := range p.Comments() {
		text := strings.TrimRight(string(t.Bytes), "\r\n")
		m := allowForm().FindStringSubmatchIndex(text)
		if m == nil {
			continue
		}
		start := t.Range.Start.Byte
		a := Allow{
			Rule: schema.Name{Text: text[m[2]:m[3]], At: source.Span{Piece: p, Start: start + m[2], End: start + m[3]}},
			At:   source.Span{Piece: p, Start: start, End: start + len(text)},
		}
		if m[4] >= 0 {
			a.Reason = strings.TrimSpace(text[m[4]:m[5]])
		}
		a.Over = scopeOf(p, a.At)
		out = append(out, a)
	}
	return out
}

// scopeOf is where a comment holds: behind code, its own line; on a line of its
// own, what comes next: a whole block where that is a block, else one line.
func scopeOf(p *source.Piece, at source.Span) source.Span {
	src := p.Bytes()
	lineStart := at.Start
	for lineStart > 0 && src[lineStart-1] != '\n' {
		lineStart--
	}
	if strings.TrimSpace(string(src[lineStart:at.Start])) != "" {
		return source.Span{Piece: p, Start: lineStart, End: at.End}
	}
	next := at.End
	for next < len(src) {
		end := next
		for end < len(src) && src[end] != '\n' {
			end++
		}
		line := strings.TrimSpace(string(src[next:end]))
		if line != "" && !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "//") {
			for _, b := range schema.NodesIn(p) {
				if b.Whole.Start >= next && b.Whole.Start < end {
					return b.Whole
				}
			}
			return source.Span{Piece: p, Start: next, End: end}
		}
		next = end + 1
	}
	return source.Span{Piece: p, Start: at.Start, End: at.End}
}

// applySilence hides the findings that a comment allows, and reports comments
// without a reason, of unknown rules, and those that silence nothing. What a
// rule that failed would have found is not known.
func applySilence(plan *schema.Plan, rules map[string]*Rule, failed []*Rule, v *Verdict) {
	allows := allowsIn(plan.Files)
	own := len(allows)
	allows = append(allows, allowsIn(plan.StockFiles)...)
	if len(allows) == 0 {
		return
	}
	used := make([]bool, len(allows))
	var out []Finding
	for _, f := range v.Findings {
		by := -1
		for i, a := range allows {
			if a.Rule.Text == f.Rule && a.Over.Piece == f.At.Piece && f.At.Start >= a.Over.Start && f.At.Start <= a.Over.End && silenceable(rules, f.Rule) {
				used[i] = true
				if by < 0 && a.Reason != "" && a.Reason != allowPlaceholder {
					by = i
				}
			}
		}
		if by < 0 {
			out = append(out, f)
		} else {
			v.Hidden = append(v.Hidden, Hidden{f, allows[by].At, Comment, allows[by].Reason, rules[f.Rule].Guard})
		}
	}
	for i, a := range allows[:own] { // those of stock serve other plans as well
		switch {
		case rules[a.Rule.Text] == nil:
			out = append(out, unknownRule(rules, a.Rule.Text, a.Rule.At, false))
		case !silenceable(rules, a.Rule.Text):
			out = append(out, Finding{Rule: RuleUnpermitted, Level: Error, At: a.At,
				Message: fmt.Sprintf("%s cannot be silenced; what it reports has to be mended", a.Rule.Text),
				Fixes:   []Fix{{Title: "Remove the comment", Edits: []Edit{{At: schema.WholeLines(a.At)}}}}})
		case a.Reason == "" || a.Reason == allowPlaceholder:
			out = append(out, Finding{Rule: RuleAllowBare, Level: Warning, At: a.At,
				Message: fmt.Sprintf("allow %s gives no reason; write # ohmstead: allow %s because …", a.Rule.Text, a.Rule.Text)})
		case a.Over == a.At && !used[i]:
			out = append(out, Finding{Rule: RuleAllowUnused, Level: Warning, At: a.At,
				Message: fmt.Sprintf("allow %s holds for nothing, since an empty line parts it from what comes next; put it directly above the block or line that it is about", a.Rule.Text)})
		case !used[i] && !slices.Contains(failed, rules[a.Rule.Text]):
			out = append(out, Finding{Rule: RuleAllowUnused, Level: Warning, At: a.At,
				Message: fmt.Sprintf("allow %s silences nothing here; remove it", a.Rule.Text),
				Fixes:   []Fix{{Title: "Remove the comment", Grade: schema.GradeNotation, Edits: []Edit{{At: schema.WholeLines(a.At)}}}}})
		}
	}
	v.Findings = out
}

func allowsIn(files []*source.File) (out []Allow) {
	eachMarked(files, allowMark, func(p *source.Piece) { out = append(out, Allows(p)...) })
	return out
}

// eachMarked visits the pieces of files in whose text a mark is.
func eachMarked(files []*source.File, mark []byte, visit func(*source.Piece)) {
	for _, f := range files {
		text, last := f.Text.Bytes(), -1
		for at := 0; ; {
			next := bytes.Index(text[at:], mark)
			if next < 0 {
				break
			}
			at += next + len(mark)
			if p := f.PieceAt(at - 1); p > last {
				visit(f.Pieces[p])
				last = p
			}
		}
	}
}

func silenceable(rules map[string]*Rule, name string) bool {
	r, ok := rules[name]
	return ok && r.Silenceable()
}
