package ide

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
)

// missing writes the block or named value that a reference names and that there is not yet: behind the last of its kind,
// else behind the block that names it.
func (v *View) missing(h *hit) []Action {
	val := h.val()
	if h.part != onValue || val == nil || val.Kind != schema.RefVal || len(val.Steps) < 2 {
		return nil
	}
	var solves []int
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Rule == schema.RuleRefUnknown && f.At.Piece == h.piece && touches(val.At, f.At.Start) {
			solves = append(solves, i)
		}
	}
	kind, name := val.Steps[0].Name, stepName(val.Steps[1])
	if _, used := v.follow(val.Steps); len(solves) == 0 || used > 0 || !hclsyntax.ValidIdentifier(name) {
		return nil
	}
	var edits []schema.Edit
	what := fmt.Sprintf("%s %q", kind, name)
	if kind == "let" {
		if h.attr == nil || h.attr.Example == "" {
			return nil
		}
		e, ok := v.letInsert(name, h.attr.Example)
		if !ok {
			return nil
		}
		what, edits = "let."+name, append(edits, e)
	} else {
		t, known := schema.TypeNamed(kind)
		if !known || t.Label == "" {
			return nil
		}
		behind := h.nodes[0]
		for _, b := range v.Plan.Blocks {
			if x := schema.HeaderOf(b); x.Type == t && x.Home == schema.InPlan && x.MadeBy() == nil && x.Assembly() == "" {
				behind = x.Node
			}
		}
		edits = append(edits, schema.InsertBehind(behind, v.newBlock(h, t, name)))
	}
	return v.offer(Action{Title: "Add " + what, Kind: QuickFix, Solves: solves}, edits)
}

// newBlock is a block that says what one of its type must say: as others of the plan do where one is like it, else as the
// language shows it.
func (v *View) newBlock(h *hit, t *schema.BlockType, name string) string {
	for _, b := range v.Plan.Blocks {
		if x := schema.HeaderOf(b); t.Part && t.Likes() && x.Type == t && x.Copy == 0 && !x.Broken && x.Assembly() == "" {
			return fmt.Sprintf("%s %q {\n  like = %s\n}", t.Name, name, x.ID())
		}
	}
	p := &proposer{cursor: h.cursor(v)}
	var values [][2]string
	groups := map[string]bool{"": true}
	for i := range t.Attrs {
		if a := &t.Attrs[i]; a.Required || !groups[a.OneOf] {
			groups[a.OneOf] = true
			value := a.Example
			if names(a) {
				value = cmp.Or(p.best(a), value)
			}
			values = append(values, [2]string{a.Name, value})
		}
	}
	return fmt.Sprintf("%s %q {\n  %s\n}", t.Name, name, strings.Join(aligned(values), "\n  "))
}
