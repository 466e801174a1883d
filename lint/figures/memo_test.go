package figures

import (
	"fmt"
	"iter"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// told is what figures say, without the pointers.
func told(f *Figures) string {
	var b strings.Builder
	for _, c := range f.Cases {
		for i, r := range c.Runs {
			fmt.Fprintln(&b, c.Name, f.Runs[i].ID(), r.OK, r.Amps, r.MinVolts, r.MinPixel, r.StartVolts, r.EndVolts, r.RailAmps, r.Volts())
		}
		for i, l := range c.Leads {
			fmt.Fprintln(&b, c.Name, f.Leads[i].ID(), l)
		}
		for _, s := range c.Supplies {
			fmt.Fprintln(&b, c.Name, s.Supply.ID(), s.OK, s.Each, s.Load)
		}
		for _, j := range c.Joints {
			fmt.Fprintln(&b, c.Name, j.Joint.ID(), j.OK, j.Volts, j.Amps)
		}
		fmt.Fprintln(&b, c.Controllers)
	}
	for i, l := range f.Leads {
		fmt.Fprintln(&b, l.Ohms, l.Ampacity, l.Fault.Amps, l.Fault.Unguarded, l.Fault.Minus, suppliesNamed(l.Fault.Sources), leadsNamed(l.Fault.Through), f.Any.Leads[i].Amps, runsNamed(f.Any.Leads[i].Lit))
	}
	for i, r := range f.Runs {
		a := f.Any.Runs[i]
		fmt.Fprintln(&b, a.MinVolts, a.MinPixel, runsNamed(a.Lit), a.RailAmps, a.RailAt, runsNamed(a.RailLit))
		for _, rail := range r.Rails {
			fmt.Fprintln(&b, rail.From, rail.To, rail.Fault.Amps, rail.Fault.Unguarded)
		}
	}
	return b.String()
}

func runsNamed(all []*Run) string {
	var names []string
	for _, r := range all {
		names = append(names, r.Name)
	}
	return strings.Join(names, " ")
}

// TestMemoChangesNothing works versions of plans out at the same time with one
// memo, trials among them: each says what it says alone. Run it with -race.
func TestMemoChangesNothing(t *testing.T) {
	var plans []*schema.Plan
	var want []string
	add := func(text string) {
		p := decode(t, "x", text)
		plans = append(plans, p)
		want = append(want, told(figuresOf(t, p, nil)))
	}
	for _, name := range demos(t) {
		text := textOf(t, name)
		add(text)
		add(strings.Replace(text, `fuse   = "`, `fuse   = "1`, 1))                         // protection alone changes
		add(strings.Replace(text, `ceiling = "`, `ceiling = "1`, 1))                       // the bound alone changes
		add(text + "\ncase \"dim\" { level = \"30 %\" }\n")                                // a case more
		add(strings.Replace(text, `rating = "`, `rating = "1`, 1))                         // a supply's limit
		add(strings.Replace(text, `length = "`, `length = "1`, 1))                         // a length
		add(strings.Replace(text, `output = "`, `trim   = "12.3 V"`+"\n  output = \"", 1)) // a set-point
	}
	for seed := range uint64(8) {
		add(randomPlan(rand.New(rand.NewPCG(seed, 13))))
	}
	memo := NewMemo()
	var all sync.WaitGroup
	for worker := range 6 {
		all.Add(1)
		go func() {
			defer all.Done()
			rng := rand.New(rand.NewPCG(uint64(worker), 17))
			for range 25 {
				i := rng.IntN(len(plans))
				f := figuresOf(t, plans[i], memo)
				if !alike9(told(f), want[i]) {
					t.Errorf("plan %d is told otherwise with a memo in use", i)
				}
				k := rng.IntN(len(plans))
				if g, err := f.Try(t.Context(), plans[k]); err != nil || !alike9(told(g), want[k]) {
					t.Errorf("trial %d is told otherwise with a memo in use", k)
				}
			}
		}()
	}
	all.Wait()
}

// TestKeysTellPartsApart changes one thing after another in a plan; each that
// matters to a solution, a bound or an exposure changes one of the keys.
func TestKeysTellPartsApart(t *testing.T) {
	base := `plan "x" {}
supply "s" {
  output   = "12 V"
  rating   = "10 A"
  overload = "150 %"
}
strip "s" {
  voltage         = "12 V"
  density         = "60/m"
  channels        = "RGB"
  channel_current = "9 mA"
  idle_current    = "1 mA"
  forward         = "2 V"
  headroom        = "0.5 V"
  rail            = "0.1 ohm/m"
  rail_current    = "4 A"
  stack           = "parallel"
}
run "r" {
  strip  = strip.s
  length = "1 m"
}
joint "j" { resistance = "1 mohm" }
wire "w" { gauge = "18 AWG" }
lead "a" {
  from     = supply.s.out
  to       = joint.j
  wire     = wire.w
  length   = "2 m"
  fuse     = "5 A"
  carries  = "pair"
  parallel = 1
}
lead "b" {
  from   = joint.j
  to     = run.r.start
  wire   = wire.w
  length = "1 m"
}
controller "c" {
  board   = catalog.esp32_devkit
  needs   = "100 mA"
  ceiling = "1 A"
  port "p" { pin = 4 }
}
lead "c" {
  from   = joint.j
  to     = controller.c.power
  wire   = wire.w
  length = "1 m"
}
signal "p" {
  from = controller.c.port.p
  to   = run.r.start
}
case "own" { level = "50 %" }
`
	keys := func(text string) map[content]bool {
		memo := NewMemo()
		figuresOf(t, decode(t, "x", text), memo)
		out := map[content]bool{}
		maps.Insert(out, has(memo.solutions.cur))
		maps.Insert(out, has(memo.bounds.cur))
		maps.Insert(out, has(memo.exposures.cur))
		return out
	}
	was := keys(base)
	if len(was) == 0 || !reflect.DeepEqual(was, keys(base+"\n# a remark\n")) {
		t.Fatalf("%d keys, or a remark changes them", len(was))
	}
	for _, change := range [][2]string{
		{`output   = "12 V"`, `output   = "12.1 V"`}, {`"10 A"`, `"11 A"`}, {`"150 %"`, `"140 %"`},
		{`"60/m"`, `"30/m"`}, {`"9 mA"`, `"8 mA"`}, {`idle_current    = "1 mA"`, `idle_current    = "2 mA"`},
		{`"2 V"`, `"2.1 V"`}, {`"0.5 V"`, `"0.6 V"`}, {`"0.1 ohm/m"`, `"0.2 ohm/m"`}, {`"parallel"`, `"series"`},
		{`length = "1 m"`, `length = "2 m"`}, {`"1 mohm"`, `"2 mohm"`}, {`"18 AWG"`, `"16 AWG"`}, {`"2 m"`, `"3 m"`},
		{`"5 A"`, `"6 A"`}, {`"pair"`, `"plus"`}, {`parallel = 1`, `parallel = 2`}, {`run.r.start`, `run.r.end`},
		{`"100 mA"`, `"200 mA"`}, {`"1 A"`, `"1.1 A"`}, {`"50 %"`, `"40 %"`}, {`"RGB"`, `"RG"`},
		{`plan "x" {}`, `plan "x" { ambient = "50 degC" }`},
	} {
		text := strings.Replace(base, change[0], change[1], 1)
		if text == base {
			t.Errorf("%s is not in the plan", change[0])
		}
		if reflect.DeepEqual(was, keys(text)) {
			t.Errorf("%s leaves all keys as they were", change[1])
		}
	}
}

// alike9 reports whether two accounts say the same to 1e-9: a solution may begin
// from a former one.
func alike9(a, b string) bool {
	as, bs := strings.Fields(a), strings.Fields(b)
	if len(as) != len(bs) {
		return false
	}
	for i := range as {
		if as[i] == bs[i] {
			continue
		}
		x, err1 := strconv.ParseFloat(strings.Trim(as[i], "[]{}"), 64)
		y, err2 := strconv.ParseFloat(strings.Trim(bs[i], "[]{}"), 64)
		if err1 != nil || err2 != nil || math.Abs(x-y) > 1e-9*math.Max(1, math.Abs(x)) {
			return false
		}
	}
	return true
}

func has[K comparable, V any](m map[K]V) iter.Seq2[K, bool] {
	return func(yield func(K, bool) bool) {
		for k := range m {
			if !yield(k, true) {
				return
			}
		}
	}
}

// A trial begins with what the plan's own memo has, works out what is new, and
// however many trials there are the memo keeps no more than the last two have.
func TestTrialsStartFromThePlan(t *testing.T) {
	for _, name := range demos(t) {
		text := textOf(t, name)
		f := figuresOf(t, decode(t, "x", text), NewMemo())
		if _, err := f.Try(t.Context(), decode(t, "x", text)); err != nil {
			t.Fatal(err)
		}
		for k, v := range f.memo.trials.solutions.cur {
			if f.memo.solutions.cur[k] != v {
				t.Errorf("%s: a solution of the same plan is worked out again", name)
			}
		}
		most := 2 * (len(f.memo.solutions.cur) + 10)
		for i := range 50 {
			changed := strings.Replace(text, `length = "`, fmt.Sprintf(`length = "%d`, 1+i%9), 1+i/9)
			if _, err := f.Try(t.Context(), decode(t, "x", changed)); err != nil {
				t.Fatal(err)
			}
		}
		if n := len(f.memo.trials.solutions.cur) + len(f.memo.trials.solutions.old); n > most {
			t.Errorf("%s: after fifty trials %d solutions are kept, of %d in the plan", name, n, most)
		}
	}
}

// While a lead is typed its island cannot be worked out. However many versions that takes, all is known again
// once the lead is gone, and what is kept of other islands does not grow without end.
func TestHalfALeadForgetsNothing(t *testing.T) {
	text := textOf(t, "porch-arch")
	memo := NewMemo()
	figuresOf(t, decode(t, "x", text), memo)
	place := regexp.MustCompile(`(?m)^ +to +=.*`).FindString(text[strings.Index(text, "\nlead "):])
	for range 4 {
		half := schema.Decode("x", []*source.File{source.Parse(source.NewText("x/plan.ohm.hcl", []byte(text+"\nlead \"half\" {\n"+place+"\n")))}, nil)
		if f := figuresOf(t, half, memo); !slices.ContainsFunc(f.Islands, func(is *Island) bool { return is.Err != nil }) {
			t.Fatal("half a lead leaves nothing out")
		}
	}
	f := Prepare(decode(t, "x", text), memo)
	for _, is := range f.Islands {
		for _, p := range is.parts {
			if !p.known() {
				t.Errorf("part %s is forgotten", is.name(p))
			}
		}
	}
	for i := range 1000 {
		memo.turn()
		memo.networks.entry(content{uint64(i)})
		memo.leave(true)
	}
	if n := len(memo.networks.cur) + len(memo.networks.old); n > 500 {
		t.Errorf("%d networks are kept", n)
	}
}
