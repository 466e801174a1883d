package ide

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Lengths written in another unit, as the action does it, are rounded; what they are off then
// breaks no shape: nothing is found that was not found before.
func TestUnitsBreakNothing(t *testing.T) {
	names, _ := filepath.Glob("../../testdata/plans/*/*.ohm.hcl")
	names = append(names, "../../testdata/rules/base/shelf.ohm.hcl")
	judge := func(texts map[string]string) map[[2]string]bool {
		byDir := map[string][]*source.File{}
		for name, text := range texts {
			byDir["p"] = append(byDir["p"], source.Parse(source.NewText("p/"+filepath.Base(name), []byte(text))))
		}
		plan := schema.Decode("p", byDir["p"], nil)
		v, err := lint.Run(context.Background(), plan, worked(plan), rules.All)
		if err != nil {
			t.Fatal(err)
		}
		found := map[[2]string]bool{}
		for _, f := range v.Findings {
			found[[2]string{f.Rule, f.Subject}] = true
		}
		return found
	}
	half := "plan \"p\" {}\nsurface \"s\" {\n  width  = \"1.8 m\"\n  height = \"1.8 m\"\n}\nstrip \"s\" { like = catalog.ws2815_12v_60 }\nrun \"a\" {\n  strip = strip.s\n  on    = surface.s\n  path {\n    start   = [\"0 cm\", \"0 cm\"]\n    heading = \"90 deg\"\n    arc {\n      to     = [\"90 cm\", \"0 cm\"]\n      radius = \"45 cm\"\n      turn   = \"right\"\n    }\n  }\n}\n"
	texts := map[string]string{"half": half}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(data)
	}
	quoted := regexp.MustCompile(`"[0-9][^"\n]*"`)
	changed := 0
	for name, text := range texts {
		before := judge(map[string]string{name: text})
		for _, unit := range []string{"in", "ft", "yd", "cm", "mm", "m"} {
			written := quoted.ReplaceAllStringFunc(text, func(said string) string {
				q, err := quantity.ParseFor(quantity.Length, said[1:len(said)-1])
				u := quantity.UnitNamed(quantity.Length, unit)
				if err != nil {
					return said
				}
				out := inUnit(q, u)
				again, err := quantity.ParseFor(quantity.Length, out)
				if err != nil || math.Abs(again.SI-q.SI) > 1e-4 {
					return said
				}
				changed++
				return strconv.Quote(out)
			})
			for f := range judge(map[string]string{name: written}) {
				if !before[f] {
					t.Errorf("%s in %s: %s %s is new", name, unit, f[0], f[1])
				}
			}
		}
	}
	t.Logf("%d lengths written in other units", changed)
}
