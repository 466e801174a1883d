package lists

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// describe says what to ask for in a shop.
func describe(x Item, h quantity.Habit) string {
	var words []string
	say := func(s string) {
		if s != "" {
			words = append(words, s)
		}
	}
	measure := func(v schema.Value[schema.Quantity], before, after string) {
		if v.Known() {
			say(before + h.Quantity(v.V) + after)
		}
	}
	text := func(v schema.Value[string]) {
		if v.Known() {
			say(v.V)
		}
	}
	if x.Kind == "end cap" || x.Use == nil {
		return x.Part
	}
	switch b := x.Use.(type) {
	case *schema.Strip:
		text(b.Chip)
		say("strip")
		measure(b.Voltage, "", "")
		measure(b.Density, "", "")
		if len(b.Channels.V) > 3 {
			text(b.Channels)
		}
		measure(b.Width, "", " wide")
		text(b.Enclosure)
	case *schema.Diffuser:
		text(b.Material)
		text(b.Kind)
		if b.Cover.Known() && b.Cover.V != "" {
			say("with cover of " + b.Cover.V)
		}
		measure(b.InnerWidth, "inside ", "")
		text(b.Enclosure)
	case *schema.Wire:
		say(gaugeOf(b))
		if b.Cores.V > 1 {
			say(fmt.Sprintf("cable of %d cores", b.Cores.V))
		} else {
			say("wire")
		}
		if b.Stranded.Known() && !b.Stranded.V {
			say("solid")
		} else {
			say("stranded")
		}
		text(b.Insulation)
		say(x.Color)
	case *schema.Fixing:
		say(map[string]string{"adhesive": "mounting tape or glue", "tie": "cable tie", "screw": "screw"}[b.Kind.V])
		if len(words) == 0 {
			text(b.Kind)
		}
		text(b.Material)
		measure(b.Width, "", " wide")
	case *schema.Supply:
		say("supply")
		measure(b.Output, "", "")
		measure(b.Rating, "", "")
		if b.Outputs.V > 1 {
			say(fmt.Sprintf("on each of %d outputs", b.Outputs.V))
		}
		text(b.Enclosure)
	case *schema.Controller:
		if b.Board.Known() {
			text(b.Board.V.Chip)
		}
		say("controller board")
	case *schema.Joint:
		say(map[string]string{"lever": "lever splice", "screw": "terminal strip", "crimp": "crimp splice", "busbar": "bus bar", "plug": "plug and socket"}[b.Kind.V])
		if b.Kind.V != "plug" && b.Ways.Known() {
			say(fmt.Sprintf("of %d ways", b.Ways.V))
		}
		if g := b.Gauges.V; b.Gauges.Known() && len(g) == 2 {
			say(fmt.Sprintf("for %s to %s", g[0], g[1]))
		}
		measure(b.Rating, "", "")
	case *schema.Holder:
		text(b.Kind)
		if b.Ways.Known() && b.Ways.V > 1 {
			say(fmt.Sprintf("fuse block of %d ways", b.Ways.V))
		} else {
			say("fuse holder")
		}
		measure(b.Rating, "up to ", "")
	case *schema.Consumable:
		say(b.Title())
	default:
		return x.Part
	}
	return strings.Join(words, " ")
}
