package server

import (
	"fmt"
	"testing"
	"time"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// BenchmarkKinds is what each kind of edit of a wall costs from its text to its
// findings, without any protocol: in all, and in ms of each stage.
func BenchmarkKinds(b *testing.B) {
	for walls, name := range map[int]string{1: "2000 lines", 10: "20000 lines"} {
		text := bigplan.Wall(walls)
		for _, kind := range append([]string{"ringed lead"}, kinds...) {
			b.Run(fmt.Sprintf("%s/%s", name, kind), func(b *testing.B) {
				t := newTypist(text)
				file := source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))
				texts, memo := new(schema.Memo), figures.NewMemo()
				var spent [5]time.Duration
				var last time.Time
				lap := func(stage int) {
					now := time.Now()
					spent[stage] += now.Sub(last)
					last = now
				}
				next := func() {
					last = time.Now()
					file = file.Update(source.NewText("p/plan.ohm.hcl", []byte(t.text())))
					lap(0)
					p := texts.Decode("p", []*source.File{file}, nil)
					lap(1)
					fig := figures.Prepare(p, memo)
					lap(2)
					if err := fig.Solve(b.Context()); err != nil {
						b.Fatal(err)
					}
					lap(3)
					must(lint.Run(b.Context(), p, fig, allRules()))
					lap(4)
				}
				edit := func() {
					t.do(b, kind)
				}
				for range 2 {
					next()
					edit()
				}
				clear(spent[:])
				b.ReportAllocs()
				for b.Loop() {
					b.StopTimer()
					edit()
					b.StartTimer()
					next()
				}
				for i, stage := range []string{"text", "decode", "prepare", "solve", "rules"} {
					b.ReportMetric(float64(spent[i].Microseconds())/1000/float64(b.N), stage+"-ms")
				}
			})
		}
	}
}
