package schema

import "ohmstead/calc/quantity"

// Chain is one line of data through runs in their order. It stands for the
// signals between them and for the order.
type Chain struct {
	Header
	From     Value[*Point]   `attr:"from"`
	Runs     Value[[]RunRef] `attr:"runs"`
	Wire     Value[*Wire]    `attr:"wire"`
	Length   Value[Quantity] `attr:"length"`
	Within   Value[*Lead]    `attr:"within"`
	Resistor Value[Quantity] `attr:"resistor"`
}

var chainType = &BlockType{
	Name: "chain", Label: "name", Unlike: true,
	Doc:    "Takes one line of data through runs in their order: stands for the signals between them, and for their order.",
	Detail: "The signal into run.b is called signal.NAME-b. The order is called order.NAME; none is made in a plan that writes an order itself.",
	Example: `chain "word" {
  from = controller.brain.port.a
  runs = [run.left, from_end(run.right)]
  wire = wire.data
}`,
	Attrs: []Attr{
		{Name: "from", Kind: Place, Places: []PlaceKind{ControllerPort, RunEnds}, Required: true, Doc: "The port, or the end of the run before.", Example: "controller.brain.port.a"},
		{Name: "runs", Kind: OrderedRuns, Required: true, Doc: "The runs in the order of the data; from_end for one that it enters at the end.", Example: "[run.left, from_end(run.right)]"},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Doc: "What each hop is made of.", Example: "wire.data"},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Length of each hop.", Example: `"60 cm"`},
		{Name: "within", Kind: Reference, Types: []string{"lead"}, Doc: "The lead whose cable each hop shares.", Example: "lead.left"},
		{Name: "resistor", Kind: Measure, Dim: quantity.Resistance, Most: 1e6, Doc: "Series resistor in the first hop.", Example: `"330 ohm"`},
	},
	form:  func() former { return new(Chain) },
	makes: makeChain,
}

// makeChain makes a signal into each run, and the order.
func makeChain(m *making) {
	from := m.say("from")
	var order *Val
	for i, item := range m.items("runs") {
		run, in, out := item, "start", "end"
		if item.Kind == CallVal && item.Func.Text == "from_end" && len(item.Items) == 1 {
			run, in, out = item.Items[0], "end", "start"
		}
		if run.Kind != RefVal || len(run.Steps) != 2 || run.Steps[1].Name == "" {
			continue // the chain's own runs say why not
		}
		name := m.node.Label() + "-" + run.Steps[1].Name
		resistor := m.say("resistor")
		if i > 0 {
			resistor = nil
		}
		m.add("signal", name, item.At, from, says("to", refVal(run, in)), m.say("wire"), m.say("length"), m.say("within"), resistor)
		from = says("from", refVal(run, out))
		if order == nil {
			order = m.say("runs").Val
		}
	}
	if order != nil && !m.planWrites(orderType) {
		m.add("order", m.node.Label(), m.node.Head, m.say("runs"))
	}
}
