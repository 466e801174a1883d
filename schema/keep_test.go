package schema

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/schema/source"
)

// dump writes a plan out: every block with every value and its place, every
// problem, every use.
func dump(p *Plan) string {
	var b strings.Builder
	at := func(s source.Span) string {
		f, start, end, ok := p.Locate(s)
		if !ok {
			return "-"
		}
		return fmt.Sprintf("%s:%d-%d", f.Text.Path(), start, end)
	}
	var show func(v reflect.Value, depth int)
	show = func(v reflect.Value, depth int) {
		if v.Kind() == reflect.Pointer && v.IsNil() {
			b.WriteString("nil ")
			return
		}
		if v.CanInterface() {
			switch x := v.Interface().(type) {
			case source.Span:
				b.WriteString(at(x) + " ")
				return
			case *Point:
				b.WriteString(x.String() + stray(p, x.Block()) + " ")
				if x.Port != nil {
					b.WriteString(stray(p, x.Port.Controller))
				}
				return
			case Block:
				h := x.header()
				fmt.Fprintf(&b, "%s(%v)%s ", h.ID(), h.Broken, stray(p, x))
				if depth > 1 || h.Home == InCatalogue {
					return
				}
			case *Node, *BlockType:
				return
			}
		}
		switch v.Kind() {
		case reflect.Pointer, reflect.Interface:
			if depth < 3 {
				show(v.Elem(), depth+1)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					show(v.Field(i), depth+1)
				}
			}
		case reflect.Slice:
			for i := range v.Len() {
				show(v.Index(i), depth+1)
			}
		default:
			fmt.Fprintf(&b, "%v ", v)
		}
	}
	for _, bs := range [][]Block{p.Blocks, p.Stock} {
		for _, x := range bs {
			show(reflect.ValueOf(x), 0)
			if m := x.header().Placed(); !m.None() {
				fmt.Fprintf(&b, "placed %v ", m)
			}
			if l := x.header().Like; l != nil {
				b.WriteString("like " + l.header().ID() + stray(p, l))
			}
			b.WriteString("\n")
		}
	}
	for _, pr := range p.Problems {
		fmt.Fprintf(&b, "%s %s %s\n", at(pr.At), pr.Rule, pr.Message)
	}
	uses := map[string]int{}
	for u := range p.Uses {
		to := ""
		if u.Target != nil {
			to = u.Target.header().ID()
		} else {
			to = "let." + u.Let.Name
		}
		uses[at(u.At)+" "+to]++
	}
	fmt.Fprintln(&b, uses) // maps print in the order of their keys
	return b.String()
}

// stray marks a block that another refers to and that is not the plan's.
func stray(p *Plan, b Block) string {
	h := b.header()
	if _, top := TypeNamed(h.Type.Name); !top || h.Type.Label == "" || h.Type == planType || h.Home == InCatalogue {
		return ""
	}
	for _, bs := range [][]Block{p.Blocks, p.Stock} {
		for _, x := range bs {
			if x == b {
				return ""
			}
		}
	}
	return " STRAY"
}

// However a plan is edited, decoding it with what was kept says the same as
// decoding it afresh.
func TestMemoSaysTheSame(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	// The names that this uses stand below it, so that nothing is decided by
	// the order of the text.
	texts := append(corpus(t), `
order "o" { runs = [run.r-all, from_end(run.y)] }
run "y" { like = run.x }
run "r" {
  times   = let.n
  strip   = strip.s
  through = [["0 cm", "0 cm"], ["1 m", "0 cm"]]
  shift   = ["0 cm", let.b]
}
run "x" {
  like   = run.r-1
  length = let.b
}
lead "l" {
  times  = let.n
  from   = supply.p.out
  to     = run.r-each.start
  wire   = wire.w
  length = let.a
}
chain "c" {
  from   = run.y.end
  runs   = [from_end(run.x), run.r-all]
  length = let.b
}
usual "signal" { wire = wire.w }
usual "run" { strip = strip.s }
let {
  a = "10 cm"
  b = sum(let.a, "5 cm")
  n = 3
}
`+parts, `
run "outer" {
  strip = strip.s
  on    = surface.a
  circle {
    centre = ["1 m", "1 m"]
    radius = let.b
  }
}
run "inner" {
  strip    = strip.s
  on       = surface.b
  beside   = run.outer
  distance = let.a
}
run "x" { like = run.inner }
surface "a" {
  width  = let.b
  height = "2 m"
  edge {
    side = "right"
    to   = surface.b
  }
}
surface "b" {
  like = surface.a
  edge {
    side = "top"
    to   = surface.a
  }
}
joint "j" { on = surface.a }
let {
  a = "10 cm"
  b = sum(let.a, "5 cm")
}
`+parts, `
order "o" { runs = [assembly.bay, run.bay-ring-hoop-2-odd, assembly.other] }
run "y" { like = run.bay-ring-hoop-1-last }
assembly "bay" {
  times = 2
  shift = ["2 m", let.a]
  assembly "ring" {
    times = let.n
    shift = [let.a, "0 cm"]
    turn  = "90 deg"
    run "hoop" {
      strip   = strip.s
      through = [["0 cm", "0 cm"], [let.b, "0 cm"]]
    }
    joint "tee" { at = [let.a, "0 cm"] }
    lead "tap" {
      from   = joint.tee
      to     = run.hoop.start
      wire   = wire.w
      length = let.b
    }
    signal "hop" {
      from = run.hoop.end
      to   = run.hoop-next.start
    }
    copy "2" {
      run "hoop" { pixels = 3 }
    }
  }
  lead "feed" {
    from   = supply.p.out
    to     = joint.ring-tee-1
    wire   = wire.w
    length = "1 m"
  }
  runs {
    bar  = let.b
    post = [["0 cm", "0 cm"], ["0 cm", let.a]]
  }
  feed "bars" {
    from    = supply.p.out
    through = [run.bar.start, run.post.end]
    wire    = wire.w
  }
}
usual "joint" "run" {
  on    = surface.s
  strip = strip.s
}
chain "back" { runs = [from_end(assembly.other), from_end(run.tread-all)] }
assembly "other" {
  like = assembly.bay
  at   = [let.b, "1 m"]
  joint "more" { ways = 3 }
}
run "tread" {
  times  = let.n
  strip  = strip.s
  length = let.b
  copy "last" { length = let.a }
}
let {
  a = "10 cm"
  b = sum(let.a, "5 cm")
  n = 3
}
`+parts)
	words := []string{"let.a", "let.b", "2", "run.r-1", "run.x", "strip.s", `"1 m"`, `"2 A"`, "like = run.y", "times = 2", "{", "}", "\"", "", "run.nowhere.start", "catalog.awg_16", "usual \"run\" {", "assembly.bay", "run.bay-ring-hoop-all", "run.hoop-previous.end", "like = assembly.bay", "copy \"odd\" {", "run.all", "from_end(assembly.bay-1)", "usual \"run\" \"lead\" {", "runs {"}
	for _, text := range texts {
		lines := strings.Split(text, "\n")
		var memo Memo
		file := source.Parse(source.NewText("d/plan.ohm.hcl", []byte(text)))
		kept := 0
		for range thorough.Or(150, 30) {
			i := rnd.IntN(len(lines))
			switch rnd.IntN(8) {
			case 0:
				lines = append(lines[:i:i], lines[i+1:]...)
			case 1:
				lines = append(lines[:i:i], append([]string{lines[i]}, lines[i:]...)...)
			case 2:
				if k := strings.Index(lines[i], "= "); k >= 0 {
					lines[i] = lines[i][:k+2] + words[rnd.IntN(len(words))]
				}
			case 3:
				j := rnd.IntN(len(lines))
				lines[i], lines[j] = lines[j], lines[i]
			case 4:
				if len(lines[i]) > 0 {
					j := rnd.IntN(len(lines[i]))
					lines[i] = lines[i][:j] + lines[i][j+1:]
				}
			case 5:
				lines[i] = strings.ReplaceAll(lines[i], "1", "2")
			case 6: // more or fewer copies
				for k, l := range lines {
					lines[k] = strings.Replace(l, "n = 3", "n = 2", 1)
				}
			default: // back to what was sound
				lines = strings.Split(text, "\n")
			}
			if len(lines) < 2 {
				lines = strings.Split(text, "\n")
			}
			file = file.Update(source.NewText("d/plan.ohm.hcl", []byte(strings.Join(lines, "\n"))))
			files := []*source.File{file}
			got := memo.Decode("d", files, nil)
			want := Decode("d", files, nil)
			if g, w := dump(got), dump(want); g != w {
				t.Fatalf("kept:\n%s\nafresh:\n%s\nof:\n%s", g, w, strings.Join(lines, "\n"))
			}
			for _, b := range memo.Decode("d", files, nil).Blocks {
				if slices.Contains(got.Blocks, b) {
					kept++
				}
			}
		}
		if kept == 0 {
			t.Error("nothing was ever kept")
		}
	}
}

// A block that names one that has changed is copied, not read again; but what is like it, or lists all of its
// copies, is.
func TestMemoRenewsReferences(t *testing.T) {
	const plan = `plan "x" {}
strip "s" {
  like            = catalog.ws2815_12v_60
  channel_current = "15 mA"
}
run "a" {
  strip  = strip.s
  length = "1 m"
}
run "b" { like = run.a }
run "c" {
  times  = 2
  strip  = strip.s
  length = "1 m"
}
lead "l" {
  from = supply.p.out
  to   = run.b.start
  wire = catalog.awg_16
}
supply "p" {
  output = "12 V"
  rating = "5 A"
}
order "o" { runs = [run.c-all, run.b] }
run "d" { like = run.dup }
run "dup" {
  strip  = strip.s
  length = "5 m"
}
run "dup" {
  strip  = strip.s
  length = "6 m"
}
`
	var memo Memo
	file := source.Parse(source.NewText("d/plan.ohm.hcl", []byte(plan)))
	text := plan
	edit := func(old, now string) (before, after *Plan) {
		t.Helper()
		if !strings.Contains(text, old) {
			t.Fatalf("no %q in the text", old)
		}
		before = memo.Decode("d", []*source.File{file}, nil)
		text = strings.Replace(text, old, now, 1)
		file = file.Update(source.NewText("d/plan.ohm.hcl", []byte(text)))
		after = memo.Decode("d", []*source.File{file}, nil)
		if g, w := dump(after), dump(Decode("d", []*source.File{file}, nil)); g != w {
			t.Fatalf("kept:\n%s\nafresh:\n%s", g, w)
		}
		return before, after
	}
	find := func(p *Plan, id string) Block {
		b, ok := p.Find(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		return b
	}
	said := func(p *Plan, id string) *effective { return find(p, id).header().rec.says }

	before, after := edit(`"15 mA"`, `"16 mA"`)
	for _, id := range []string{"run.a", "run.b", "run.c-1", "lead.l", "order.o"} {
		if find(before, id) == find(after, id) {
			t.Errorf("%s still has blocks of another version", id)
		}
		if said(before, id) != said(after, id) {
			t.Errorf("%s was read again, though it only names what has changed", id)
		}
	}
	if got := after.Runs[1].Strip.V.ChannelCurrent.V.All.SI; got != 0.016 {
		t.Errorf("run.b has a strip of %v A a channel", got)
	}
	if find(before, "supply.p") != find(after, "supply.p") {
		t.Error("a supply is not the same that has nothing to do with the strip")
	}
	before, after = edit(`length = "1 m"`, `length = "2 m"`)
	if said(before, "run.b") == said(after, "run.b") || said(before, "order.o") != said(after, "order.o") {
		t.Error("what is like a run has to be read again, and what names it need not be")
	}
	edit("times  = 2", "times  = 3")
	edit("run \"dup\" {\n  strip  = strip.s\n  length = \"5 m\"\n}\n", "")
}

// What a stock directory says is followed like the plan's own text.
func TestMemoFollowsStock(t *testing.T) {
	plan := source.Parse(source.NewText("job/plan.ohm.hcl", []byte(`plan "x" { stock = ["../shop"] }
order "o" { runs = [run.r] }
run "r" {
  strip  = strip.mine
  length = let.long
}
`)))
	shop := source.Parse(source.NewText("shop/parts.ohm.hcl", nil))
	var memo Memo
	var before *Plan
	for _, text := range []string{
		"let { long = \"1 m\" }\nstrip \"mine\" { like = catalog.ws2812b_5v_60 }\nwire \"w\" { gauge = \"18 AWG\" }\n",
		"let { long = \"2 m\" }\nstrip \"mine\" { like = catalog.ws2812b_5v_60 }\nwire \"w\" { gauge = \"18 AWG\" }\n",
		"let { long = \"2 m\" }\nstrip \"mine\" { like = catalog.ws2812b_5v_30 }\nwire \"w\" { gauge = \"18 AWG\" }\n",
		"let { long = \"2 m\" }\nstrip \"mine\" { like = catalog.ws2812b_5v_30 }\nwire \"w\" { gauge = \"16 AWG\" }\n",
		"let { long = \"2 m\" }\nwire \"w\" { gauge = \"16 AWG\" }\n",
	} {
		shop = shop.Update(source.NewText("shop/parts.ohm.hcl", []byte(text)))
		fetch := func(string) ([]*source.File, error) { return []*source.File{shop}, nil }
		got := memo.Decode("job", []*source.File{plan}, fetch)
		if g, w := dump(got), dump(Decode("job", []*source.File{plan}, fetch)); g != w {
			t.Fatalf("kept:\n%s\nafresh:\n%s\nof:\n%s", g, w, text)
		}
		if wire := strings.Contains(text, "16 AWG") && strings.Contains(text, "5v_30"); wire && before.Runs[0] != got.Runs[0] {
			t.Error("another wire in stock makes the run anew, which does not use it")
		}
		before = got
	}
}

// Plan and stock are edited in turn: parts come, go, change and lead to
// further stock, and the plan likens itself to them and copies what it has.
func TestMemoFollowsRandomStock(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	pick := func(from ...string) string { return from[rnd.IntN(len(from))] }
	var shop, yard, plan *source.File
	update := func(f *source.File, path, text string) *source.File {
		if f == nil {
			return source.Parse(source.NewText(path, []byte(text)))
		}
		return f.Update(source.NewText(path, []byte(text)))
	}
	fetch := func(dir string) ([]*source.File, error) {
		return map[string][]*source.File{"shop": {shop}, "yard": {yard}}[dir], nil
	}
	var memo Memo
	kept := 0
	for range 300 {
		yard = update(yard, "yard/parts.ohm.hcl", pick("", `wire "w" { gauge = "16 AWG" }`, `wire "w" { gauge = let.g }`)+"\n"+
			pick("", `let { g = "18 AWG" }`, `let { g = "20 AWG" }`)+"\n")
		shop = update(shop, "shop/parts.ohm.hcl", "plan \"shop\" { stock = [\"../yard\"] }\n"+
			pick("", `wire "w" { gauge = "14 AWG" }`, `wire "v" { like = wire.w }`)+"\n"+
			pick(`let { long = "1 m" }`, `let { long = "2 m" }`, `let { long = let.short }`)+"\n"+
			"strip \"mine\" {\n  like = "+pick("catalog.ws2812b_5v_60", "catalog.ws2812b_5v_30", "strip.other")+"\n}\n")
		plan = update(plan, "job/plan.ohm.hcl", "plan \"x\" { stock = ["+pick(`"../shop"`, `"../shop"`, `"../yard"`, "")+"] }\n"+
			"order \"o\" { runs = ["+pick("run.r", "run.r-all", "run.r-2, run.s")+"] }\n"+
			"run \"r\" {\n  strip  = strip.mine\n  length = "+pick("let.long", `"1 m"`)+"\n  "+pick("", "times = 2", "times = 3")+"\n}\n"+
			"run \"s\" { like = "+pick("run.r", "run.r-1")+" }\n"+pick("", "let { short = \"3 cm\" }\n", "wire \"w\" { gauge = \"12 AWG\" }\n"))
		files := []*source.File{plan}
		before := memo.last.Load()
		got := memo.Decode("job", files, fetch)
		if g, w := dump(got), dump(Decode("job", files, fetch)); g != w {
			t.Fatalf("kept:\n%s\nafresh:\n%s\nof:\n%s\n%s\n%s", g, w, plan.Text, shop.Text, yard.Text)
		}
		for _, b := range append(got.Blocks, got.Stock...) {
			if rec := b.header().rec; before != nil && rec != nil && slices.Contains(*before, rec) {
				kept++
			}
		}
	}
	if kept == 0 {
		t.Error("nothing was ever kept")
	}
}
