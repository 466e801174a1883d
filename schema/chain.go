package schema

import (
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// Chain is one data line through runs in their order. It stands for the
// signals between them and for the order.
type Chain struct {
	Header
	From     Value[*Point]     `attr:"from"`
	Runs     Value[[]RunRef]   `attr:"runs"`
	Wire     Value[*Wire]      `attr:"wire"`
	Length   Value[[]Quantity] `attr:"length"`
	Within   Value[*Lead]      `attr:"within"`
	Resistor Value[Quantity]   `attr:"resistor"`
	Hops     []*Hop            `block:"hop"`
}

// Hop is what one signal of a chain has that the others have not.
type Hop struct {
	Header
	To       Value[*Run]     `attr:"to"`
	Wire     Value[*Wire]    `attr:"wire"`
	Length   Value[Quantity] `attr:"length"`
	Within   Value[*Lead]    `attr:"within"`
	Resistor Value[Quantity] `attr:"resistor"`
}

var chainType = &BlockType{
	Name: "chain", Label: "name", Unlike: true,
	Doc: "Takes one data line through runs in their order: stands for the signals from one to the next, and for the order of their pixels.",
	Detail: "The signal into run.b is called signal.NAME-b, so that a run put in between gives no other signal another name. " +
		"The order is called order.NAME; none is made in a plan that writes an order itself. A hop without length is as long as its places lie apart.",
	Example: `chain "word" {
  from = controller.brain.port.a
  runs = [run.left, from_end(run.right)]
  wire = wire.data
}`,
	Attrs: []Attr{
		{Name: "from", Kind: Place, Places: []PlaceKind{ControllerPort, RunEnds}, Required: true, Doc: "The port, or the end of the run before.", Example: "controller.brain.port.a"},
		{Name: "runs", Kind: OrderedRuns, Required: true, Doc: "The runs in the order of the data; from_end for one that it enters at the end.", Detail: "Such a run need not say data_enters itself: its arrows point to its start.", Example: "[run.left, from_end(run.right)]"},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Doc: "What the hops are made of.", Example: "wire.data"},
		{Name: "length", Kind: MeasureEach, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Length of each hop; in a list, of the hop into each run.", Example: `["60 cm", "20 cm"]`},
		{Name: "within", Kind: Reference, Types: []string{"lead"}, Doc: "The lead whose cable the hops share.", Example: "lead.left"},
		{Name: "resistor", Kind: Measure, Dim: quantity.Resistance, Most: 1e6, Doc: "Series resistor in the first hop.", Example: `"330 ohm"`},
	},
	Blocks: []*BlockType{hopType},
	form:   func() former { return new(Chain) },
	makes:  makeChain,
}

var hopType = &BlockType{
	Name: "hop",
	Doc:  "Says what the hop into one run has that the others have not.",
	Example: `hop {
  to     = run.right
  length = "2 m"
}`,
	Attrs: []Attr{
		{Name: "to", Kind: Reference, Types: []string{"run"}, Required: true, Doc: "The run that it leads to.", Example: "run.right"},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Doc: "What it is made of.", Example: "wire.data"},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Its length.", Example: `"60 cm"`},
		{Name: "within", Kind: Reference, Types: []string{"lead"}, Doc: "The lead whose cable it shares.", Example: "lead.left"},
		{Name: "resistor", Kind: Measure, Dim: quantity.Resistance, Most: 1e6, Doc: "Series resistor in it.", Example: `"330 ohm"`},
	},
	form: func() former { return new(Hop) },
}

// makeChain makes a signal into each run, and the order.
func makeChain(m *making) {
	from := m.say("from")
	runs := m.chained()
	for i, c := range runs {
		in, out := "start", "end"
		if c.fromEnd {
			in, out = out, in
		}
		hop := m.alone("hop", addressed(c.run))
		resistor := m.has(hop, "resistor")
		if c.fromEnd {
			m.enterAtEnd(c.run)
		}
		if i > 0 && resistor == m.say("resistor") {
			resistor = nil
		}
		m.add("signal", m.node.Label()+"-"+c.run.Steps[1].Name, c.run.At,
			from, says("to", refVal(c.run, in)), m.has(hop, "wire"), m.each(hop, "length", i), m.has(hop, "within"), resistor)
		from = says("from", refVal(c.run, out))
	}
	if len(runs) > 0 && !m.planWrites(orderType) {
		m.add("order", m.node.Label(), m.node.Head, m.say("runs"))
	}
}

// enterAtEnd notes that a chain goes through a run from its end.
func (m *making) enterAtEnd(run *Val) {
	silent := func(string, source.Span, string, ...any) *Problem { return &Problem{} }
	if name, ok := m.copyMeant(run, m.scope, m.own.of, silent); ok {
		if m.entered == nil {
			m.resolver.entered = map[string]entry{}
		}
		m.entered[runType.Name+"."+name] = entry{m.node, run.At}
	}
}

// entry is where a chain says that it goes through a run from its end.
type entry struct {
	chain *Node
	at    source.Span
}

// enter adds to what a run says at which end data enters it, where a chain goes through it
// from its end and it does not say so itself.
func (r *resolver) enter(h *Header, e *effective) {
	h.entered = r.entered[h.ID()]
	if _, said := e.assign(dataEnters); !said && h.entered.chain != nil {
		e.assigns = append(e.assigns, scoped{Assign: says(dataEnters, &Val{Kind: TextVal, Text: "end", At: h.entered.at}), alone: true})
	}
}

const dataEnters = "data_enters"

// Entered is the chain that says at which end data enters a run; nil where the run says it itself, or nothing does.
func (h *Header) Entered() *Node {
	if h.rec != nil && h.rec.says != nil {
		if a, ok := h.rec.says.assign(dataEnters); ok && a.alone {
			return h.entered.chain
		}
	}
	return nil
}

// chainedRun is a run as a chain goes through it.
type chainedRun struct {
	run     *Val
	fromEnd bool
}

// chained are the runs of the chain, each once; the chain's own runs tell what is wrong with others.
func (m *making) chained() (out []chainedRun) {
	seen := map[string]bool{}
	for _, v := range m.items("runs") {
		c := chainedRun{run: v}
		if v.Kind == CallVal && v.Func.Text == "from_end" && len(v.Items) == 1 {
			c = chainedRun{v.Items[0], true}
		}
		if c.run.Kind != RefVal || len(c.run.Steps) != 2 || c.run.Steps[0].Name != runType.Name || c.run.Steps[1].Name == "" || seen[c.run.Steps[1].Name] {
			continue
		}
		seen[c.run.Steps[1].Name] = true
		out = append(out, c)
	}
	return out
}

func (c *Chain) check(r *resolver, _ *effective) {
	if c.Runs.Known() && len(c.Runs.V) == 0 {
		c.Broken = true
		r.report(RuleValueKind, c.Runs.At, "%s goes through no run; name at least one, such as runs = [run.NAME]", describe(&c.Header))
	}
	seen := map[*Run]RunRef{}
	for _, x := range c.Runs.V {
		if first, dup := seen[x.Run]; dup {
			r.report(RuleNameDuplicate, x.At, "%s stands twice in %s, and data enters a run once; remove one of them", x.Run.ID(), describe(&c.Header)).related(first.At, "the first time").remove(x.At, "it here")
			continue
		}
		seen[x.Run] = x
	}
	if !c.Runs.Known() {
		return
	}
	r.oneEach(&c.Header, c.Length, len(seen), "a hop into each of its runs, and these are")
	var ids []string
	for _, x := range c.Runs.V {
		ids = append(ids, x.Run.ID())
	}
	for i, h := range c.Hops {
		if !h.To.Known() || c.Broken {
			continue
		}
		if _, there := seen[h.To.V]; !there {
			c.Broken = true
			r.report(RuleRefKind, h.To.At, "%s does not go through %s; a hop leads to one of its runs: %s", describe(&c.Header), h.To.V.ID(), few(ids))
		}
		for _, other := range c.Hops[:i] {
			if other.To.V == h.To.V {
				r.report(RuleNameDuplicate, h.To.At, "a second hop to %s; write what both say in one of them, and remove the other", h.To.V.ID()).related(other.To.At, "the first one")
			}
		}
	}
}

// oneEach reports a list with one for each that is of another length.
func (r *resolver) oneEach(h *Header, v Value[[]Quantity], want int, of string) {
	if v.Known() && len(v.V) != 1 && len(v.V) != want {
		h.Broken = true
		r.report(RuleValueRange, v.At, "length lists %d, and %s has %s %d; write one for each, or one for all", len(v.V), describe(h), of, want)
	}
}

// few lists names in a sentence, not more than anybody reads.
func few(ids []string) string {
	if len(ids) > 8 {
		ids = append(ids[:8:8], "…")
	}
	return strings.Join(ids, ", ")
}
