package locating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// told is the share of the probability from which a cause is told.
const told = 0.001

// Text tells all of it, for a terminal.
func (l *Located) Text() string {
	var b strings.Builder
	for i := range l.Readings {
		r := &l.Readings[i]
		dim := dimension(r.Probes)
		fmt.Fprintf(&b, "%s, case %s: %s read, %s worked out, %s left open\n", r.Place.V, r.Case.Name, r.Read().V, quantity.Show(dim, r.Want), quantity.Show(dim, r.Leave))
	}
	var classes [][]Cause
	for _, class := range l.Classes[:min(len(l.Classes), 2)] {
		class = slices.DeleteFunc(slices.Clone(class), func(c Cause) bool { return c.Share < told })
		if len(class) == 0 {
			break
		}
		classes = append(classes, class)
	}
	if caution := Caution(slices.Concat(classes...)); caution != "" { // once, above all, so that it is seen
		fmt.Fprintf(&b, "\n%s.\n", caution)
	}
	for i, class := range classes {
		fmt.Fprintf(&b, "\n%d.", i+1)
		if len(class) > 1 {
			fmt.Fprintf(&b, " one of %d that these readings cannot tell apart:", len(class))
		}
		b.WriteByte('\n')
		for _, c := range class {
			fmt.Fprintf(&b, "   %5s  %s\n", quantity.Number(100*c.Share, 2)+" %", l.Say(c))
		}
	}
	if !l.Classes[0][0].Fits {
		b.WriteString("\nNone of them fits well: more than one thing is wrong, or a reading or the plan is.\n")
	}
	if len(l.Next) > 0 {
		b.WriteString("\nRead next, what tells most first:\n")
		for _, n := range l.Next {
			fmt.Fprintf(&b, "   %s\n", l.Ask(n))
		}
	}
	b.WriteString("\nOne fault at a time is weighed. Switch off before anything is opened, and let it cool.\n")
	return b.String()
}

// dimension is what a meter shows there.
func dimension(t figures.Probes) quantity.Dimension {
	return []quantity.Dimension{quantity.Voltage, quantity.Current, quantity.Resistance}[t.Reads]
}

// Ask says how a reading is taken, and what a wall as planned shows.
func (l *Located) Ask(n Next) string {
	what := "volts at"
	switch {
	case n.Reads == figures.Amps:
		what = "amps at"
	case n.At.Lead != nil:
		what = "volts along"
	}
	return fmt.Sprintf("%s %s in case %s (as planned: %s)", what, n.At, n.Case.Name, quantity.Show(dimension(n.Probes), n.Shown))
}

// scorching is the heat in one connection from which it is told to switch off at once, W. A lever or screw terminal of
// good contact gives off some tenths of a watt: common practice, no source.
const scorching = 1.0

// Burns tells whether a connection takes so much that it has to be switched off.
func (c Cause) Burns() bool { return c.Watts >= scorching }

// switchOff is said of what burns, once in whatever tells of it.
const switchOff = "switch off and open it first"

// Caution is what is said once above a list of causes, where one of them has to be switched off at once; else "".
func Caution(causes []Cause) string {
	watts := 0.0
	for _, c := range causes {
		if c.Burns() {
			watts = max(watts, c.Watts)
		}
	}
	if watts == 0 {
		return ""
	}
	return fmt.Sprintf("Switch off now: up to %s of heat in one connection. Let it cool, and open the hottest of these first", quantity.Show(quantity.Power, watts))
}

// Say says what a cause is, with the size that fits.
func (l *Located) Say(c Cause) string {
	ohm := func(x float64) string { return quantity.Show(quantity.Resistance, x) }
	times := quantity.Number(c.Value, 2)
	switch c.what {
	case contact, holder:
		where := c.Where()
		heat := ""
		if c.Watts >= 0.1 {
			heat = fmt.Sprintf(": %s at %s, %s of heat", quantity.Show(quantity.Voltage, c.Amps*c.Value), quantity.Show(quantity.Current, c.Amps), quantity.Show(quantity.Power, c.Watts))
		}
		return fmt.Sprintf("%s has %s too much%s", where, ohm(c.Value), heat)
	case gauge:
		best := 0
		for i, x := range c.sizes {
			if math.Abs(x-c.Value) < math.Abs(c.sizes[best]-c.Value) {
				best = i
			}
		}
		return fmt.Sprintf("the wire of %s is %s, not %s", c.lead.ID(), c.gauges[best], c.lead.Gauge)
	case length:
		show := func(x float64) string { return l.fig.Habit.Show(quantity.Length, x) }
		return fmt.Sprintf("%s is %s long, not %s", c.lead.ID(), show(c.Value*c.lead.Length), show(c.lead.Length))
	case missing:
		return fmt.Sprintf("%s carries nothing: it is missing, open, or its fuse is out", c.lead.ID())
	case rail:
		return fmt.Sprintf("the rails of %s have %s times the resistance: thinner copper", c.run.ID(), times)
	case dark:
		return fmt.Sprintf("%s is dark from pixel %d on", c.run.ID(), c.run.Pixels-int(math.Round(c.Value*float64(c.run.Pixels))))
	case lit:
		return fmt.Sprintf("%s draws %s times what the case asks for: lit otherwise, or another reel", c.run.ID(), times)
	case trim:
		return fmt.Sprintf("%s gives %s, not %s", c.supply.ID(), quantity.Show(quantity.Voltage, c.Value*c.supply.Volts()), quantity.Show(quantity.Voltage, c.supply.Volts()))
	}
	return "nothing is wrong: meter and plan leave as much open"
}

// standsOut is the share of the probability above which a cause is called the likeliest: then it is more likely than all
// others together. Below it whoever opens that one first is more often wrong than right.
const standsOut = 0.5

// Brief says what the readings point to, in part of a sentence: the cause that stands out, or how many fit, the heat that one
// of them would give off and what to read next; and whether it has to be switched off at once.
func (l *Located) Brief() (text string, burns bool) {
	best := l.Classes[0][0]
	if best.what == sound {
		return "", false
	}
	if !best.Fits {
		return "no single cause fits", false
	}
	fit, hot, watts := 0, 0.0, 0.0
	for _, c := range l.Classes[0] {
		if c.Share >= told {
			fit++
		}
		if c.Burns() {
			hot += c.Share
			watts = max(watts, c.Watts)
		}
	}
	heat, off := "", ""
	if best.Burns() {
		off = ": " + switchOff
	}
	if watts > 0 && !(best.Share > standsOut && best.Burns()) {
		heat = fmt.Sprintf(", but the hottest would give off %s in a connection (switch off before any is touched)", quantity.Show(quantity.Power, watts))
	}
	switch {
	case best.Share > standsOut:
		text = "most likely " + l.Say(best) + off
		if fit > 1 {
			text += fmt.Sprintf("; %s fit too%s, and ohmstead locate lists them", quantity.Count(fit-1, "other cause"), heat)
		}
		return text, hot >= 0.5
	case fit == 1:
		text = "it may be that " + l.Say(best) + off + ", or something else"
	default:
		text = quantity.Count(fit, "cause") + " fit and none stands out" + heat
	}
	if len(l.Next) > 0 {
		text += ": next read " + l.Ask(l.Next[0])
	}
	return text + "; ohmstead locate lists all", hot >= 0.5
}

// Where names the place of a connection.
func (c Cause) Where() string {
	if c.what == holder {
		return fmt.Sprintf("the fuse of %s or its holder", c.lead.ID())
	}
	pt := c.lead.From.V
	if c.where == schema.AtEnd {
		pt = c.lead.To.V
	}
	if pt.Joint != nil {
		return fmt.Sprintf("%s, where %s ends in it,", pt, c.lead.ID())
	}
	return fmt.Sprintf("the connection of %s at %s", c.lead.ID(), pt)
}
