package ide

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// mostLikened bounds how many blocks are tried that another one may be like.
const mostLikened = 4

// liken is the inverse of writeOut: a block says like in place of what another one of its type says too.
// It is offered where the plan then says the same, to the last block.
func (v *View) liken(h *hit) []Action {
	if len(h.nodes) == 0 {
		return nil
	}
	n := h.nodes[0]
	if !touches(n.Head, h.at) || n.TypeAt.Start == n.TypeAt.End || len(n.Labels) != 1 || !strings.Contains(text(n.Inside), "\n") || len(n.Piece().Problems()) > 0 {
		return nil
	}
	if like, ok := n.Assign("like"); ok && commented(like.Whole) {
		return nil
	}
	blocks := v.copies(n)
	if len(blocks) == 0 || !schema.HeaderOf(blocks[0]).Type.Likes() || schema.HeaderOf(blocks[0]).Home != schema.InPlan {
		return nil
	}
	for _, m := range v.models(n) {
		for _, each := range []string{"", "-each"} { // of a block with copies the first is meant, or the one with the same number
			ref := n.Type + "." + m.node.Label() + each
			edits := []schema.Edit{{At: n.Inside, New: likened(n, m.same, ref)}}
			changed, err := v.Plan.With(edits)
			if err != nil || !resolved.Alike(v.Plan, changed) {
				continue
			}
			title := fmt.Sprintf("Say %s.%s like %s, which says %d of its lines too", n.Type, n.Label(), ref, m.lines)
			return v.offer(Action{Title: title, Kind: RefactorExtract}, edits)
		}
	}
	return nil
}

// model is a block that another one may be like.
type model struct {
	node  *schema.Node
	same  []source.Span // what the other one need not say then
	lines int           // of that
}

// models lists the blocks beside one, or at the top of the plan, that say nothing that it does not
// say, and two lines or more as it does. Those that spare most come first.
func (v *View) models(n *schema.Node) (out []model) {
	attrs, _ := v.says(n)
	for _, m := range v.peers(n) {
		if m.Type != n.Type || m == n || len(m.Labels) != 1 || m.TypeAt.Start == m.TypeAt.End || !schema.Referable(m.Label()) {
			continue
		}
		theirs, nested := v.says(m)
		if slices.ContainsFunc(theirs, func(a *schema.Assign) bool {
			return !ownOf[a.Name] && !slices.ContainsFunc(attrs, func(b *schema.Assign) bool { return a.Name == b.Name })
		}) {
			continue
		}
		x := model{node: m}
		take := func(at source.Span) {
			if !commented(at) {
				x.same = append(x.same, at)
				x.lines += 1 + strings.Count(text(at), "\n")
			}
		}
		for _, a := range n.Assigns {
			if !ownOf[a.Name] && slices.ContainsFunc(theirs, func(b *schema.Assign) bool {
				return a.Name == b.Name && text(a.Val.At) == text(b.Val.At)
			}) {
				take(a.Whole)
			}
		}
		for _, c := range n.Blocks {
			if slices.ContainsFunc(nested, func(d *schema.Node) bool { return dedented(c.Whole) == dedented(d.Whole) }) {
				take(c.Whole)
			}
		}
		if x.lines > 1 {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b model) int { return cmp.Compare(b.lines, a.lines) })
	return out[:min(len(out), mostLikened)]
}

// ownOf are the attributes that a block with like has for itself.
var ownOf = map[string]bool{"like": true, "times": true, "rows": true, "shift": true}

// says is what a block as written says, as its first copy.
func (v *View) says(n *schema.Node) ([]*schema.Assign, []*schema.Node) {
	if blocks := v.copies(n); len(blocks) > 0 {
		return schema.Says(blocks[0])
	}
	return nil, nil
}

// peers lists the blocks that a block may name by their names alone: those of the plan, and those in the
// assembly that it is in.
func (v *View) peers(n *schema.Node) (out []*schema.Node) {
	for _, p := range pieces(v.Plan.Files) {
		nodes := schema.NodesIn(p)
		out = append(out, nodes...)
		for p == n.Piece() && !slices.Contains(nodes, n) {
			i := slices.IndexFunc(nodes, func(o *schema.Node) bool { return o.Whole.Start <= n.Whole.Start && n.Whole.End <= o.Whole.End })
			if i < 0 {
				break
			}
			nodes = nodes[i].Blocks
			out = append(out, nodes...)
		}
	}
	return out
}

// commented reports whether a comment stands in some lines or directly above them: what it says is about them.
func commented(at source.Span) bool {
	lines := fullLines(at)
	for _, c := range at.Piece.Comments() {
		own := fullLines(source.Span{Piece: at.Piece, Start: c.Range.Start.Byte, End: c.Range.Start.Byte + len(strings.TrimRight(string(c.Bytes), "\r\n"))})
		if own.Start < lines.End && lines.Start < own.End || own.End == lines.Start && strings.TrimSpace(string(at.Piece.Bytes()[own.Start:c.Range.Start.Byte])) == "" {
			return true
		}
	}
	return false
}

// spoils reports whether edits replace what a comment is about: it would be about something else.
func spoils(edits []schema.Edit) bool {
	return slices.ContainsFunc(edits, func(e schema.Edit) bool { return e.At.Start < e.At.End && commented(e.At) })
}

// fullLines widens a stretch to the lines that it stands on, the line end included.
func fullLines(at source.Span) source.Span {
	src := string(at.Piece.Bytes())
	at.Start = strings.LastIndexByte(src[:at.Start], '\n') + 1
	if i := strings.IndexByte(src[at.End:], '\n'); i >= 0 {
		at.End += i + 1
	} else {
		at.End = len(src)
	}
	return at
}

// likened is the inside of a block that says like in place of some of its lines.
func likened(n *schema.Node, without []source.Span, ref string) string {
	if a, ok := n.Assign("like"); ok {
		without = append(slices.Clone(without), a.Whole)
	}
	src := string(n.Piece().Bytes())
	open := n.Inside.Start + strings.IndexByte(text(n.Inside), '\n') + 1
	closing := strings.LastIndexByte(src[:n.Inside.End], '\n') + 1
	kept := []string{strings.Repeat(" ", column(n.TypeAt)) + "  like = " + ref + "\n"}
	at, gone := open, true
	for _, line := range strings.SplitAfter(src[open:max(open, closing)], "\n") {
		switch {
		case slices.ContainsFunc(without, func(s source.Span) bool { s = fullLines(s); return s.Start <= at && at < s.End }):
			gone = true
		case gone && strings.TrimSpace(line) == "" && (len(kept) == 1 || strings.TrimSpace(kept[len(kept)-1]) == ""):
			// of two blank lines that meet one stays
		default:
			kept, gone = append(kept, line), false
		}
		at += len(line)
	}
	for len(kept) > 1 && strings.TrimSpace(kept[len(kept)-1]) == "" {
		kept = kept[:len(kept)-1]
	}
	if len(kept) == 1 && strings.TrimSpace(src[n.Inside.Start:open]) == "" {
		return " like = " + ref + " "
	}
	return src[n.Inside.Start:open] + strings.Join(kept, "") + src[closing:n.Inside.End]
}
