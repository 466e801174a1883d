package rules

import (
	"fmt"
	"math"
	"strconv"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var FuseVoltage = &lint.Rule{
	Name:  "fuse-voltage",
	Title: "A fuse is not rated for the voltage that it breaks",
	Level: lint.Error,
	Guard: true,
	Why: `When a fuse opens, an arc burns between its ends.
Direct current never passes through zero, so that above its rated voltage the arc may go on, and the fuse burns instead of the fault.
The usual blade fuse is for 32 V; the same in 58 V looks alike.
The 250 V on a glass cartridge are alternating current.
Where no holder says a voltage, that of the usual fuse of the kind counts, and above it this is a warning: something has to be chosen, and said.`,
	Formula: "Set-point of the highest supply on the lead's plus side against `voltage` of its holder; without it, 32 V for a blade or bolted fuse (58 V at the most), 60 V for a cartridge, 16 V for a resettable one (60 V at the most).",
	Do:      `Take fuse and holder of a rated direct voltage at or above the supply's, and write that as voltage of the holder.`,
	Sources: []string{
		"ISO 8820-3, types C, E and F: rated voltage 32 V or 58 V",
		"ISO 8820-5: the same (from memory); cartridges and resettable fuses: makers' sheets (from memory)",
	},
	Bad:   func() string { return instead(highBoard, `"58 V"`, `"32 V"`) },
	Good:  func() string { return highBoard },
	Check: checkFuseVoltage,
}

// highBoard is a board on 48 V behind a fuse that stands it.
const highBoard = shockFree + `
wire "feed" { gauge = "22 AWG" }

controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["48 V"]
}

holder "clip" { voltage = "58 V" }

lead "board" {
  from   = supply.high.out
  to     = controller.brain.power
  wire   = wire.feed
  length = "30 cm"
  fuse   = "1 A"
  holder = holder.clip
}
`

func checkFuseVoltage(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		volts, from := 0.0, (*schema.Supply)(nil)
		for _, o := range fedBy(p.Figures, l) {
			if o.Supply.Output.Known() && !o.Supply.Trim.Bad && o.Supply.Volts() > volts {
				volts, from = o.Supply.Volts(), o.Supply
			}
		}
		h := l.Holder.V
		if from == nil || !l.Fused() || l.Holder.Bad || h != nil && (!h.Kind.Known() || h.Voltage.Bad) {
			continue
		}
		limit, said := l.Device.Volts, h != nil && h.Voltage.Set
		if said {
			limit = h.Voltage.V.SI
		}
		if volts <= limit*(1+1e-9) {
			continue
		}
		is, may := quantity.ShowAgainst(quantity.Voltage, volts, limit), showVolts(limit)
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Value: &lint.Value{Got: volts, Limit: limit, Unit: "V"},
			Message: fmt.Sprintf("%s: %s gives %s, and its %s in %s is rated %s; use fuse and holder of %s or more of direct voltage", l.ID(), from.ID(), is, fuseWord(l), idOf(h), may, is),
			Related: []lint.Related{{At: from.At(from.Output.At), Message: "gives " + is}},
		}
		switch {
		case said:
		case h == nil && l.Fuse.V.SI > fuse.Everyday:
			f.Level = lint.Warning
			f.Message = fmt.Sprintf("%s: nothing says whether its %s may break the %s of %s; name a holder with its kind and voltage", l.ID(), fuseWord(l), is, from.ID())
		case volts > l.Device.Most:
			most := showVolts(l.Device.Most)
			f.Value.Limit = l.Device.Most
			f.Message = fmt.Sprintf("%s: %s gives %s, and no %s fuse as its %s one is made for more than %s; use another kind, and name a holder with its kind and voltage", l.ID(), from.ID(), is, l.Device.Name, l.Fuse.V, most)
		default:
			f.Level = lint.Warning
			f.Message = fmt.Sprintf("%s: %s gives %s, and the usual %s fuse is rated %s; fit one of %s or more, and say so with a holder's voltage", l.ID(), from.ID(), is, l.Device.Name, may, is)
			f.Propose = func() [][]lint.Proposal { return [][]lint.Proposal{{sayVoltage(p.Plan, l)}} }
		}
		p.Report(f)
	}
}

// sayVoltage writes that a lead's fuse is of the highest voltage of its kind,
// which only a look at it can tell.
func sayVoltage(p *schema.Plan, l *figures.Lead) lint.Proposal {
	q := quantity.Of(quantity.Voltage, l.Device.Most).Exact()
	name := freeName(p, "holder", l.Device.Name+"-"+strconv.Itoa(int(math.Round(l.Device.Most)))+"v")
	text := fmt.Sprintf("holder %q {\n  kind    = %q\n  voltage = %q\n}", name, l.Device.Name, q)
	if l.Holder.V != nil {
		text = fmt.Sprintf("holder %q {\n  like    = %s\n  voltage = %q\n}", name, l.Holder.V.ID(), q)
	}
	out := proposal(fmt.Sprintf("Say that the %s fuse of %s is rated %s", l.Device.Name, l.ID(), q), schema.SetAttr(&l.Header, "holder", "holder."+name), after(l.Node, text))
	out.Grade = schema.GradeFact
	return out
}

// fedBy lists the outputs that are joined with a lead's plus side.
func fedBy(f *figures.Figures, l *figures.Lead) []figures.Output {
	if !l.Plus() || !l.From.Known() || !l.To.Known() {
		return nil
	}
	var out []figures.Output
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt.Supply == nil {
			return f.Connectivity().Plus(pt.Block())
		}
		out = append(out, figures.Output{Supply: pt.Supply, Number: pt.Output})
	}
	return out
}

func idOf(h *schema.Holder) string {
	if h == nil {
		return ""
	}
	return h.ID()
}
