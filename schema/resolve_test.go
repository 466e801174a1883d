package schema

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ohmstead/schema/source"
)

const parts = `plan "test" {}
strip "s" { like = catalog.ws2812b_5v_60 }
wire "w" { gauge = "18 AWG" }
supply "p" {
  output = "5 V"
  rating = "10 A"
}
`

// mustDecode decodes parts and text, which must have no problems.
func mustDecode(t *testing.T, text string) *Plan {
	t.Helper()
	p := decode(t, parts+text)
	if len(p.Problems) > 0 {
		t.Fatalf("problems: %q", messages(p))
	}
	return p
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) }

func TestLikeMergesAttributesAndBlocks(t *testing.T) {
	p := mustDecode(t, `
controller "a" {
  logic   = "3.3 V"
  ceiling = "6 A"
  port "x" { pin = 4 }
  port "y" { pin = 5 }
}
controller "b" {
  like    = controller.a
  ceiling = "2 A"
  port "y" { pin = 13 }
}
`)
	b := p.Controllers[1]
	if b.Logic.V.SI != 3.3 || b.Ceiling.V.SI != 2 || len(b.Ports) != 2 {
		t.Fatalf("logic %v, ceiling %v, %d ports", b.Logic.V, b.Ceiling.V, len(b.Ports))
	}
	pins := map[string]int{}
	for _, port := range b.Ports {
		pins[port.ID()] = port.Pin.V
	}
	if pins["controller.b.port.x"] != 4 || pins["controller.b.port.y"] != 13 {
		t.Errorf("pins %v", pins)
	}
}

func TestGeometryReplacesInheritedGeometry(t *testing.T) {
	p := mustDecode(t, `
run "a" {
  strip   = strip.s
  through = [["0 cm", "0 cm"], ["1 m", "0 cm"]]
}
run "b" {
  like  = run.a
  shift = ["0 cm", "40 cm"]
}
run "c" {
  like  = run.b
  shift = ["0 cm", "40 cm"]
}
run "d" {
  like   = run.c
  length = "2 m"
}
`)
	if got := p.Runs[2].Shift.V; !near(got.Y, 0.8) {
		t.Errorf("shifts along like add up: got %v, want 0.8 m up", got)
	}
	d := p.Runs[3]
	if d.Through.Set || d.Shift.Set || d.Length.V.SI != 2 {
		t.Errorf("a length of its own keeps through=%v shift=%v", d.Through.Set, d.Shift.Set)
	}
}

func TestCopies(t *testing.T) {
	p := mustDecode(t, `
run "r" {
  times   = let.n
  strip   = strip.s
  through = [["0 cm", "0 cm"], ["1 m", "0 cm"]]
  shift   = ["0 cm", "10 cm"]
}
let { n = 3 }
lead "l" {
  times  = 3
  from   = supply.p.out
  to     = run.r-each.start
  wire   = wire.w
  length = "1 m"
}
lead "chain" {
  times  = 2
  from   = run.r-each.end
  to     = run.r-next.start
  wire   = wire.w
  length = "10 cm"
}
order "o" { runs = [from_end(run.r-all)] }
`)
	var ids []string
	for _, r := range p.Runs {
		ids = append(ids, fmt.Sprintf("%s %.1f", r.ID(), r.Shift.V.Y))
	}
	if want := []string{"run.r-1 0.0", "run.r-2 0.1", "run.r-3 0.2"}; !slices.Equal(ids, want) {
		t.Errorf("runs %q, want %q", ids, want)
	}
	var leads []string
	for _, l := range p.Leads {
		leads = append(leads, l.From.V.String()+">"+l.To.V.String())
	}
	want := []string{"supply.p.out>run.r-1.start", "supply.p.out>run.r-2.start", "supply.p.out>run.r-3.start", "run.r-1.end>run.r-2.start", "run.r-2.end>run.r-3.start"}
	if !slices.Equal(leads, want) {
		t.Errorf("leads %q, want %q", leads, want)
	}
	if runs := p.Orders[0].Runs.V; len(runs) != 3 || !runs[2].FromEnd || runs[2].Run.Name != "r-3" {
		t.Errorf("order %v", runs)
	}
}

// in_turn goes round its lists, and a list that is at its end is passed over.
func TestInTurn(t *testing.T) {
	const runs = `
run "out" {
  times  = 3
  strip  = strip.s
  length = "1 m"
}
run "back" {
  times  = 2
  strip  = strip.s
  length = "1 m"
}
run "last" {
  strip  = strip.s
  length = "1 m"
}
`
	for list, want := range map[string][]string{
		`in_turn(run.out-all, run.back-all)`:                     {"out-1", "back-1", "out-2", "back-2", "out-3"},
		`in_turn(run.back-all, run.out-all)`:                     {"back-1", "out-1", "back-2", "out-2", "out-3"},
		`run.last, in_turn(run.out-all, from_end(run.back-all))`: {"last", "out-1", "from_end back-1", "out-2", "from_end back-2", "out-3"},
		`in_turn(run.out-all, run.back-all, run.last)`:           {"out-1", "back-1", "last", "out-2", "back-2", "out-3"},
	} {
		p := mustDecode(t, runs+"order \"o\" { runs = ["+list+"] }\n")
		var got []string
		for _, r := range p.Orders[0].Runs.V {
			name := r.Run.Name
			if r.FromEnd {
				name = "from_end " + name
			}
			got = append(got, name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s is %q, want %q", list, got, want)
		}
	}
}

func TestCopiesTellWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		`lead "x" {
  from   = supply.p.out
  to     = run.r.start
  wire   = wire.w
  length = "1 m"
}`: "run.r stands for 2 copies; name one (run.r-1), or write run.r-each in a block that has times as well",
		`lead "x" {
  from   = supply.p.out
  to     = run.r-each.start
  wire   = wire.w
  length = "1 m"
}`: "r-each is the copy with the same number, and this block has no times; name one copy, such as r-1",
		`lead "x" {
  times  = 3
  from   = supply.p.out
  to     = run.r-each.start
  wire   = wire.w
  length = "1 m"
}`: `there is no run "r-3"; write one of r-1 to r-2, or make times 3`,
	} {
		p := decode(t, parts+`run "r" {
  times  = 2
  strip  = strip.s
  length = "1 m"
}
`+text)
		if got := messages(p); len(got) != 1 || !strings.HasSuffix(got[0], want) {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestLetsAndFunctions(t *testing.T) {
	p := mustDecode(t, `
let {
  gap  = "16 in"
  wide = difference("2 m", let.gap, "10 cm")
  rows = 4
}
run "a" {
  strip  = strip.s
  length = sum(let.wide, scale(let.gap, "50 %"), round_to("33 cm", "10 cm"))
}
run "b" {
  strip  = strip.s
  length = greatest("1 m", least("3 m", "2 m"))
  pixels = scale(let.rows, 30)
}
`)
	if got, want := p.Runs[0].Length.V.SI, 2-0.4064-0.1+0.2032+0.3; !near(got, want) {
		t.Errorf("length %v, want %v", got, want)
	}
	if b := p.Runs[1]; b.Length.V.SI != 2 || b.Pixels.V != 120 {
		t.Errorf("b: %v, %d pixels", b.Length.V, b.Pixels.V)
	}
}

func TestPlaces(t *testing.T) {
	p := mustDecode(t, `
supply "two" {
  output  = "5 V"
  rating  = "10 A"
  outputs = 2
}
let { middle = "1.5 m" }
run "a" {
  strip  = strip.s
  length = "3 m"
}
lead "one" {
  from   = supply.two.out[2]
  to     = run.a[let.middle]
  wire   = wire.w
  length = "1 m"
}
lead "two" {
  from   = supply.two.out
  to     = run.a[90]
  wire   = wire.w
  length = "1 m"
}
lead "three" {
  from   = supply.p.out
  to     = run.a["50 cm"]
  wire   = wire.w
  length = "1 m"
}
`)
	var got []string
	for _, l := range p.Leads {
		got = append(got, l.From.V.String()+">"+l.To.V.String())
	}
	want := []string{`supply.two.out[2]>run.a["1.5 m"]`, `supply.two.out[1]>run.a[90]`, `supply.p.out>run.a["50 cm"]`}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestCircles(t *testing.T) {
	for text, want := range map[string]string{
		"run \"a\" { like = run.b }\nrun \"b\" { like = run.a }": "is like itself",
		"run \"a\" { like = run.a }":                             "is like itself",
		"let {\n  a = let.b\n  b = let.a\n}":                     "let.b is made of itself, through let.a",
		"let {\n  a = sum(let.a, \"1 m\")\n}":                    "let.a is made of itself;",
	} {
		p := decode(t, parts+text+"\n")
		if !slices.ContainsFunc(messages(p), func(m string) bool { return strings.Contains(m, want) }) {
			t.Errorf("%s: %q has no %q", text, messages(p), want)
		}
	}
}

// files makes a Fetch over directories given as text.
func files(dirs map[string]string) Fetch {
	return func(dir string) ([]*source.File, error) {
		text, ok := dirs[dir]
		if !ok {
			return nil, fmt.Errorf("no such directory")
		}
		if text == "" {
			return nil, nil
		}
		return []*source.File{source.Parse(source.NewText(dir+"/parts.ohm.hcl", []byte(text)))}, nil
	}
}

func decodeIn(dir, text string, dirs map[string]string) *Plan {
	return Decode(dir, []*source.File{source.Parse(source.NewText(dir+"/plan.ohm.hcl", []byte(text)))}, files(dirs))
}

func TestStockGivesPartsAndPolicy(t *testing.T) {
	p := decodeIn("jobs/porch", `plan "x" { stock = ["../../workshop"] }
strip "a" { like = strip.mine }
run "r" {
  strip  = strip.a
  length = "1 m"
}
`, map[string]string{"workshop": `policy { drop = "7 %" }
strip "mine" {
  like  = catalog.ws2812b_5v_60
  price = "20 EUR"
}
`})
	if len(p.Problems) > 0 {
		t.Fatal(messages(p))
	}
	if p.Strips[0].Price.V.SI != 20 || !near(p.Limits().Drop, 0.07) || !near(p.Limits().Load, 0.8) {
		t.Errorf("price %v, limits %+v", p.Strips[0].Price.V, p.Limits())
	}
	if len(p.Strips) != 1 {
		t.Errorf("%d strips; stock parts are not the plan's own", len(p.Strips))
	}
}

func TestStockThatCannotBeUsed(t *testing.T) {
	dirs := map[string]string{
		"a": `plan "a" { stock = ["../b"] }`,
		"b": `plan "b" { stock = ["../a"] }`,
		"e": "",
	}
	for stock, want := range map[string]string{
		"../../outside":     "lies outside of the root",
		"/etc":              "is not a relative path",
		"https://x.invalid": "is a network address",
		"../nowhere":        "cannot be read",
		"../e":              "holds no *.ohm.hcl file",
		"../a":              "leads back to where it came from",
		"..\\\\a":           "is not a relative path",
	} {
		p := decodeIn("job", `plan "x" { stock = ["`+stock+`"] }`, dirs)
		if !slices.ContainsFunc(messages(p), func(m string) bool { return strings.Contains(m, want) }) {
			t.Errorf("%s: %q has no %q", stock, messages(p), want)
		}
	}
}

func TestOneMistakeLeavesTheRest(t *testing.T) {
	for _, broken := range []string{
		`  length =`, `  length = "1 m`, `  length = [1, 2`, `  len`, `  length = run.`, `  strip = `,
	} {
		p := decode(t, parts+"run \"a\" {\n  strip = strip.s\n"+broken+"\n}\nrun \"b\" {\n  strip  = strip.s\n  length = \"2 m\"\n}\n")
		if len(p.Runs) != 2 || p.Runs[1].Length.V.SI != 2 || p.Runs[1].Broken {
			t.Errorf("%q: the block after it is lost: %q", broken, messages(p))
		}
		if n := len(p.Problems); n == 0 || n > 3 {
			t.Errorf("%q: %d problems: %q", broken, n, messages(p))
		}
	}
}
