package rules

import (
	"fmt"
	"math"
	"strconv"

	"ohmstead/calc/pixels"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var CutPoint = &lint.Rule{
	Name:  "cut-point",
	Title: "The strip cannot be cut, or soldered to, just there",
	Level: lint.Warning,
	Why: `A strip can be cut and soldered to only at its pads: after each pixel, or after each group of them at 12 and 24 V.
A length between two pads leaves a dark end; a feed between two pads is soldered to the nearest one.
A counted number of pixels that ends between two pads cannot have been cut from this strip.`,
	Formula: "pads at 0, cut/density, 2 cut/density, …; leftover = length - the last pad on it",
	Do: `Take one of the two nearest lengths, or let the dark end lie where it does not show.
Write a feed's place as the pad that it is soldered to.
A written length is reported from 2 mm of leftover on, a drawn one from 25 mm.`,
	Sources: []string{"strips are cut only at their marks: common practice, no source; 25 mm of dark end: common practice, no source"},
	Bad:     func() string { return instead(coarse, `"1 m"`+"\n}\n\nlead", `"1.03 m"`+"\n}\n\nlead") },
	Good:    func() string { return coarse },
	Check:   checkCutPoint,
}

// coarse is a 24 V run with ten centimetres from pad to pad.
const coarse = `plan "cornice" { mains = "230 V" }

strip "warm" { like = catalog.ws2811_24v_60 }
wire "feed" { gauge = "18 AWG" }

supply "brick" {
  output = "24 V"
  rating = "2.5 A"
  input  = ["230 V"]
}

controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["24 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  port "a" { pin = 4 }
}

run "cornice" {
  strip  = strip.warm
  length = "1 m"
}

lead "cornice" {
  from   = supply.brick.out
  to     = run.cornice.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "2 A"
}

lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.feed
  length = "20 cm"
  fuse   = "1 A"
}

signal "cornice" {
  from = controller.brain.port.a
  to   = run.cornice.start
}
`

func checkCutPoint(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if r.OK {
			cutRun(p, r)
		}
	}
	for _, l := range p.Plan.Leads {
		for _, v := range []schema.Value[*schema.Point]{l.From, l.To} {
			if v.Known() && v.V.Run != nil {
				cutFeed(p, &l.Header, v)
			}
		}
	}
}

func cutRun(p *lint.Pass, r *figures.Run) {
	f := lint.Finding{Subject: r.ID(), At: r.Head(), Level: lint.Hint}
	if n := r.Run.Pixels; n.Set && !n.Bad {
		if r.WholeCut(n.V) {
			return
		}
		per := r.Counted.PerInterval()
		f.Level, f.At = lint.Warning, r.At(n.At)
		f.Message = fmt.Sprintf("%s: %s cannot be cut from %s, which parts only every %d; count again", r.ID(), count(n.V, "pixel", "pixels"), r.Strip.V.ID(), per)
		p.Report(f)
		return
	}
	least := pixels.DarkEnd
	if r.Run.Length.Set {
		least = pixels.CutSlack
		f.At = r.At(r.Run.Length.At)
	}
	if r.Counted.Leftover <= least || !r.Strip.V.Tape() {
		return
	}
	f.Value = &lint.Value{Got: r.Length, Limit: r.Counted.Lower, Unit: "m"}
	f.Message = fmt.Sprintf("%s: ends %s behind its last cut, and %s can be cut only every %s", r.ID(), p.Figures.Habit.Show(quantity.Length, r.Counted.Leftover),
		r.Strip.V.ID(), p.Figures.Habit.Show(quantity.Length, r.Counted.Interval()))
	lower, upper := lengthLike(r.Run.Length.V, r.Counted.Lower), lengthLike(r.Run.Length.V, r.Counted.Upper)
	if r.Drawn() {
		f.Message += fmt.Sprintf("; %s stays dark at its end, or draw it %s or %s long", p.Figures.Habit.Show(quantity.Length, r.Counted.Leftover), lower, upper)
	} else {
		f.Message += fmt.Sprintf("; %s holds %d pixels, %s holds %d", lower, r.Counted.Pixels, upper, r.Counted.Pixels+r.Counted.PerInterval())
	}
	if _, own := r.Node.Assign("length"); own {
		for _, text := range []string{lower, upper} {
			f.Fixes = append(f.Fixes, lint.Fix{Title: fmt.Sprintf("Write length = %q", text), Edits: []lint.Edit{schema.SetAttr(&r.Header, "length", strconv.Quote(text))}})
		}
	}
	p.Report(f)
}

// cutFeed tells where a feed really is soldered, when that is more than a
// quarter pitch from where it was meant to be.
func cutFeed(p *lint.Pass, h *schema.Header, v schema.Value[*schema.Point]) {
	pt := v.V
	r, ok := p.Figures.Run(pt.Run)
	if !ok || !r.OK || r.Beyond(pt) > 0 {
		return
	}
	snap := r.Snap(pt)
	if !snap.Far {
		return
	}
	p.Report(lint.Finding{
		Subject: h.ID(), At: h.At(v.At), Level: lint.Hint,
		Message: fmt.Sprintf("%s: %s lies between two pads, and the nearest is %s from there, before pixel %d; write %s[%d]",
			h.ID(), pt, p.Figures.Habit.Show(quantity.Length, math.Abs(snap.Moved)), snap.Pixel, r.ID(), snap.Pixel),
		Fixes: movePoint(h, v, fmt.Sprintf("[%d]", snap.Pixel)),
	})
}

// movePoint writes another place on the run that a lead names.
func movePoint(h *schema.Header, v schema.Value[*schema.Point], index string) []lint.Fix {
	for _, name := range []string{"from", "to"} {
		a, ok := h.Node.Assign(name)
		if !ok || a.Val.At != v.At || a.Val.Kind != schema.RefVal {
			continue
		}
		step := a.Val.Steps[len(a.Val.Steps)-1]
		if step.Index == nil {
			return nil
		}
		return []lint.Fix{{Title: "Write " + index, Edits: []lint.Edit{{At: step.At, New: index}}}}
	}
	return nil
}
