package rules

import (
	"fmt"

	"ohmstead/calc/ingress"
	"ohmstead/lint"
	"ohmstead/schema"
)

var EnclosureWeak = &lint.Rule{
	Name:  "enclosure-weak",
	Title: "A part stands less water than its place has",
	Level: lint.Error,
	Guard: true,
	Why: `Water in a strip or joint eats its copper, warms it where current creeps, and makes it fail weeks later; water in a supply brings the mains within reach.
The second numeral of the protection class says how much water an enclosure keeps out. Up to 6 it stands for all lower ones; 7 and 8, immersion, say nothing of the jets of 5 and 6.
A supply is an error, everything else a warning. Of a strip and its diffuser the better class counts. The holder of a fuse that says its class is judged where its lead begins.`,
	Formula: "second numeral of `enclosure`: 2 where `exposure` is damp, 4 where wet or bath, 5 where jets, 7 where buried",
	Do: `Take a part that stands it, or put it into a box or closed diffuser and write the ` + "`enclosure`" + ` of that.
What sits dry beside a wet wall gets ` + "`exposure = \"dry\"`" + ` of its own.
A sealed strip is open where it was cut: close it again, with cap and glue.
The mains side outdoors is for a licensed electrician under the local code.`,
	NoFix: "Which part stands the water, or which box it goes into, is bought and not in the plan.",
	Sources: []string{
		"IEC 60529, second characteristic numeral",
		"IEC 60364-5-51 table 51A, AD1 to AD8, of two numerals the higher; buried: IEC 60598-2-13 (from memory)",
	},
	Bad:   func() string { return outdoors("IP20") },
	Good:  func() string { return outdoors("IP67") },
	Check: checkEnclosureWeak,
}

// outdoors is the shelf in the rain with a supply of a class, everything else sealed.
func outdoors(class string) string {
	return instead(shelf, "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  exposure = \"wet\"\n",
		"strip \"led\" { like = catalog.ws2812b_5v_60 }", "strip \"led\" {\n  like      = catalog.ws2812b_5v_60\n  enclosure = \"IP67\"\n}",
		"  board   = catalog", "  enclosure = \"IP65\"\n\n  board   = catalog",
		"  input  = [\"230 V\"]\n", "  input  = [\"230 V\"]\n\n  enclosure = \""+class+"\"\n")
}

func checkEnclosureWeak(p *lint.Pass) {
	judge := func(x standing) {
		water := schema.Water[x.V]
		weak, ok := x.weak(water)
		if !ok {
			return
		}
		class := weak.V
		if l, lead := x.Block.(*schema.Lead); lead {
			class = "the " + class + " of " + l.Holder.V.ID()
		}
		f := lint.Finding{
			Subject: x.Header.ID(), At: x.Header.At(weak.At), Related: x.saidAt(), Level: lint.Warning,
			Message: fmt.Sprintf("%s: %s stands in %s, which asks for IPX%d; use one that keeps it out, put it into a box or closed diffuser and write the enclosure of that, or write exposure = \"dry\" where it sits dry",
				x.Header.ID(), class, x.wetly(), water),
		}
		if l, lead := x.Block.(*schema.Lead); lead {
			f.At = l.At(l.Holder.At)
		}
		if r, run := x.Block.(*schema.Run); run {
			f.At = x.Header.At(r.Strip.At)
		}
		if _, supply := x.Block.(*schema.Supply); supply {
			f.Level = lint.Error
			f.Message += "; its mains side is for a licensed electrician"
		}
		p.Report(f)
	}
	eachStanding(p.Plan, judge)
	eachHolder(p.Plan, judge)
}

// weak is the first class that lets water in, where what counts is said and
// none keeps it out: of a run that is at least the strip's.
func (x standing) weak(water int) (class schema.Value[string], ok bool) {
	for i, c := range x.classes() {
		if c.Bad {
			return class, false
		}
		keeps, known := ingress.Keeps(c.V, water)
		switch {
		case keeps, i == 0 && !known:
			return class, false
		case i == 0:
			class, ok = c, true
		}
	}
	return class, ok
}
