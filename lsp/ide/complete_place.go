package ide

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/schema"
)

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
	mine := func(h *schema.Header) bool { return self != nil && (h.Node == self || h.MadeBy() == self) }
	plan := p.v.Plan
	for _, l := range plan.Leads {
		if mine(&l.Header) {
			continue
		}
		for _, pt := range []schema.Value[*schema.Point]{l.From, l.To} {
			if pt.Known() {
				w.leads[schema.HeaderOf(pt.V.Block()).ID()] = true
				w.outputs[pt.V.String()] = true
			}
		}
	}
	for _, s := range plan.Signals {
		if mine(&s.Header) {
			continue
		}
		if s.From.Known() {
			w.outs[s.From.V.String()] = true
		}
		if s.To.Known() {
			w.ins[s.To.V.String()] = true
		}
	}
	for _, o := range plan.Orders {
		for _, r := range o.Runs.V {
			if !mine(&o.Header) && r.Run != nil {
				w.ordered[r.Run.ID()] = true
			}
		}
	}
	for _, u := range plan.Universes {
		if u.Node != self && u.Order.Known() {
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
	case *schema.Lead:
		for _, part := range schema.LeadPlaces {
			pt := schema.Point{Kind: schema.LeadPlace, Lead: b, Where: part}
			out = append(out, at(strings.TrimPrefix(pt.String(), id), false, ""))
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
