package ide

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// candidates lists what an attribute that names blocks or places may name.
func (p *proposer) candidates(a *schema.Attr) []candidate {
	switch a.Kind {
	case schema.Reference:
		return p.blocks(a)
	case schema.Place:
		return p.places(a)
	case schema.Places:
		return append(p.places(a), p.blocks(a)...)
	}
	return p.runs(a)
}

// candidate is something that a reference may name. Rank 0 is what is missing
// a connection, 1 the rest.
type candidate struct {
	text  string // run.arch.start
	rank  int
	note  string
	key   string
	block schema.Block // that it names; of copies the first
	worse bool         // it does not do
}

// named lists the plan's and its stock's blocks of a type in the order of the
// text, of two with one name the one that the name means.
func (p *proposer) named(typeName string) []schema.Block {
	if p.byType == nil {
		p.byType = map[string][]schema.Block{}
		seen := make(map[[2]string]bool, len(p.v.Plan.Blocks))
		for _, list := range [][]schema.Block{p.v.Plan.Blocks, p.v.Plan.Stock} {
			for _, b := range list {
				h := schema.HeaderOf(b)
				id := [2]string{h.Type.Name, h.Name}
				if h.Name == "" || seen[id] {
					continue
				}
				seen[id] = true
				p.byType[h.Type.Name] = append(p.byType[h.Type.Name], b)
			}
		}
	}
	return p.byType[typeName]
}

// around is the address of the assembly that the cursor is in; "" for none.
func (p *proposer) around() string {
	var names []string
	for _, f := range p.frames[1:] {
		if f.kind == blockFrame && f.word == "assembly" && len(f.labels) > 0 {
			names = append(names, f.labels[0])
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "assembly." + strings.Join(names, "-")
}

// members lists the blocks of a type in the assembly around by their plain names in it.
func (p *proposer) members(typeName string) (out []candidate) {
	in := p.around()
	seen := map[*schema.Node]bool{}
	for _, b := range p.named(typeName) {
		h := schema.HeaderOf(b)
		if in == "" || h.Assembly() != in || seen[h.Node] {
			continue
		}
		seen[h.Node] = true
		id := typeName + "." + h.Base()[len(in)-len("assembly"):]
		out = append(out, candidate{text: id, note: "in this assembly", key: "ref:" + h.ID(), block: b})
		if h.Copy > 0 {
			out = append(out, candidate{text: id + "-next", rank: 1, note: "in the next copy", key: "ref:" + h.ID(), block: b})
		}
	}
	return out
}

// allRuns names all runs of the assembly that one is in.
func allRuns(c candidate) candidate {
	c.text, c.note = "run.all", "all runs of this assembly"
	return c
}

// names lists what may stand behind "TYPE." for blocks of a type: first those of
// the assembly around; where the block at the cursor has copies, then how it names those of others.
func (p *proposer) names(typeName string) []candidate {
	out := p.members(typeName)
	in, each := p.around(), p.times()
	for _, b := range p.named(typeName) {
		h := schema.HeaderOf(b)
		if in != "" && h.Assembly() == in {
			continue
		}
		if h.Copy == 1 && each {
			for _, suffix := range []string{"-each", "-next"} {
				id := typeName + "." + h.Node.Label() + suffix
				out = append(out, candidate{text: id, rank: 1, note: map[string]string{"-each": "the copy with the same number", "-next": "the copy after"}[suffix], key: "ref:" + id, block: b})
			}
		}
		id := typeName + "." + h.Name
		c := candidate{text: id, rank: 1, key: "ref:" + id, block: b}
		if h.Home == schema.InStock {
			c.note = "stock"
		}
		out = append(out, c)
	}
	return out
}

// blocks lists what an attribute of kind Reference or References may name.
func (p *proposer) blocks(a *schema.Attr) []candidate {
	w := p.wired()
	var out []candidate
	self := p.outer()
	for _, t := range a.Types {
		if runs := p.members(t); t == "run" && len(runs) > 0 && a.Kind == schema.Places {
			out = append(out, allRuns(runs[0]))
		}
		for _, c := range p.names(t) {
			if schema.HeaderOf(c.block).Node == self && a.Name == "like" {
				continue
			}
			if t == "order" && !w.laid[c.text] {
				c.rank, c.note = 0, "without addresses"
			}
			out = append(out, c)
		}
	}
	return out
}

// propose adds candidates as items that replace the word at the cursor, without
// what stands in front of it already.
func (p *proposer) propose(list []candidate, prefix string) {
	for _, c := range p.weighed(list) {
		text, ok := strings.CutPrefix(c.text, prefix)
		if !ok || text == "" {
			continue
		}
		p.add(c.rank, Item{Label: text, Kind: ReferenceItem, Detail: c.note, Note: essence(c.block), Key: c.key, Worse: c.worse})
	}
}

// essence says what tells a part from others of its type.
func essence(b schema.Block) string {
	var parts []string
	add := func(known bool, text fmt.Stringer) {
		if known {
			parts = append(parts, text.String())
		}
	}
	word := func(known bool, text string) {
		if known && text != "" {
			parts = append(parts, text)
		}
	}
	switch b := b.(type) {
	case *schema.Strip:
		word(b.Chip.Known(), b.Chip.V)
		add(b.Voltage.Known(), b.Voltage.V)
		add(b.Density.Known(), b.Density.V)
	case *schema.Diffuser:
		word(b.Kind.Known(), b.Kind.V)
		add(b.InnerWidth.Known(), b.InnerWidth.V)
	case *schema.Wire:
		add(b.Gauge.Known(), b.Gauge.V)
	case *schema.Fixing:
		word(b.Kind.Known(), b.Kind.V)
	case *schema.Joint:
		word(b.Kind.Known(), b.Kind.V)
		if b.Ways.Known() {
			parts = append(parts, fmt.Sprintf("%d ways", b.Ways.V))
		}
	case *schema.Supply:
		add(b.Output.Known(), b.Output.V)
		add(b.Rating.Known(), b.Rating.V)
	case *schema.Board:
		word(b.Chip.Known(), b.Chip.V)
	case *schema.Run:
		if b.Strip.Known() {
			parts = append(parts, b.Strip.V.ID())
		}
	case *schema.Controller:
		if b.Board.Known() {
			parts = append(parts, b.Board.V.ID())
		}
	}
	return strings.Join(parts, ", ")
}

// entries proposes catalogue entries of some types.
func (p *proposer) entries(rank int, types []string, prefix string) {
	for _, b := range schema.Catalogue().Entries(types...) {
		text, ok := strings.CutPrefix("catalog."+schema.HeaderOf(b).Name, prefix)
		if !ok {
			continue
		}
		it, rank := Item{Label: text, Kind: EntryItem, Detail: essence(b), Note: "catalogue", Key: "ref:catalog." + schema.HeaderOf(b).Name}, rank
		if x, known := p.gives(b); known {
			it.Detail += ", " + x.says
			if it.Worse = x.unfit; x.unfit {
				rank = 7
			}
		}
		p.add(rank, it)
	}
}

// runs lists the runs that a list may hold: those in no order first, those in
// this list already left out.
func (p *proposer) runs(a *schema.Attr) []candidate {
	w := p.wired()
	here := p.listed()
	var out []candidate
	in := p.around()
	for i, c := range p.members("run") {
		if i == 0 && !here["run.all"] {
			out = append(out, allRuns(c))
		}
		if !here[c.text] {
			out = append(out, c)
		}
	}
	for _, b := range p.named("assembly") {
		if h := schema.HeaderOf(b); a.Kind == schema.OrderedRuns && h.ID() != in && !here[h.ID()] {
			out = append(out, candidate{text: h.ID(), rank: 1, note: "all of its runs", key: "ref:" + h.ID(), block: b})
		}
	}
	for _, b := range p.named("run") {
		h := schema.HeaderOf(b)
		if in != "" && h.Assembly() == in {
			continue
		}
		if h.Copy == 1 {
			all := "run." + h.Base() + "-all"
			if !here[all] {
				c := candidate{text: all, rank: 1, note: "all copies", key: "ref:" + all, block: b}
				if a.Kind == schema.OrderedRuns && !w.ordered[h.ID()] {
					c.rank, c.note = 0, "all copies, in no order yet"
				}
				out = append(out, c)
			}
		}
		if here[h.ID()] || h.Copy > 0 && here["run."+h.Base()+"-all"] {
			continue
		}
		c := candidate{text: h.ID(), rank: 1, key: "ref:" + h.ID(), block: b}
		if a.Kind == schema.OrderedRuns && !w.ordered[h.ID()] && h.Copy == 0 {
			c.rank, c.note = 0, "in no order yet"
		}
		out = append(out, c)
	}
	return out
}

// listed is the set of references that stand in the list at the cursor.
func (p *proposer) listed() map[string]bool {
	out := map[string]bool{}
	h, ok := p.v.hit(p.base + p.at)
	if !ok {
		return out
	}
	for _, r := range refsIn(p.piece) {
		if r.node == h.node() && r.assign.Name == p.assigned() && !touches(r.val.At, p.at) {
			out[r.val.String()] = true
		}
	}
	// The list itself does not parse while it is typed: look at its tokens.
	f, _ := p.block()
	for i := max(f.equal, 0); i < len(p.tokens); i++ {
		if i > p.last && p.tokens[i].Type == hclsyntax.TokenCBrack {
			break
		}
		if p.tokens[i].Type == hclsyntax.TokenIdent && string(p.tokens[i].Bytes) == "run" && p.token(i+1).Type == hclsyntax.TokenDot && p.token(i+2).Type == hclsyntax.TokenIdent && !touches(p.span(p.tokens[i+2].Range.Start.Byte, p.tokens[i+2].Range.End.Byte), p.at) {
			out["run."+string(p.tokens[i+2].Bytes)] = true
		}
	}
	return out
}

// lets proposes named values, those that fit first.
func (p *proposer) lets(a *schema.Attr, prefix string) {
	d := p.wantedDimension(a)
	for _, l := range p.v.Plan.Lets {
		if p.settingLet(l) {
			continue
		}
		rank, detail := 5, ""
		if q, ok := p.v.Plan.Evaluate(l.Val, d); ok && d != quantity.None {
			rank, detail = 1, q.String()
		} else if q, ok := p.v.Plan.Quantity(l); ok {
			if a.Kind != schema.Values {
				continue // of another dimension
			}
			rank, detail = 1, q.String()
		} else if l.Val.Kind == schema.NumberVal {
			if d != quantity.None {
				continue
			}
			rank, detail = 1, l.Val.Text
		}
		text, _ := strings.CutPrefix("let."+l.Name, prefix)
		p.add(rank, Item{Label: text, Kind: LetItem, Detail: detail, Key: "let:" + l.Name})
	}
}

// settingLet reports whether the place is in the value of this very let.
func (p *proposer) settingLet(l *schema.LetValue) bool {
	return p.frames[len(p.frames)-1].kind == blockFrame && p.top().word == "let" && p.assigned() == l.Name
}
