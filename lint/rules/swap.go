package rules

import (
	"slices"

	"ohmstead/lint"
	"ohmstead/schema"
)

// swapSupply replaces a supply, and the points of leads that name it, by
// another.
func swapSupply(p *schema.Plan, old, new *schema.Supply) {
	p.Supplies = lint.Replace(p.Supplies, old, new)
	p.Leads = slices.Clone(p.Leads)
	for i, l := range p.Leads {
		c := *l
		for _, end := range []*schema.Value[*schema.Point]{&c.From, &c.To} {
			if end.V != nil && end.V.Supply == old {
				pt := *end.V
				pt.Supply, end.V = new, &pt
				p.Leads[i] = &c
			}
		}
	}
}

// swapController replaces a controller by another of the same ports.
func swapController(p *schema.Plan, old, new *schema.Controller) {
	p.Controllers = lint.Replace(p.Controllers, old, new)
	new.Ports = slices.Clone(old.Ports)
	ports := map[string]*schema.Port{}
	for i, port := range new.Ports {
		c := *port
		c.Controller = new
		ports[port.Name], new.Ports[i] = &c, &c
	}
	point := func(v *schema.Value[*schema.Point]) bool {
		if v.V == nil || v.V.Controller != old {
			return false
		}
		pt := *v.V
		pt.Controller = new
		if pt.Port != nil {
			pt.Port = ports[pt.Port.Name]
		}
		v.V = &pt
		return true
	}
	p.Leads = slices.Clone(p.Leads)
	for i, l := range p.Leads {
		c := *l
		if a, b := point(&c.From), point(&c.To); a || b {
			p.Leads[i] = &c
		}
	}
	p.Signals = slices.Clone(p.Signals)
	for i, s := range p.Signals {
		c := *s
		if a, b := point(&c.From), point(&c.To); a || b {
			p.Signals[i] = &c
		}
	}
}
