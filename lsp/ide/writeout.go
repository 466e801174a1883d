package ide

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// writeOut replaces like by everything that it copies.
func (v *View) writeOut(h *hit) []Action {
	if len(h.nodes) == 0 {
		return nil
	}
	n := h.nodes[0]
	like, ok := n.Assign("like")
	blocks := v.copies(n)
	if !ok || len(blocks) == 0 || schema.HeaderOf(blocks[0]).Like == nil {
		return nil
	}
	if !touches(n.Head, h.at) && !touches(like.Whole, h.at) {
		return nil
	}
	if slices.ContainsFunc(n.Assigns, func(a *schema.Assign) bool {
		return a.Name == "shift" || n.Type == "run" && schema.Moves(a.Name)
	}) {
		return nil // without like it would mean something else
	}
	if t := schema.HeaderOf(blocks[0]).Type; t.Name == "assembly" && len(n.Blocks) > 0 {
		return nil // its members say only what is different in them
	}
	own := map[any]bool{}
	for _, a := range n.Assigns {
		own[a] = true
	}
	for _, c := range n.Blocks {
		own[c] = true
	}
	attrs, nested := schema.Says(blocks[0])
	var values [][2]string
	for _, a := range attrs {
		if own[a] {
			continue
		}
		value, ok := v.carried(a.Val, 0)
		if !ok {
			return nil
		}
		values = append(values, [2]string{a.Name, value})
	}
	lines := aligned(values)
	var inner []string
	for _, c := range nested {
		if !own[c] {
			inner = append(inner, dedented(c.Whole))
		}
	}
	if len(lines)+len(inner) == 0 {
		return nil
	}
	var edits []schema.Edit
	if !strings.Contains(text(n.Inside), "\n") { // like alone, on the line of its block
		indent := "\n" + strings.Repeat(" ", column(n.TypeAt))
		body := strings.Join(append(lines, inner...), "\n")
		edits = append(edits, schema.Edit{At: n.Inside, New: indent + "  " + strings.ReplaceAll(body, "\n", indent+"  ") + indent})
	} else {
		indent := "\n" + strings.Repeat(" ", column(like.Whole))
		edits = append(edits, schema.Edit{At: like.Whole, New: strings.Join(lines, indent)})
		if len(inner) > 0 {
			edits = append(edits, schema.InsertBlock(n, strings.Join(inner, "\n")))
		}
	}
	return v.offer(Action{Title: "Write out what " + like.Val.String() + " says", Kind: RefactorInline}, edits)
}

// aligned writes attributes below one another.
func aligned(values [][2]string) []string {
	width := 0
	for _, x := range values {
		width = max(width, len(x[0]))
	}
	var out []string
	for _, x := range values {
		out = append(out, fmt.Sprintf("%-*s = %s", width, x[0], x[1]))
	}
	return out
}

// carried is a value as it may stand in the plan: the catalogue's own named
// values, which the plan does not see, are put in.
func (v *View) carried(val *schema.Val, depth int) (string, bool) {
	if _, _, _, ok := v.Plan.Locate(val.At); ok {
		return val.String(), true
	}
	switch val.Kind {
	case schema.RefVal:
		if val.Steps[0].Name != "let" || len(val.Steps) != 2 || depth > 20 {
			return val.String(), val.Steps[0].Name != "let"
		}
		l, ok := schema.Catalogue().Let(val.Steps[1].Name)
		if !ok {
			return "", false
		}
		return v.carried(l.Val, depth+1)
	case schema.ListVal, schema.MapVal, schema.CallVal:
		// From the back, so that the places in front stay.
		out := val.String()
		for i := len(val.Items) - 1; i >= 0; i-- {
			x := val.Items[i]
			inner, ok := v.carried(x, depth+1)
			if !ok {
				return "", false
			}
			from, to := x.At.Start-val.At.Start, x.At.End-val.At.Start
			out = out[:from] + inner + out[to:]
		}
		return out, true
	}
	return val.String(), true
}

// column is how many bytes stand in front of a place in its line.
func column(at source.Span) int {
	src := at.Piece.Bytes()[:at.Start]
	return len(src) - 1 - strings.LastIndexByte(string(src), '\n')
}

// dedented is a block as it would stand at the left edge.
func dedented(at source.Span) string {
	indent := strings.Repeat(" ", column(at))
	return strings.ReplaceAll(strings.ReplaceAll(text(at), "\r\n", "\n"), "\n"+indent, "\n")
}
