package rules

import (
	"fmt"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var AddressMixed = &lint.Rule{
	Name:  "address-mixed",
	Title: "An addressed order mixes pixels of different channels",
	Level: lint.Error,
	Why: `Universes are laid out with so many slots for each pixel: three for RGB, four for RGBW.
An order that holds both kinds has no such number, and from the first pixel of the other kind on every address is wrong.`,
	Do:      `Make an order for each kind of pixel, with universes of its own.`,
	Sources: []string{"arithmetic on the 512 slots of ANSI E1.31-2018"},
	Bad: func() string {
		return instead(twoKinds(), "[run.top] }\n", "[run.top, run.low] }\n", "order \"low\" { runs = [run.low] }\n", "")
	},
	Good:  twoKinds,
	Check: checkAddressMixed,
}

// twoKinds is the shelf with a run of three and one of four channels, each on
// a port of its own.
func twoKinds() string {
	return instead(twoPorts(4, 13),
		"strip \"led\" { like = catalog.ws2812b_5v_60 }\n", "strip \"led\" { like = catalog.ws2812b_5v_60 }\nstrip \"white\" { like = catalog.sk6812_rgbw_5v_30 }\n",
		"run \"low\" {\n  strip  = strip.led", "run \"low\" {\n  strip  = strip.white",
		"order \"shelf\" { runs = [run.top, run.low] }\n", `order "top" { runs = [run.top] }
order "low" { runs = [run.low] }

universes "top" {
  order = order.top
  first = 1
}
`)
}

// partOrder proposes an order of its own, with addresses behind those of the first, for the runs of an order that have
// another count of channels than its first one.
func partOrder(f *figures.Figures, u *figures.Universes, o *figures.Order) []lint.Proposal {
	a, own := o.Node.Assign("runs")
	if !own || a.Val.Kind != schema.ListVal || len(a.Val.Items) != len(o.Spans) || len(u.Spans) == 0 {
		return nil
	}
	var same, others []string
	for i, s := range o.Spans {
		text := string(a.Val.Items[i].At.Bytes())
		if len(s.Run.Strip.V.Channels.V) == len(o.Spans[0].Run.Strip.V.Channels.V) {
			same = append(same, text)
		} else {
			others = append(others, text)
		}
	}
	order, universes := freeName(f.Plan, "order", o.Name+"-2"), freeName(f.Plan, "universes", u.Name+"-2")
	text := fmt.Sprintf("order %q { runs = [%s] }\n\nuniverses %q {\n  order = order.%s\n  first = %d\n}", order, strings.Join(others, ", "), universes, order, u.Spans[len(u.Spans)-1].Universe+1)
	return []lint.Proposal{proposal(fmt.Sprintf("Make order %q of the other kind", order), joined([]lint.Edit{{At: a.Val.At, New: "[" + strings.Join(same, ", ") + "]"}, after(u.Node, text)})...)}
}

func checkAddressMixed(p *lint.Pass) {
	for _, u := range p.Figures.Universes {
		if !u.Order.Known() {
			continue
		}
		for _, o := range p.Figures.Orders {
			if o.Order != u.Order.V || !o.OK || len(o.Spans) == 0 {
				continue
			}
			first := o.Spans[0].Run
			channels := len(first.Strip.V.Channels.V)
			for _, s := range o.Spans {
				n := len(s.Run.Strip.V.Channels.V)
				if n == channels {
					continue
				}
				p.Report(lint.Finding{
					Subject: u.ID(), At: u.At(u.Order.At),
					Message: fmt.Sprintf("%s: pixels of %s take %d slots, those of %s take %d; make an order for each kind", u.ID(), first.ID(), channels, s.Run.ID(), n),
					Related: []lint.Related{{At: o.At(refIn(o.Order, s.Run.Run)), Message: "where the other kind begins"}},
					Propose: func() [][]lint.Proposal { return [][]lint.Proposal{partOrder(p.Figures, u, o)} },
				})
				break
			}
		}
	}
}
