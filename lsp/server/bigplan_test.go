package server

import (
	"fmt"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// TestWall pins what makes the plan of walls a hard one to keep up with.
func TestWall(t *testing.T) {
	for _, c := range []struct{ walls, lines int }{{1, 2200}, {10, 21_500}} {
		text := bigplan.Wall(c.walls)
		if n := strings.Count(text, "\n"); n < c.lines || n > c.lines*11/10 {
			t.Errorf("%d walls are %d lines, want about %d", c.walls, n, c.lines)
		}
		plan := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))}, nil)
		for _, pr := range plan.Problems {
			t.Error(pr.Message)
		}
		fig := must(figures.Work(t.Context(), plan, nil))
		pixels := 0
		driven := map[*schema.Controller]int{}
		hub := map[*schema.Joint]int{}
		fed := map[*schema.Run]int{}
		for _, l := range plan.Leads {
			from, to := l.From.V, l.To.V
			if to.Run != nil && from.Run == nil {
				fed[to.Run]++
				if r, _ := fig.Run(to.Run); from.Joint != nil && to.Where == schema.AtStart {
					hub[from.Joint] += r.Pixels
				}
			}
		}
		copied, like := 0, 0
		for _, r := range fig.Runs {
			if r.Port == nil {
				t.Errorf("nothing drives %s", r.ID())
				continue
			}
			pixels += r.Pixels
			driven[r.Port.Controller]++
			if fed[r.Run] != 2 {
				t.Errorf("%s is fed in %d places, want both ends", r.ID(), fed[r.Run])
			}
			if r.Copy > 0 {
				copied++
			}
		}
		for _, b := range plan.Blocks {
			if schema.HeaderOf(b).Like != nil {
				like++
			}
		}
		if len(fig.Runs) != c.walls*bigplan.WallRuns || len(plan.Supplies) != 6*c.walls || copied == 0 || like == 0 {
			t.Errorf("%d walls have %d runs, %d of them copies, on %d supplies, and %d blocks are like others", c.walls, len(fig.Runs), copied, len(plan.Supplies), like)
		}
		if pixels != c.walls*bigplan.WallPixels {
			t.Errorf("%d pixels, want %d", pixels, c.walls*bigplan.WallPixels)
		}
		for c, n := range driven {
			if n != bigplan.WallRuns || !c.Ceiling.Set {
				t.Errorf("%s drives %d runs, want those of a whole wall under its ceiling", c.ID(), n)
			}
		}
		for _, n := range hub {
			if 6*n < bigplan.WallPixels {
				t.Errorf("%d pixels hang behind the busbar, want a sixth of the wall's at least", n)
			}
		}
		ties, ringed := countTies(plan)
		if ties != c.walls*bigplan.WallTies || 3*ringed != ties {
			t.Errorf("%d ties, %d of them in rings; want %d, a third in rings", ties, ringed, c.walls*bigplan.WallTies)
		}
		tied := joined(plan, plan.Supplies[0], nil)
		for _, s := range plan.Supplies {
			if !tied[s] {
				t.Errorf("the minus of %s is not tied to the others", s.ID())
			}
		}
		rules := map[string]int{}
		for _, f := range must(lint.Run(t.Context(), plan, fig, allRules())).Findings {
			rules[f.Rule]++
		}
		found, mendable := 0, 0
		for rule, n := range rules {
			found += n
			switch rule {
			case "data-lead-long", "fuse-nonstandard", "fuse-too-large", "fuse-too-small", "order-incomplete", "order-jump", "pixel-count", "voltage-low":
				mendable += n
			}
		}
		if found < 30 || mendable < 20 {
			t.Errorf("%d findings, %d of kinds that have remedies; want 30 and 20: %v", found, mendable, rules)
		}
	}
}

// countTies counts the leads that carry only minus, and those of them without
// which their ends are still joined.
func countTies(plan *schema.Plan) (ties, ringed int) {
	for _, l := range plan.Leads {
		if !l.Plus() {
			ties++
			if joined(plan, l.From.V.Block(), l)[l.To.V.Block()] {
				ringed++
			}
		}
	}
	return ties, ringed
}

// joined is what leads join to a block by their minus, without one of them.
func joined(plan *schema.Plan, from schema.Block, without *schema.Lead) map[schema.Block]bool {
	next := map[schema.Block][]schema.Block{}
	for _, l := range plan.Leads {
		if l != without {
			a, b := l.From.V.Block(), l.To.V.Block()
			next[a], next[b] = append(next[a], b), append(next[b], a)
		}
	}
	out := map[schema.Block]bool{}
	for todo := []schema.Block{from}; len(todo) > 0; todo = todo[1:] {
		if !out[todo[0]] {
			out[todo[0]] = true
			todo = append(todo, next[todo[0]]...)
		}
	}
	return out
}

// TestWallEdited checks that what is kept from one version of a plan to the
// next changes nothing of what is found.
func TestWallEdited(t *testing.T) {
	typist := newTypist(bigplan.Wall(1))
	file := source.Parse(source.NewText("p/plan.ohm.hcl", []byte(typist.text())))
	var texts schema.Memo
	memo := figures.NewMemo()
	for range 2 {
		for _, kind := range append([]string{"ringed lead"}, kinds...) {
			typist.do(t, kind)
			text := source.NewText("p/plan.ohm.hcl", []byte(typist.text()))
			file = file.Update(text)
			plan := texts.Decode("p", []*source.File{file}, nil)
			kept := must(lint.Run(t.Context(), plan, must(figures.Work(t.Context(), plan, memo)), allRules())).Findings
			plan = schema.Decode("p", []*source.File{source.Parse(text)}, nil)
			fresh := must(lint.Run(t.Context(), plan, must(figures.Work(t.Context(), plan, nil)), allRules())).Findings
			if k, f := spelled(kept), spelled(fresh); k != f {
				t.Errorf("after an edit of a %s:\n%s\nfresh:\n%s", kind, k, f)
			}
		}
	}
}

func spelled(fs []lint.Finding) string {
	var b strings.Builder
	for _, f := range fs {
		fmt.Fprintln(&b, f.Rule, f.Level, f.Subject, f.Message, f.At.Start, f.At.End)
	}
	return b.String()
}
