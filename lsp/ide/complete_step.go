package ide

import (
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
)

// behindDot proposes the next step of the reference that ends with the dot.
func (p *proposer) behindDot(dot int) {
	steps := p.stepsBefore(dot)
	if len(steps) == 0 {
		return
	}
	a := p.declaration()
	if a == nil {
		return
	}
	prefix := strings.Join(steps, ".") + "."
	types := a.Types
	switch {
	case p.inCall("from_end"), p.inCall("in_turn"), a.Kind == schema.OrderedRuns:
		types = []string{"run", "assembly"}
	case a.Kind == schema.Place, a.Kind == schema.Places:
		types = append(schema.PlaceTypes(a.Places), a.Types...)
	}
	switch root := steps[0]; {
	case root == "let" && len(steps) == 1:
		p.lets(a, "let.")
	case root == "catalog" && len(steps) == 1:
		if a.Kind == schema.Reference {
			p.entries(0, a.Types, prefix)
		}
	case len(steps) == 1 && slices.Contains(types, root):
		p.stepNames(a, root, prefix)
	case (a.Kind == schema.Place || a.Kind == schema.Places) && len(steps) >= 2 && slices.Contains(types, root):
		p.stepPlaces(a, steps, prefix)
	}
}

// stepNames proposes the names of blocks behind "TYPE.".
func (p *proposer) stepNames(a *schema.Attr, root, prefix string) {
	switch a.Kind {
	case schema.Reference:
		p.propose(p.blocks(a), prefix)
	case schema.OrderedRuns, schema.References:
		p.propose(p.runs(a), prefix)
	case schema.Place, schema.Places:
		// The name alone, ranked by the best place on it.
		var list []candidate
		for _, c := range p.names(root) {
			best := candidate{rank: 2}
			for _, x := range p.placesOn(a, c) {
				if x.rank < best.rank {
					best = x
				}
			}
			if best.rank == 2 {
				continue
			}
			if c.rank = best.rank; c.rank == 0 {
				c.note = best.note
			}
			list = append(list, c)
		}
		for _, c := range p.weighed(list) {
			p.add(c.rank, Item{Label: strings.TrimPrefix(c.text, prefix), Kind: ReferenceItem, Detail: c.note, Note: essence(c.block), Key: c.key, Again: root != "joint", Worse: c.worse})
		}
	}
}

// stepPlaces proposes what follows the name of a block: out, start, port.
func (p *proposer) stepPlaces(a *schema.Attr, steps []string, prefix string) {
	var seen []string
	t, ok := p.v.findIn(p.outer(), steps[0], steps[1])
	if !ok {
		return
	}
	for _, c := range p.placesOn(a, candidate{text: steps[0] + "." + steps[1], rank: 1, block: t.block}) {
		rest, ok := strings.CutPrefix(c.text, prefix)
		if !ok || rest == "" {
			continue
		}
		step, more, deeper := strings.Cut(rest, ".")
		if slices.Contains(seen, step) {
			continue
		}
		seen = append(seen, step)
		it := Item{Label: step, Kind: StepItem, Detail: c.note, Again: deeper && more != ""}
		if strings.HasPrefix(c.key, "port:") && !deeper {
			it.Key = c.key
		}
		p.add(c.rank, it)
	}
	if steps[0] == "run" && len(steps) == 2 && slices.Contains(a.Places, schema.RunPlace) {
		p.anywhere()
	}
}

// anywhere proposes a place along a run, which stands in brackets and not
// behind a dot.
func (p *proposer) anywhere() {
	for _, x := range []struct{ label, text, stops, doc string }{
		{`["…"]`, `["1 m"]`, `["${1:1 m}"]`, "A distance from the start."},
		{`[…]`, `[0]`, `[${1:0}]`, "The pad before a pixel, counted from 0."},
	} {
		it := Item{Label: x.label, Kind: StepItem, Detail: lowerFirst(strings.TrimSuffix(x.doc, ".")), Text: x.text, Snippet: x.stops, Doc: x.doc}
		r := p.replace
		if p.before.Type == hclsyntax.TokenDot {
			r.Start = p.before.Range.Start.Byte // the dot goes
			it.Filter = text(r)
		}
		it.Range = p.file(r)
		p.add(2, it)
	}
}

// stepsBefore reads the steps of a reference in front of a dot, from the tokens.
func (p *proposer) stepsBefore(dot int) []string {
	var out []string
	for i := dot; i >= 0; {
		if p.token(i).Type != hclsyntax.TokenDot {
			break
		}
		i--
		for p.token(i).Type == hclsyntax.TokenCBrack { // over an index
			for depth := 0; i >= 0; i-- {
				if t := p.token(i).Type; t == hclsyntax.TokenCBrack {
					depth++
				} else if t == hclsyntax.TokenOBrack {
					if depth--; depth == 0 {
						break
					}
				}
			}
			i--
		}
		if p.token(i).Type != hclsyntax.TokenIdent {
			return nil
		}
		out = append(out, string(p.token(i).Bytes))
		i--
	}
	slices.Reverse(out)
	return out
}

func (p *proposer) inCall(name string) bool {
	_, inner := p.block()
	for _, f := range inner {
		if f.kind == callFrame && f.word == name {
			return true
		}
	}
	return false
}
