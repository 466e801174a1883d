package lists

import (
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/sentences"
	"ohmstead/schema"
)

// describe says what to ask for in a shop.
func describe(x Item, h quantity.Habit) string {
	var words []string
	put := func(s string) {
		if s != "" {
			words = append(words, s)
		}
	}
	measure := func(v schema.Value[schema.Quantity], key string) {
		if v.Known() {
			put(say(key, "value", h.Quantity(v.V)))
		}
	}
	text := func(v schema.Value[string]) {
		if v.Known() {
			put(v.V)
		}
	}
	kinded := func(of string, kind schema.Value[string]) {
		if s, ok := sentences.Find("what." + of + "." + kind.V); ok {
			put(s)
		} else {
			text(kind)
		}
	}
	if x.Kind == "end cap" || x.Use == nil {
		return x.Part
	}
	switch b := x.Use.(type) {
	case *schema.Strip:
		text(b.Chip)
		put(say("part.strip"))
		measure(b.Voltage, "what.value")
		measure(b.Density, "what.value")
		if len(b.Channels.V) > 3 {
			text(b.Channels)
		}
		measure(b.Width, "what.wide")
		text(b.Enclosure)
	case *schema.Diffuser:
		text(b.Material)
		text(b.Kind)
		if b.Cover.Known() && b.Cover.V != "" {
			put(say("what.cover", "material", b.Cover.V))
		}
		measure(b.InnerWidth, "what.inside")
		text(b.Enclosure)
	case *schema.Wire:
		put(gaugeOf(b))
		if b.Cores.V > 1 {
			put(say("what.cable", "n", strconv.Itoa(b.Cores.V)))
		} else {
			put(say("part.wire"))
		}
		if b.Stranded.Known() && !b.Stranded.V {
			put(say("what.solid"))
		} else {
			put(say("what.stranded"))
		}
		text(b.Insulation)
		put(x.Color)
	case *schema.Fixing:
		kinded("fixing", b.Kind)
		text(b.Material)
		measure(b.Width, "what.wide")
	case *schema.Supply:
		put(say("part.supply"))
		measure(b.Output, "what.value")
		measure(b.Rating, "what.value")
		if b.Outputs.V > 1 {
			put(say("what.outputs", "n", strconv.Itoa(b.Outputs.V)))
		}
		text(b.Enclosure)
	case *schema.Controller:
		if b.Board.Known() {
			text(b.Board.V.Chip)
		}
		put(say("what.board"))
	case *schema.Joint:
		kinded("joint", b.Kind)
		if b.Kind.V != "plug" && b.Ways.Known() {
			put(say("what.ways", "n", strconv.Itoa(b.Ways.V)))
		}
		if g := b.Gauges.V; b.Gauges.Known() && len(g) == 2 {
			put(say("what.gauges", "least", g[0].String(), "most", g[1].String()))
		}
		measure(b.Rating, "what.value")
	case *schema.Holder:
		text(b.Kind)
		if b.Ways.Known() && b.Ways.V > 1 {
			put(say("what.block", "n", strconv.Itoa(b.Ways.V)))
		} else {
			put(say("what.holder"))
		}
		measure(b.Rating, "what.upto")
	case *schema.Consumable:
		put(b.Title())
	default:
		return x.Part
	}
	return strings.Join(words, " ")
}
