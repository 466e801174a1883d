package limits_test

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclwrite"

	"ohmstead/calc/thorough"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/limits"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

func decode(name, text string) *schema.Plan {
	files := []*source.File{source.Parse(source.NewText(name+"/plan.ohm.hcl", []byte(text)))}
	return schema.Decode(name, files, func(string) ([]*source.File, error) { return nil, nil })
}

func worked(t *testing.T, p *schema.Plan) *figures.Figures {
	t.Helper()
	fig, err := figures.Work(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return fig
}

// fresh is what is found in a text by the rules as check runs them on it, with nothing kept
// from another: by rule and block how often, and how far beyond its limit the worst is.
func fresh(t *testing.T, text string) map[string][2]float64 {
	t.Helper()
	p := decode("plan", text)
	fig := worked(t, p)
	list, err := lint.Judge(context.Background(), p, fig, rules.All)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][2]float64{}
	for _, f := range list {
		if f.Level >= lint.Warning {
			x := out[f.Rule+" "+f.Subject]
			x[0]++
			if f.Value != nil {
				x[1] = max(x[1], f.Value.Got-f.Value.Limit, f.Value.Limit-f.Value.Got)
			}
			out[f.Rule+" "+f.Subject] = x
		}
	}
	for g, m := range fig.Margins() {
		out[fmt.Sprint("margin ", g.ID, " ", g.Hazard)] = [2]float64{1, max(0, m-1)}
	}
	return out
}

// comes reports whether the second text has what the first has not, or has it worse.
func comes(before, after map[string][2]float64) string {
	for k, is := range after {
		if was := before[k]; is[0] > was[0] || is[1] > was[1]*(1+1e-5)+1e-9 {
			return fmt.Sprintf("%s: %v after %v", k, is, was)
		}
	}
	return ""
}

// set writes a value of a block into a text, by a writer of HCL that knows nothing of plans.
func set(t *testing.T, text, id, attr, value string) (string, bool) {
	t.Helper()
	f, diags := hclwrite.ParseConfig([]byte(text), "plan.ohm.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	kind, name, _ := strings.Cut(id, ".")
	var at []*hclwrite.Block
	for _, b := range f.Body().Blocks() {
		if b.Type() == kind && (kind == "plan" || len(b.Labels()) == 1 && b.Labels()[0] == name) {
			at = append(at, b)
		}
	}
	if len(at) != 1 { // a member of an assembly, or made by a short form
		return "", false
	}
	quoted := `"` + value + `"`
	switch attr {
	case "pixels", "times":
		quoted = value
	case "wire":
		p := decode("plan", text)
		old := find(p, id).(*schema.Lead).Wire.V
		quoted = "wire.of-another-size"
		for _, w := range p.Wires {
			if w.Home != schema.InCatalogue && w.Cores.V == old.Cores.V && w.Gauge.V.String() == value {
				quoted = w.ID()
			}
		}
		if quoted == "wire.of-another-size" {
			w := f.Body().AppendNewBlock("wire", []string{"of-another-size"}).Body()
			if !old.Ampacity.Set {
				w.SetAttributeRaw("like", raw(old.ID()))
			} else if !old.Stranded.V {
				w.SetAttributeRaw("stranded", raw("false"))
			}
			w.SetAttributeRaw("gauge", raw(`"`+value+`"`))
		}
	}
	at[0].Body().SetAttributeRaw(attr, raw(quoted))
	return string(f.Bytes()), true
}

// find is a block, or the first of its copies.
func find(p *schema.Plan, id string) schema.Block {
	if b, ok := p.Find(id); ok {
		return b
	}
	b, _ := p.Find(id + "-1")
	return b
}

func raw(text string) hclwrite.Tokens {
	return hclwrite.Tokens{{Type: 'x', Bytes: []byte(" " + text)}}
}

// with is the text with a value of a knob.
func with(t *testing.T, text string, k *limits.Knob, v limits.Value) (string, bool) {
	t.Helper()
	if k.Attr == "times" && k.Means(v) != "" { // of what belongs together, all
		ok := true
		for _, each := range strings.Split(k.Means(v), ", ") {
			var n int
			var id string
			if _, err := fmt.Sscanf(each, "times %d of %s", &n, &id); err != nil {
				t.Fatal(err)
			}
			if ok {
				text, ok = set(t, text, id, "times", fmt.Sprint(n))
			}
		}
		return text, ok
	}
	if k.Attr != "brightness" {
		out, ok := set(t, text, k.ID, k.Attr, v.Text)
		if ok && k.Attr == "length" && strings.HasPrefix(k.ID, "run.") {
			p := decode("plan", out)
			if find(p, k.ID).(*schema.Run).Pixels.Set { // counted on the strip: what is cut has another number
				fig := worked(t, decode("plan", strings.Replace(out, "pixels", "# pixels", 1)))
				for _, x := range fig.Runs {
					if k.Says(x.ID()) {
						return set(t, out, k.ID, "pixels", fmt.Sprint(x.Pixels))
					}
				}
				return "", false
			}
		}
		return out, ok
	}
	ok := true
	for _, c := range worked(t, decode("plan", text)).Controllers {
		if c.Full > c.Idle && ok {
			text, ok = set(t, text, c.ID(), "ceiling", limits.CeilingFor(c, v.SI))
		}
	}
	return text, ok
}

func texts(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	names, err := filepath.Glob("../../testdata/plans/*/plan.ohm.hcl")
	if err != nil || len(names) == 0 {
		t.Fatal("no demo plans", err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(filepath.Dir(name))] = string(data)
	}
	for seed := range uint64(20) {
		out[fmt.Sprintf("random-%02d", seed)] = strings.Replace(bigplan.Random(rand.New(rand.NewPCG(seed, 12))), `{ mains = "230 V" }`, "{\n  mains = \"230 V\"\n}", 1) // the writer wants a line
	}
	return out
}

// TestBothSides draws limits of demo and random plans and judges the two plans beside each
// anew: the one at the limit has nothing that today's has not, the one a step beyond has.
func TestBothSides(t *testing.T) {
	all := texts(t)
	names := slices.Sorted(maps.Keys(all))
	r := rand.New(rand.NewPCG(12, 4))
	want, tried := thorough.Or(50, 12), map[string]int{}
	for n := 0; n < want; {
		name := pick(r, names)
		text := all[name]
		p := decode("plan", text)
		l := limits.New(p, worked(t, p), rules.All)
		k := pick(r, l.Knobs(""))
		if _, ok := with(t, text, k, k.Today); !ok {
			continue
		}
		is, err := l.Find(context.Background(), k)
		if err != nil {
			t.Fatal(err)
		}
		b := []limits.Bound{is.Least, is.Most}[r.IntN(2)]
		if b.Open {
			continue
		}
		n++
		tried[k.Attr]++
		before := fresh(t, text)
		for _, side := range []struct {
			v      limits.Value
			passes bool
		}{{b.Last, true}, {b.Next, false}} {
			if side.v == k.Today {
				continue
			}
			now, ok := with(t, text, k, side.v)
			if !ok {
				t.Fatalf("%s: %s %s cannot be written", name, k.ID, k.Attr)
			}
			if came := comes(before, fresh(t, now)); (came == "") != side.passes {
				t.Errorf("%s: %s %s = %s, today %s, is said to pass: %v; %s %v", name, k.ID, k.Attr, side.v.Text, k.Today.Text, side.passes, came, b.Why)
			}
		}
	}
	t.Logf("%d limits checked from both sides, by attribute: %v", want, tried)
}

func pick[T any](r *rand.Rand, of []T) T { return of[r.IntN(len(of))] }

// Nothing bounds the length of a run that no supply feeds, nor of a lead that leads from none:
// "any length will do" would be read as advice.
func TestNothingOfWhatIsNotFed(t *testing.T) {
	const text = `strip "led" { like = catalog.ws2812b_5v_60 }

joint "hub" { positions = 3 }

run "low" {
  strip  = strip.led
  length = "1 m"
}

lead "low" {
  from   = joint.hub
  to     = run.low.start
  wire   = wire.feed
  length = "1 m"
}

wire "feed" { gauge = "18 AWG" }
`
	for _, k := range knobs(t, text) {
		if strings.HasPrefix(k, "run.") || strings.HasPrefix(k, "lead.") {
			t.Errorf("a limit of %s, which nothing feeds", k)
		}
	}
	fed := text + `
supply "brick" {
  output = "5 V"
  rating = "10 A"
}

lead "hub" {
  from   = supply.brick.out
  to     = joint.hub
  wire   = wire.feed
  length = "1 m"
}
`
	for _, want := range []string{"run.low.length", "lead.low.length", "lead.hub.length"} {
		if got := knobs(t, fed); !slices.Contains(got, want) {
			t.Errorf("no limit of %s among %v", want, got)
		}
	}
}

// knobs are the names of what may be asked for of a plan.
func knobs(t *testing.T, text string) (out []string) {
	p := decode("plan", text)
	for _, k := range limits.New(p, worked(t, p), rules.All).Knobs("") {
		out = append(out, k.ID+"."+k.Attr)
	}
	return out
}
