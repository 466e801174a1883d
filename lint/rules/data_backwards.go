package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var DataBackwards = &lint.Rule{
	Name:  "data-backwards",
	Title: "A signal meets a run at the wrong end",
	Level: lint.Error,
	Why: `Data goes through a strip one way only, along the arrows printed on it: in at one end, out at the other.
A signal soldered to the other end reaches nothing; power, by contrast, may enter anywhere.
The plan takes it that data enters at the start of a run, or at the end where data_enters says so.`,
	Do: `Lead the signal to the end where data enters, and on from the other one.
If the strip is mounted with its arrows pointing to its start, say so: data_enters = "end".`,
	Sources: []string{"WS2812B datasheet, Worldsemi, pin functions (DIN, DOUT)"},
	Bad: func() string {
		return instead(shelf, "run.low.start\n  wire   = wire.data", "run.low.end\n  wire   = wire.data")
	},
	Good:  func() string { return shelf },
	Check: checkDataBackwards,
}

func checkDataBackwards(p *lint.Pass) {
	for _, s := range p.Plan.Signals {
		for _, end := range []struct {
			attr string
			v    schema.Value[*schema.Point]
			want func(*schema.Run) string
			say  string
		}{
			{"to", s.To, (*schema.Run).DataIn, "%s: leads into %s, but data enters %s at its %s"},
			{"from", s.From, (*schema.Run).DataOut, "%s: leaves from %s, but data leaves %s at its %s"},
		} {
			if !end.v.Known() || end.v.V.Run == nil || !end.v.V.Run.DataEnters.Known() {
				continue
			}
			r := end.v.V.Run
			if atEnd := (end.attr == "to") == (r.DataEnters.V == "end"); end.v.V.Where == schema.AtEnd && atEnd || end.v.V.Where == schema.AtStart && !atEnd {
				continue
			}
			want := end.want(r)
			side := want[len(r.ID())+1:]
			f := lint.Finding{
				Subject: s.ID(), At: s.At(end.v.At),
				Message: fmt.Sprintf(end.say+"; write %s", s.ID(), end.v.V, r.ID(), side, want),
				Related: []lint.Related{{At: r.At(r.DataEnters.At), Message: "the run and its data"}},
				Fixes:   swapEnd(s, end.attr, side),
			}
			if signalsAt(p.Plan, r) == 1 {
				other := map[string]string{"start": "end", "end": "start"}[r.DataEnters.V]
				f.Message += fmt.Sprintf(", or data_enters = %q in %s if its arrows point that way", other, r.ID())
				f.Fixes = append(f.Fixes, lint.Fix{Title: fmt.Sprintf("Write data_enters = %q", other), Edits: []lint.Edit{schema.SetAttr(&r.Header, "data_enters", `"`+other+`"`)}})
			}
			p.Report(f)
		}
	}
}

// signalsAt counts the ends of signals at a run.
func signalsAt(p *schema.Plan, r *schema.Run) (n int) {
	for _, s := range p.Signals {
		for _, pt := range []*schema.Point{s.From.V, s.To.V} {
			if pt != nil && pt.Run == r {
				n++
			}
		}
	}
	return n
}

// swapEnd writes the other end of the run that a signal names.
func swapEnd(s *schema.Signal, attr, side string) []lint.Fix {
	a, ok := s.Node.Assign(attr)
	if !ok || a.Val.Kind != schema.RefVal {
		return nil
	}
	step := a.Val.Steps[len(a.Val.Steps)-1]
	return []lint.Fix{{Title: "Write ." + side, Edits: []lint.Edit{{At: step.At, New: side}}}}
}
