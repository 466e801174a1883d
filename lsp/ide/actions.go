package ide

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint/remedy"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// The kinds of actions, as the language server protocol names them.
const (
	QuickFix        = "quickfix"
	RefactorExtract = "refactor.extract"
	RefactorInline  = "refactor.inline"
	RefactorMove    = "refactor.move"
	RefactorRewrite = "refactor.rewrite"
	FixAll          = "source.fixAll"
)

// Action is a change that can be made at a place.
type Action struct {
	Title     string // a verb phrase
	Kind      string
	Edits     []TextEdit
	Preferred bool              // the likeliest answer to what it solves
	Do        Deed              // what it does instead of editing
	About     string            // the block that Do is about
	Solves    []int             // indexes of v.Findings
	Renames   map[string]string // names that it gives, with what was called so before
}

// Actions lists the changes that make sense for a selection of v.File: remedies
// of the findings there first, then rewrites.
func Actions(v *View, at Range) []Action {
	here := v.findingsAt(at)
	var out []Action
	out = append(out, v.fixes(here)...)
	out = append(out, v.fixAlls(here)...)
	h, ok := v.hit(at.Start)
	if ok {
		out = append(out, v.addMissing(h)...)
	}
	wants := func(kind string) bool { return ok && (v.Wants == nil || v.Wants(kind)) }
	if ok {
		out = append(out, v.missing(h)...)
	}
	if wants(RefactorInline) {
		out = append(out, v.writeOut(h)...)
	}
	if wants(RefactorExtract) {
		out = append(out, v.liken(h)...)
		out = append(out, v.extract(h)...)
	}
	if wants(RefactorRewrite) {
		out = append(out, v.convertUnit(h)...)
		out = append(out, v.swapEnds(h)...)
		for _, a := range v.fuseLead(h) {
			if !slices.ContainsFunc(out, func(b Action) bool { return slices.Equal(a.Edits, b.Edits) }) {
				out = append(out, a) // else it mends a finding
			}
		}
		out = append(out, v.turnRun(h)...)
		out = append(out, v.splitRun(h)...)
	}
	if wants(RefactorMove) {
		out = append(out, v.moves(h)...)
	}
	out = append(out, v.answered(at.Start)...)
	out = append(out, v.shows(here, out)...)
	return append(out, v.silences(here)...)
}

// shows offers to look at what feeds a block, for findings about fire or shock that no edit mends.
func (v *View) shows(here []int, have []Action) (out []Action) {
	for _, i := range here {
		f := &v.Findings[i]
		r, known := v.rule(f.Rule)
		if !known || !r.Guard || slices.ContainsFunc(have, func(a Action) bool { return slices.Contains(a.Solves, i) }) {
			continue
		}
		title := "Show what feeds " + f.Subject
		if len(FedBy(v, f.Subject)) > 0 && !slices.ContainsFunc(out, func(a Action) bool { return a.Title == title }) {
			out = append(out, Action{Title: title, Kind: QuickFix, Do: TellFeeds, About: f.Subject})
		}
	}
	return out
}

// findingsAt lists the findings that touch a range of v.File.
func (v *View) findingsAt(at Range) []int {
	var out []int
	for i := range v.Findings {
		start, end, ok := v.File.Range(v.Findings[i].At)
		if ok && start <= at.End && at.Start <= end {
			out = append(out, i)
		}
	}
	return out
}

// edits turns edits of pieces into edits of files that leave laid out what was so; false if
// one of them lies outside of the plan and its stock: nobody can change the catalogue.
func (v *View) edits(in []schema.Edit) ([]TextEdit, bool) {
	var out []TextEdit
	for _, e := range remedy.LaidOut(in) {
		f, start, end, ok := v.Plan.Locate(e.At)
		if !ok || strings.HasPrefix(f.Text.Path(), schema.CataloguePath) {
			return nil, false
		}
		out = append(out, TextEdit{Location{f.Text.Path(), start, end}, lineEnds(f.Text.Bytes(), e.New)})
	}
	return out, len(out) > 0
}

// offer is an action that makes some edits; none where nobody may change what they change.
func (v *View) offer(a Action, edits []schema.Edit) []Action {
	var ok bool
	if a.Edits, ok = v.edits(edits); !ok {
		return nil
	}
	return []Action{a}
}

// Edits turns edits of a plan's pieces into edits of its files; false where there are
// none, or where nobody may change what they change.
func Edits(v *View, in []schema.Edit) ([]TextEdit, bool) { return v.edits(in) }

// InPlanBlock reports whether an offset of v.File lies in the block of the plan itself.
func InPlanBlock(v *View, offset int) bool {
	h, ok := v.hit(offset)
	return ok && len(h.nodes) == 1 && h.blockType() != nil && h.blockType().Name == "plan"
}

// lineEnds writes the line ends of a text as the file has them.
func lineEnds(file []byte, text string) string {
	if i := strings.IndexByte(string(file), '\n'); i > 0 && file[i-1] == '\r' {
		return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", "\r\n")
	}
	return text
}

// fixes are the remedies of findings.
func (v *View) fixes(here []int) []Action {
	var out []Action
	for _, i := range here {
		preferred := false // the first is the likeliest, unless it is to be checked on site
		for _, fix := range v.fixesOf(i) {
			edits, ok := v.edits(fix.Edits)
			if !ok {
				continue
			}
			a := Action{Title: fix.Title + fix.Grade.Caution(), Kind: QuickFix, Edits: edits, Preferred: !preferred && fix.Grade != schema.GradeFact, Solves: []int{i}}
			preferred = preferred || a.Preferred
			if fix.Then != "" {
				a.Title += " (" + fix.Then + ")"
			}
			if j := slices.IndexFunc(out, func(o Action) bool { return o.Title == a.Title && slices.Equal(o.Edits, a.Edits) }); j >= 0 {
				out[j].Solves = append(out[j].Solves, i)
				continue
			}
			out = append(out, a)
		}
	}
	return out
}

// fixAlls mend all findings of a rule in the file where there are several.
func (v *View) fixAlls(here []int) []Action {
	var out []Action
	seen := map[string]bool{}
	for _, i := range here {
		rule := v.Findings[i].Rule
		if seen[rule] {
			continue
		}
		seen[rule] = true
		if edits, solves := v.fixAll(rule, false); len(solves) > 1 {
			out = append(out, Action{Title: fmt.Sprintf("Mend all %d of %s in this file", len(solves), rule), Kind: QuickFix, Edits: edits, Solves: solves})
		}
	}
	return out
}

// FixAllNotation gives the edits of v.File of all remedies that say the same
// thing rightly, those of one rule or, without a name, of all. Of two that
// overlap the first is taken.
func FixAllNotation(v *View, rule string) (edits []TextEdit, solves []int) {
	return v.fixAll(rule, true)
}

// fixAll gathers remedies of the findings in v.File that are about the text
// alone: the notation of each, or where that is allowed its only one. What is
// worked out is mended one at a time, as one remedy changes what the next does.
func (v *View) fixAll(rule string, notation bool) (edits []TextEdit, solves []int) {
	for i := range v.Findings {
		f := &v.Findings[i]
		if rule != "" && f.Rule != rule {
			continue
		}
		if _, _, ok := v.File.Range(f.At); !ok {
			continue
		}
		j := slices.IndexFunc(f.Fixes, func(x schema.Fix) bool { return x.Grade == schema.GradeNotation })
		if r, ok := v.rule(f.Rule); j < 0 && !notation && len(f.Fixes) == 1 && ok && !r.Silenceable() {
			j = 0
		}
		if j < 0 || len(v.fixesOf(i)) == 0 {
			continue
		}
		more, ok := v.edits(f.Fixes[j].Edits)
		if !ok || slices.ContainsFunc(more, func(e TextEdit) bool { return e.Path != v.File.Text.Path() }) {
			continue
		}
		if slices.ContainsFunc(more, func(e TextEdit) bool {
			return slices.ContainsFunc(edits, func(o TextEdit) bool { return overlap(e, o) })
		}) {
			continue
		}
		edits = append(edits, more...)
		solves = append(solves, i)
	}
	slices.SortStableFunc(edits, func(a, b TextEdit) int { return a.Start - b.Start })
	return edits, solves
}

func overlap(a, b TextEdit) bool {
	if a.Path != b.Path {
		return false
	}
	if a.Start == a.End || b.Start == b.End { // insertions at one place have no order
		return a.Start <= b.End && b.Start <= a.End
	}
	return a.Start < b.End && b.Start < a.End
}

// silences write a comment above the block that a finding is in.
func (v *View) silences(here []int) []Action {
	var out []Action
	seen := map[string]bool{}
	for _, i := range here {
		f := &v.Findings[i]
		r, known := v.rule(f.Rule)
		if !known || !r.Silenceable() || seen[f.Rule] {
			continue
		}
		seen[f.Rule] = true
		for _, n := range schema.NodesIn(f.At.Piece) {
			if !touches(n.Whole, f.At.Start) {
				continue
			}
			at := source.Span{Piece: f.At.Piece, Start: n.Whole.Start, End: n.Whole.Start}
			out = append(out, v.offer(Action{Title: "Allow " + f.Rule + " here, with a reason", Kind: QuickFix, Solves: []int{i}},
				[]schema.Edit{{At: at, New: "# ohmstead: allow " + f.Rule + " because REASON\n"}})...)
			break
		}
	}
	return out
}

// addMissing writes all attributes that a block lacks, where there are several.
func (v *View) addMissing(h *hit) []Action {
	n, t := h.node(), h.blockType()
	if n == nil || t == nil {
		return nil
	}
	says := map[string]bool{}
	for _, a := range n.Assigns {
		says[a.Name] = true
	}
	if blocks := v.copies(n); len(blocks) > 0 {
		attrs, _ := schema.Says(blocks[0])
		for _, a := range attrs {
			says[a.Name] = true
		}
	}
	p := &proposer{cursor: h.cursor(v)}
	var missing []string
	var values [][2]string
	for i := range t.Attrs {
		a := &t.Attrs[i]
		if !a.Required || says[a.Name] {
			continue
		}
		value := a.Example
		if names(a) {
			value = cmp.Or(p.best(a), value)
		}
		missing = append(missing, a.Name)
		values = append(values, [2]string{a.Name, value})
	}
	if len(missing) < 2 {
		return nil
	}
	a := Action{Title: "Add " + strings.Join(missing, ", "), Kind: QuickFix}
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Rule == schema.RuleAttrMissing && f.At == n.Head {
			a.Solves = append(a.Solves, i)
		}
	}
	return v.offer(a, []schema.Edit{schema.InsertBlock(n, strings.Join(aligned(values), "\n"))})
}
