package ide

import (
	"fmt"
	"slices"
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
}

// wiring is what leads, signals, orders and so on connect already, apart from
// the block at the cursor.
type wiring struct {
	leads   map[string]bool // ids of blocks that some lead goes to or comes from
	outputs map[string]bool // places that a lead comes from
	outs    map[string]bool // places that a signal comes from
	ins     map[string]bool // places that a signal goes to
	ordered map[string]bool // runs in an order
	laid    map[string]bool // orders with addresses
}

func (p *proposer) wiring() wiring {
	w := wiring{map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}}
	self := p.outer()
	plan := p.v.Plan
	for _, l := range plan.Leads {
		if l.Node == self {
			continue
		}
		for _, pt := range []schema.Value[*schema.Point]{l.From, l.To} {
			if pt.Known() && pt.V != nil {
				w.leads[schema.HeaderOf(pt.V.Block()).ID()] = true
				w.outputs[pt.V.String()] = true
			}
		}
	}
	for _, s := range plan.Signals {
		if s.Node == self {
			continue
		}
		if s.From.Known() && s.From.V != nil {
			w.outs[s.From.V.String()] = true
		}
		if s.To.Known() && s.To.V != nil {
			w.ins[s.To.V.String()] = true
		}
	}
	for _, o := range plan.Orders {
		for _, r := range o.Runs.V {
			if o.Node != self && r.Run != nil {
				w.ordered[r.Run.ID()] = true
			}
		}
	}
	for _, u := range plan.Universes {
		if u.Node != self && u.Order.Known() && u.Order.V != nil {
			w.laid[u.Order.V.ID()] = true
		}
	}
	return w
}

// times reports whether the block at the cursor makes copies of itself.
func (p *proposer) times() bool {
	n := p.outer()
	if n == nil {
		return false
	}
	_, ok := n.Assign("times")
	return ok
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

// names lists what may stand behind "TYPE." for blocks of a type: where the
// block at the cursor has copies, first how it names those of others.
func (p *proposer) names(typeName string) []candidate {
	var out []candidate
	each := p.times()
	for _, b := range p.named(typeName) {
		h := schema.HeaderOf(b)
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

// places lists the places that an attribute of kind Place may name.
func (p *proposer) places(a *schema.Attr) []candidate {
	var out []candidate
	for _, t := range schema.PlaceTypes(a.Places) {
		for _, c := range p.names(t) {
			out = append(out, p.placesOn(a, c)...)
		}
	}
	return out
}

// placesOn lists the places on one block that an attribute may name.
func (p *proposer) placesOn(a *schema.Attr, c candidate) []candidate {
	h := schema.HeaderOf(c.block)
	if h.Home != schema.InPlan {
		return nil // a part, not a thing on the wall
	}
	w := p.wired()
	has := func(k schema.PlaceKind) bool { return slices.Contains(a.Places, k) }
	signal := has(schema.RunEnds)
	id := h.ID()
	at := func(steps string, free bool, why string) candidate {
		x := candidate{text: c.text + steps, rank: 1, note: c.note, key: c.key, block: c.block}
		if free && a.Name != "at" {
			x.rank = 0
			if why != "" {
				x.note = why
			}
		}
		return x
	}
	var out []candidate
	switch b := c.block.(type) {
	case *schema.Supply:
		if n := b.Outputs.V; b.Outputs.Known() && n > 1 {
			for i := 1; i <= min(n, 16); i++ {
				steps := fmt.Sprintf(".out[%d]", i)
				out = append(out, at(steps, a.Name == "from", map[bool]string{true: "unconnected"}[!w.outputs[id+steps]]))
			}
		} else {
			out = append(out, at(".out", a.Name == "from", map[bool]string{true: "unconnected"}[!w.leads[id]]))
		}
		if a.Name == "to" {
			for i := range out {
				out[i].rank = 3 // a lead starts at a supply
			}
		}
	case *schema.Joint:
		out = append(out, at("", !w.leads[id], "unconnected"))
	case *schema.Controller:
		if has(schema.ControllerPower) {
			out = append(out, at(".power", a.Name == "to" && !w.leads[id] && !b.OwnPower.V, "without power"))
		}
		if has(schema.ControllerPort) {
			for _, port := range b.Ports {
				x := at(".port."+port.Name, !w.outs[id+".port."+port.Name], "without signal")
				x.key = "port:" + h.Name + "/" + port.Name
				out = append(out, x)
			}
		}
	case *schema.Run:
		enters, leaves := ".start", ".end"
		if b.DataEnters.V == "end" {
			enters, leaves = leaves, enters
		}
		switch {
		case signal && a.Name == "from":
			out = append(out, at(leaves, !w.outs[id+leaves], "without signal"))
		case signal:
			out = append(out, at(enters, !w.ins[id+enters], "without data"))
		default:
			for _, end := range []string{".start", ".end"} {
				out = append(out, at(end, a.Name == "to" && !w.leads[id], "unfed"))
			}
		}
	}
	return out
}

// wired is wiring, worked out once.
func (p *proposer) wired() *wiring {
	if p.known == nil {
		w := p.wiring()
		p.known = &w
	}
	return p.known
}

// propose adds candidates as items that replace the word at the cursor, without
// what stands in front of it already.
func (p *proposer) propose(list []candidate, prefix string) {
	for _, c := range list {
		text, ok := strings.CutPrefix(c.text, prefix)
		if !ok || text == "" {
			continue
		}
		p.add(c.rank, Item{Label: text, Kind: ReferenceItem, Detail: c.note, Note: essence(c.block), Key: c.key})
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
		if b.Strip.Known() && b.Strip.V != nil {
			parts = append(parts, b.Strip.V.ID())
		}
	case *schema.Controller:
		if b.Board.Known() && b.Board.V != nil {
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
		p.add(rank, Item{Label: text, Kind: EntryItem, Detail: essence(b), Note: "catalogue", Key: "ref:catalog." + schema.HeaderOf(b).Name})
	}
}

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
		types = []string{"run"}
	case a.Kind == schema.Place:
		types = schema.PlaceTypes(a.Places)
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
	case a.Kind == schema.Place && len(steps) >= 2 && slices.Contains(types, root):
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
	case schema.Place:
		// The name alone, ranked by the best place on it.
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
			text := strings.TrimPrefix(c.text, prefix)
			note := c.note
			if best.rank == 0 {
				note = best.note
			}
			p.add(best.rank, Item{Label: text, Kind: ReferenceItem, Detail: note, Note: essence(c.block), Key: c.key, Again: root != "joint"})
		}
	}
}

// stepPlaces proposes what follows the name of a block: out, start, port.
func (p *proposer) stepPlaces(a *schema.Attr, steps []string, prefix string) {
	var seen []string
	t, ok := p.v.find(steps[0], steps[1])
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

// runs lists the runs that a list may hold: those in no order first, those in
// this list already left out.
func (p *proposer) runs(a *schema.Attr) []candidate {
	w := p.wired()
	here := p.listed()
	var out []candidate
	for _, b := range p.named("run") {
		h := schema.HeaderOf(b)
		if h.Copy == 1 {
			all := "run." + h.Node.Label() + "-all"
			if !here[all] {
				c := candidate{text: all, rank: 1, note: "all copies", key: "ref:run." + h.Node.Label() + "-all", block: b}
				if a.Kind == schema.OrderedRuns && !w.ordered[h.ID()] {
					c.rank, c.note = 0, "all copies, in no order yet"
				}
				out = append(out, c)
			}
		}
		if here[h.ID()] || h.Copy > 0 && here["run."+h.Node.Label()+"-all"] {
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
