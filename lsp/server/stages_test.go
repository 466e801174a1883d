package server

import (
	"slices"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// BenchmarkStages is what one keystroke in the length of a lead costs, stage
// by stage, without any protocol.
func BenchmarkStages(b *testing.B) {
	for _, c := range []struct{ name, text, lead string }{
		{"islands/2000 lines", bigplan.Islands(2_000), `length = "1.|2 m"`},
		{"islands/20000 lines", bigplan.Islands(20_000), `length = "1.|2 m"`},
		{"wall/2000 lines", bigplan.Wall(1), `length = "9|6 cm"`},
		{"wall/20000 lines", bigplan.Wall(10), `length = "9|6 cm"`},
	} {
		text := []byte(c.text)
		before, after, _ := strings.Cut(c.lead, "|")
		digit := strings.LastIndex(c.text, before+after) + len(before)
		files := [][]*source.File{{source.Parse(source.NewText("p/plan.ohm.hcl", text))}}
		for _, d := range []byte("345789") {
			next := slices.Clone(text)
			next[digit] = d
			files = append(files, []*source.File{files[0][0].Update(source.NewText("p/plan.ohm.hcl", next))})
		}
		var kept schema.Memo
		var plans []*schema.Plan
		for _, f := range files {
			plans = append(plans, kept.Decode("p", f, nil))
		}
		memo := figures.NewMemo()
		b.Run(c.name+"/decode", func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				kept.Decode("p", files[i%len(files)], nil)
			}
		})
		b.Run(c.name+"/figures", func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				must(figures.Work(b.Context(), plans[i%len(plans)], memo))
			}
		})
		b.Run(c.name+"/rules", func(b *testing.B) {
			fig := must(figures.Work(b.Context(), plans[0], memo))
			for b.Loop() {
				must(lint.Run(b.Context(), plans[0], fig, allRules()))
			}
		})
	}
}
