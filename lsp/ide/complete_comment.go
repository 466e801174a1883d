package ide

import (
	"regexp"
	"sync"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// The stages of writing "# ohmstead: allow RULE because REASON".
var (
	commentStart  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:#|//)\s*([A-Za-z]*:?)$`) })
	commentAllow  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:#|//)\s*ohmstead:\s*([A-Za-z]*)$`) })
	commentRule   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:#|//)\s*ohmstead:\s*allow\s+([A-Za-z0-9_-]*)$`) })
	commentReason = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(?:#|//)\s*ohmstead:\s*allow\s+[A-Za-z0-9_-]+\s+([A-Za-z]*)$`)
	})
	restOfName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z0-9_-]*`) })
)

// inComment proposes the parts of a silencing comment.
func (p *proposer) inComment(at source.Span) {
	typed := text(source.Span{Piece: at.Piece, Start: at.Start, End: p.at})
	behind := restOfName().FindString(text(source.Span{Piece: at.Piece, Start: p.at, End: at.End}))
	last := func(m []string) {
		p.replace = p.span(p.at-len(m[1]), p.at+len(behind))
	}
	if m := commentReason().FindStringSubmatch(typed); m != nil {
		last(m)
		p.add(0, Item{Label: "because", Kind: WordItem, Text: "because ", Detail: "why the finding is all right here"})
		return
	}
	if m := commentRule().FindStringSubmatch(typed); m != nil {
		last(m)
		p.allowed(at)
		return
	}
	if m := commentAllow().FindStringSubmatch(typed); m != nil {
		last(m)
		p.add(0, Item{Label: "allow", Kind: WordItem, Text: "allow ", Detail: "silence a rule here", Again: true})
		return
	}
	if m := commentStart().FindStringSubmatch(typed); m != nil {
		last(m)
		p.add(0, Item{Label: "ohmstead: allow", Kind: WordItem, Text: "ohmstead: allow ", Detail: "silence a rule here", Again: true})
	}
}

// allowed proposes the rules that a comment may silence, those with findings
// in the block below first.
func (p *proposer) allowed(at source.Span) {
	here := map[string]bool{}
	for _, n := range schema.NodesIn(p.piece) {
		if n.Whole.End < at.End {
			continue
		}
		for _, f := range p.v.Findings {
			if f.At.Piece == p.piece && touches(n.Whole, f.At.Start) {
				here[f.Rule] = true
			}
		}
		break
	}
	rest := text(source.Span{Piece: at.Piece, Start: p.replace.End, End: at.End})
	for _, r := range p.v.Rules {
		if !r.Silenceable() {
			continue
		}
		it := Item{Label: r.Name, Kind: RuleItem, Detail: r.Title, Note: r.Level.String(), Key: "rule:" + r.Name}
		if rest == "" {
			it.Text = r.Name + " because "
			it.Snippet = r.Name + " because ${1:REASON}"
		}
		rank := 1
		if here[r.Name] {
			rank, it.Note = 0, r.Level.String()+", found below"
		}
		p.add(rank, it)
	}
}
