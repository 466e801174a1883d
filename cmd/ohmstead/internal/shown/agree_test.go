package shown

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// wilder is a random broken plan with second minuses, conductors side by side
// and here and there a fuse that cannot be read.
func wilder(r *rand.Rand) string {
	text := bigplan.Random(r)
	if r.IntN(2) == 0 {
		text += "\nlead \"ground\" {\n  from    = controller.c.power\n  to      = run.r0.start\n  wire    = wire.w1\n  length  = \"60 cm\"\n  carries = \"minus\"\n}\n"
	}
	if r.IntN(3) == 0 {
		text = strings.Replace(text, "lead \"r0\" {\n", "lead \"r0\" {\n  parallel = 2\n", 1)
	}
	if r.IntN(8) == 0 {
		text = strings.Replace(text, "lead \"r0\" {\n", "lead \"r0\" {\n  carries = \"plus\"\n", 1)
	}
	if r.IntN(10) == 0 {
		text = strings.Replace(text, "fuse   = \"3 A\"", "fuse   = \"3 ohm\"", 1)
	}
	return text
}

// aboutCurrent are the rules that say of a lead that more flows, or can be
// driven, than it may carry.
var aboutCurrent = map[string]bool{"wire-unprotected": true, "fuse-too-large": true, "lead-overcurrent": true, "wire-overheated": true}

// agree shows random plans and checks them: what a row has beyond the ampacity
// beside it is a finding of its lead, and what such a finding says stands in
// the row.
func agree(t *testing.T, plans int) {
	r := rand.New(rand.NewPCG(23, 8))
	rows, beyond, loads, found, unknowns := 0, 0, 0, 0, 0
	over := func(is, may Number) bool { return float64(is) > float64(may)*(1+1e-6) }
	alike := func(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(a, b) }
	for n := range plans {
		text := wilder(r)
		plan := schema.Decode("wild", []*source.File{source.Parse(source.NewText("wild/plan.ohm.hcl", []byte(text)))}, nil)
		fig, err := figures.Work(t.Context(), plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		verdict, err := lint.Run(t.Context(), plan, fig, rules.All)
		if err != nil {
			t.Fatal(err)
		}
		of := map[string][]lint.Finding{}
		for _, f := range verdict.Findings {
			if aboutCurrent[f.Rule] {
				of[f.Subject] = append(of[f.Subject], f)
			}
		}
		p := Of(fig, len(verdict.Findings), false)
		for i, row := range p.Leads {
			if math.IsNaN(float64(row.Ampacity)) {
				continue
			}
			rows++
			complain := func(format string, args ...any) {
				t.Errorf("plan %d, %s: %s\n%s", n, row.ID, fmt.Sprintf(format, args...), text)
			}
			load := Number(0) // over every pattern that the ceilings allow
			if a := p.Any.Leads[i]; !math.IsNaN(float64(a.Amps)) {
				load = a.Amps
			}
			if math.IsNaN(float64(row.Fault)) {
				unknowns++
				if row.Guarded {
					complain("guarded against a fault that is not known")
				}
			} else if row.Guarded == over(row.Fault, row.Ampacity) {
				complain("%g A are driven, it may carry %g A, and guarded is %v", row.Fault, row.Ampacity, row.Guarded)
			}
			if over(row.Fault, row.Ampacity) {
				beyond++
				if len(of[row.ID]) == 0 {
					complain("%g A are driven, it may carry %g A, and nothing is found", row.Fault, row.Ampacity)
				}
			}
			if over(load, row.Ampacity) {
				loads++
				if len(of[row.ID]) == 0 {
					complain("%g A flow, it may carry %g A, and nothing is found", load, row.Ampacity)
				}
			}
			for _, c := range p.Cases {
				// With the ceilings ignored a fuse, or the supply, opens first.
				if over(Number(math.Abs(float64(c.Leads[i].Amps))), row.Ampacity) && len(of[row.ID]) == 0 && !row.Guarded && !math.IsNaN(float64(row.Fault)) {
					complain("%g A flow in case %s, it may carry %g A, and nothing is found", c.Leads[i].Amps, c.Name, row.Ampacity)
				}
			}
			for _, f := range of[row.ID] {
				switch {
				case f.Value == nil || f.Rule == "fuse-too-large" || f.Rule == "wire-overheated":
					continue
				case strings.Contains(f.Message, "one of its"):
					continue // a fault in one of several conductors
				case f.Rule == "wire-unprotected" && !alike(f.Value.Got, float64(row.Fault)),
					f.Rule == "lead-overcurrent" && !alike(f.Value.Got, float64(load)) && !alike(f.Value.Got, mostOf(fig, i)),
					!alike(f.Value.Limit, float64(row.Ampacity)):
					complain("%q of %g against %g A; the row has %g A driven, %g A of load and %g A", f.Message, f.Value.Got, f.Value.Limit, row.Fault, load, row.Ampacity)
				}
				found++
			}
		}
	}
	t.Logf("%d plans: %d rows of leads, %d with more driven and %d with more load than allowed, %d not known; %d findings with the figures of their row", plans, rows, beyond, loads, unknowns, found)
	if beyond < plans/2 || loads < plans/4 || unknowns == 0 || found < plans/2 {
		t.Error("too few to tell")
	}
}

// mostOf is the greater current of a lead's two sides in case full: the row has
// that of plus.
func mostOf(fig *figures.Figures, i int) float64 {
	l := fig.Cases[0].Leads[i]
	return math.Max(math.Abs(l.Amps), math.Abs(l.Back))
}

func TestShowAndCheckAgree(t *testing.T) { agree(t, thorough.Or(1000, 50)) }
