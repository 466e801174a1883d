package server

import (
	"bytes"
	"context"
	"fmt"
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
	for _, lines := range []int{2000, 20000} {
		text := []byte(bigplan.Islands(lines))
		at := bytes.LastIndex(text, []byte(`length = "1.2 m"`)) + len(`length = "1.`)
		versions := []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", text))}
		for _, digit := range "3456789" {
			next := bytes.Clone(text)
			next[at] = byte(digit)
			versions = append(versions, versions[0].Update(source.NewText("p/plan.ohm.hcl", next)))
		}
		decode := func(i int) *schema.Plan {
			return schema.Decode("p", []*source.File{versions[i%len(versions)]}, nil)
		}
		memo := figures.NewMemo()
		b.Run(fmt.Sprintf("%d lines/decode", lines), func(b *testing.B) {
			var kept schema.Memo
			for i := 0; b.Loop(); i++ {
				kept.Decode("p", []*source.File{versions[i%len(versions)]}, nil)
			}
		})
		b.Run(fmt.Sprintf("%d lines/figures", lines), func(b *testing.B) {
			plans := make([]*schema.Plan, len(versions))
			for i := range plans {
				plans[i] = decode(i)
			}
			for i := 0; b.Loop(); i++ {
				if _, err := figures.Work(b.Context(), plans[i%len(plans)], memo); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("%d lines/rules", lines), func(b *testing.B) {
			p := decode(0)
			f, err := figures.Work(b.Context(), p, memo)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				_, _ = lint.Run(context.Background(), p, f, allRules())
			}
		})
	}
}
