package drawing

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// demos are the demo plans, worked out.
func demos(t testing.TB) map[string]*figures.Figures {
	t.Helper()
	dirs, err := os.ReadDir("../../testdata/plans")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*figures.Figures{}
	for _, d := range dirs {
		text, err := os.ReadFile("../../testdata/plans/" + d.Name() + "/plan.ohm.hcl")
		if err != nil {
			t.Fatal(err)
		}
		out[d.Name()] = worked(t, string(text))
	}
	return out
}

// wild writes a plan with leads of one core, feeds anywhere, chains, loops and several supplies.
func wild(r *rand.Rand) string {
	var b strings.Builder
	b.WriteString("plan \"wild\" {}\nwire \"w\" { gauge = \"16 AWG\" }\n")
	var ends []string
	for i := range 1 + r.IntN(3) {
		outputs := 1 + r.IntN(3)
		fmt.Fprintf(&b, "supply \"s%d\" {\n  output = \"12 V\"\n  rating = \"20 A\"\n  outputs = %d\n}\n", i, outputs)
		for o := range outputs {
			ends = append(ends, fmt.Sprintf("supply.s%d.out[%d]", i, o+1))
		}
	}
	leads := 0
	lead := func(from, to string) {
		if from == to {
			return
		}
		carries := []string{"pair", "pair", "pair", "plus", "minus"}[r.IntN(5)]
		fuse := ""
		if carries != "minus" && r.IntN(2) == 0 {
			fuse = "  fuse = \"5 A\"\n"
		}
		fmt.Fprintf(&b, "lead \"l%d\" {\n  from = %s\n  to = %s\n  wire = wire.w\n  length = \"%d cm\"\n  carries = %q\n%s}\n", leads, from, to, 10+r.IntN(300), carries, fuse)
		leads++
	}
	for i := range r.IntN(6) {
		fmt.Fprintf(&b, "joint \"j%d\" {}\n", i)
		lead(ends[r.IntN(len(ends))], fmt.Sprintf("joint.j%d", i))
		ends = append(ends, fmt.Sprintf("joint.j%d", i))
	}
	runs := 1 + r.IntN(12)
	for i := range runs {
		fmt.Fprintf(&b, "run \"r%d\" {\n  strip  = catalog.ws2815_12v_60\n  length = \"1 m\"\n  data_enters = %q\n}\n", i, []string{"start", "end"}[r.IntN(2)])
		place := func() string {
			return fmt.Sprintf("run.r%d%s", i, []string{".start", ".end", "[20]", "[\"30 cm\"]"}[r.IntN(4)])
		}
		for range 1 + r.IntN(3) {
			lead(ends[r.IntN(len(ends))], place())
		}
		ends = append(ends, place())
	}
	controllers := 1 + r.IntN(2)
	for c := range controllers {
		fmt.Fprintf(&b, "controller \"c%d\" {\n  board = catalog.esp32_devkit\n  port \"a\" { pin = 4 }\n  port \"b\" { pin = 5 }\n}\n", c)
		if r.IntN(3) > 0 {
			lead(ends[r.IntN(len(ends))], fmt.Sprintf("controller.c%d.power", c))
		}
	}
	before := "controller.c0.port.a"
	for i := range runs {
		if r.IntN(4) == 0 {
			before = fmt.Sprintf("controller.c%d.port.%s", r.IntN(controllers), []string{"a", "b"}[r.IntN(2)])
		}
		fmt.Fprintf(&b, "signal \"d%d\" {\n  from = %s\n  to = run.r%d.%s\n}\n", i, before, i, []string{"start", "end"}[r.IntN(2)])
		before = fmt.Sprintf("run.r%d.%s", i, []string{"start", "end"}[r.IntN(2)])
	}
	return b.String()
}

// Every conductor of the demo plans and of random ones is drawn once, from one
// of its places to the other, through no symbol and along no other wire.
func TestWiringJoinsWhatThePlanJoins(t *testing.T) {
	plans := demos(t)
	for seed := range uint64(50) {
		plans[fmt.Sprint("random ", seed)] = figuresWith(t, wild(rand.New(rand.NewPCG(seed, 1))))
	}
	plain, drawn := 0, 0
	for name, f := range plans {
		scenes := Wiring(f, Sheet)
		checkWiring(t, name, f, scenes)
		for _, s := range scenes {
			checkTexts(t, name+" "+s.Name, s)
		}
		for _, d := range fit(f, units(f), Sheet) {
			drawn += d.route()
			plain += plainly(d)
		}
	}
	if drawn > plain/2 {
		t.Errorf("%d crossings are drawn, and %d in the order of the plan", drawn, plain)
	}
	t.Logf("%d plans: %d crossings drawn, %d in the order of the plan", len(plans), drawn, plain)
}

// plainly counts the crossings of a sheet with its blocks in the order of the plan.
func plainly(d *diagram) int {
	at := map[schema.Block]int{}
	for i, b := range blocks(d.f) {
		at[b] = i
	}
	for _, col := range d.columns {
		slices.SortStableFunc(col, func(a, b *element) int {
			if a.block == nil || b.block == nil {
				return 0
			}
			return at[a.block] - at[b.block]
		})
	}
	return d.count() % impossible
}

func checkWiring(t *testing.T, name string, f *figures.Figures, scenes []*Scene) {
	t.Helper()
	want := map[string][2]string{}
	for _, c := range cables(f) {
		for _, core := range c.cores {
			want[c.id+" "+core] = [2]string{c.ends[0].String(), c.ends[1].String()}
		}
	}
	for _, l := range f.Plan.Leads { // not by way of cables
		if l.From.Known() && l.To.Known() && l.Plus() && want[l.ID()+" plus"] != [2]string{l.From.V.String(), l.To.V.String()} {
			t.Errorf("%s: %s is not among the conductors", name, l.ID())
		}
	}
	for _, s := range scenes {
		terminals := map[Pt]string{}
		var symbols []Box
		var wires []*Path
		each(s, func(m Mark) {
			a := m.About()
			switch {
			case strings.HasPrefix(a.Part, "terminal "):
				at := m.(*Circle).At
				if was, ok := terminals[at]; ok {
					t.Errorf("%s: two terminals at %v: %s and %s", name, at, was, a.Of)
				}
				terminals[at] = a.Of + strings.TrimPrefix(a.Part, "terminal")
			case a.Part == "symbol":
				symbols = append(symbols, m.(*Group).Marks[0].Bounds())
			case slices.Contains([]string{"plus", "minus", "data", "clock", "backup"}, a.Part):
				wires = append(wires, m.(*Path))
			}
		})
		for i, a := range symbols {
			for _, b := range symbols[:i] {
				if a.Meets(b) {
					t.Errorf("%s: symbols at %v and %v", name, a, b)
				}
			}
		}
		for i, w := range wires {
			key := w.Of + " " + w.Part
			ends, ok := want[key]
			if !ok {
				t.Errorf("%s: %s is drawn twice, or is no conductor", name, key)
				continue
			}
			delete(want, key)
			last := w.Steps[len(w.Steps)-1].To
			if terminals[w.From] != ends[0]+" "+w.Part || terminals[last] != ends[1]+" "+w.Part {
				t.Errorf("%s: %s goes from %q to %q, not from %s to %s", name, key, terminals[w.From], terminals[last], ends[0], ends[1])
			}
			for _, s := range flat(w) {
				if s[0].X != s[1].X && s[0].Y != s[1].Y {
					t.Errorf("%s: %s runs aslant", name, key)
				}
				for _, b := range symbols {
					if b.Grown(-0.4).Meets(BoxOf(s[0], s[1]).Grown(0.01)) {
						t.Errorf("%s: %s runs through a symbol at %v", name, key, b)
					}
				}
				for _, o := range wires[:i] {
					for _, u := range flat(o) {
						if along := BoxOf(s[0], s[1]).Grown(0.05); (s[0].X == s[1].X) == (u[0].X == u[1].X) && along.Meets(BoxOf(u[0], u[1]).Grown(0.05)) {
							t.Errorf("%s: %s and %s %s lie on each other at %v", name, key, o.Of, o.Part, s)
						}
					}
				}
			}
		}
	}
	for key := range want {
		t.Errorf("%s: %s is not drawn", name, key)
	}
}

// each visits all marks of a scene.
func each(s *Scene, visit func(m Mark)) {
	for _, l := range s.Layers {
		eachIn(l.Marks, visit)
	}
}

func eachIn(marks []Mark, visit func(m Mark)) {
	for _, m := range marks {
		visit(m)
		if g, ok := m.(*Group); ok {
			eachIn(g.Marks, visit)
		}
	}
}

// checkTexts refuses texts that lie on each other, off the sheet, or are too small to read.
func checkTexts(t *testing.T, name string, s *Scene) {
	t.Helper()
	var texts []*Text
	each(s, func(m Mark) {
		if x, ok := m.(*Text); ok && x.S != "" {
			texts = append(texts, x)
		}
	})
	for i, a := range texts {
		b := a.Bounds()
		if !(Box{-0.01, -0.01, s.Width + 0.02, s.Height + 0.02}).Holds(b) {
			t.Errorf("%s: %q lies off the sheet: %v of %g x %g", name, a.S, b, s.Width, s.Height)
		}
		if a.Size*capital < 1.99 {
			t.Errorf("%s: %q is %.2f mm high", name, a.S, a.Size*capital)
		}
		for _, o := range texts[:i] {
			if b.Grown(-0.02).Meets(o.Bounds().Grown(-0.02)) {
				t.Errorf("%s: %q and %q lie on each other at %v", name, a.S, o.S, b)
			}
		}
	}
}

// With up to eight blocks no order has fewer crossings, by a search of its own
// through random orders; with more, no swap of two has.
func TestFewestCrossings(t *testing.T) {
	small, large := 0, 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 2))
		f := figuresWith(t, wild(r))
		for _, d := range fit(f, units(f), Frame{Width: 300, Height: 400}) {
			best := d.count()
			n := 0
			for _, col := range d.columns {
				for _, e := range col {
					if e.block != nil {
						n++
					}
				}
			}
			if n <= mostTried {
				small++
				for range 200 {
					for _, col := range d.columns {
						r.Shuffle(len(col), func(i, j int) { col[i], col[j] = col[j], col[i] })
					}
					if got := d.count(); got < best {
						t.Fatalf("seed %d: %d crossings, drawn with %d", seed, got, best)
					}
				}
				continue
			}
			large++
			for _, col := range d.columns {
				for i := range col {
					for j := i + 1; j < len(col); j++ {
						col[i], col[j] = col[j], col[i]
						if got := d.count(); got < best {
							t.Fatalf("seed %d: %d crossings after a swap, drawn with %d", seed, got, best)
						}
						col[i], col[j] = col[j], col[i]
					}
				}
			}
		}
	}
	if small < 3 || large < 3 {
		t.Errorf("%d small diagrams and %d large ones", small, large)
	}
}

// No text of any drawing of the demo plans lies on another one.
func TestTextsApart(t *testing.T) {
	for name, f := range demos(t) {
		for _, p := range Places(f) {
			checkTexts(t, name, Elevation(f, p, Sheet))
			for _, c := range f.Cases {
				checkTexts(t, name, Voltage(f, p, c, Sheet))
			}
		}
		for _, r := range f.Runs {
			checkTexts(t, name, Profile(f, r, Frame{Width: 180, Height: 75}))
			checkTexts(t, name, Profile(f, r, Small))
		}
	}
}
