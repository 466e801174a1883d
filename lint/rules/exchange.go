package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"ohmstead/lint"
	"ohmstead/schema"
)

// mostExchanged is how many parts of the plan, and how many of the catalogue, are tried in place of one.
const mostExchanged = 6

// exchange proposes another part in the attribute of a block that is called after its type: one of the plan's own that
// suits, else one of the catalogue's; those with the least of a measure first.
func exchange[B interface {
	schema.Block
	ID() string
}](p *schema.Plan, h *schema.Header, attr string, own []B, suits func(B) bool, least ...func(B) float64) [][]lint.Proposal {
	propose := func(parts []B) (out []lint.Proposal) {
		for _, of := range least {
			parts = slices.Clone(parts)
			slices.SortStableFunc(parts, func(a, b B) int { return cmp.Compare(of(a), of(b)) })
		}
		for _, b := range parts {
			if len(out) < mostExchanged && suits(b) {
				out = append(out, proposal(fmt.Sprintf("Use %s for %s", b.ID(), p.Shared(h, attr)), schema.SetAttr(h, attr, b.ID())))
			}
		}
		return out
	}
	var sold []B
	for _, b := range schema.Catalogue().Entries(attr) {
		if x, ok := b.(B); ok {
			sold = append(sold, x)
		}
	}
	return [][]lint.Proposal{propose(own), last(propose(sold))}
}

// drop is the fix that takes an attribute out of a block, where the block says it itself.
func drop(h *schema.Header, name string) []lint.Fix {
	a, own := h.SaidIn(name).Assign(name)
	if !own {
		return nil
	}
	return []lint.Fix{{Title: "Remove " + name, Edits: []lint.Edit{{At: schema.WholeLines(a.Whole)}}}}
}

// ownPort proposes to lead a signal from a port that no other leaves: one that there is, else a new one on a pin that is
// good and free.
func ownPort(p *schema.Plan, c *schema.Controller, s *schema.Signal) []lint.Proposal {
	for _, port := range readSignals(p).freePorts(p) {
		if port.Controller == c {
			return []lint.Proposal{proposal("Lead "+s.ID()+" from "+port.ID(), schema.SetAttr(&s.Header, "from", port.ID()))}
		}
	}
	free := goodPins(c)
	if len(free) == 0 {
		return nil
	}
	name := "a"
	for slices.ContainsFunc(c.Ports, func(port *schema.Port) bool { return port.Name == name }) {
		name = string(name[0] + 1)
	}
	from := c.ID() + ".port." + name
	return []lint.Proposal{proposal(fmt.Sprintf("Lead %s from a port of its own, on pin %d", s.ID(), free[0]),
		schema.InsertBlock(c.Node, fmt.Sprintf("port %q { pin = %s }", name, strconv.Itoa(free[0]))), schema.SetAttr(&s.Header, "from", from))}
}

// without is the edit that takes a block out of the text.
func without(n *schema.Node) lint.Edit { return lint.Edit{At: schema.WholeLines(n.Whole)} }
