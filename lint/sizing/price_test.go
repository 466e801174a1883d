package sizing

import (
	"context"
	"math"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// What supplies and holders cost is counted where they say a price in the currency of the
// wire: a block for several fuses once, an in-line holder for each.
func TestPriceOfSuppliesAndHolders(t *testing.T) {
	const text = `plan "p" { mains = "230 V" }
strip "s" { like = catalog.ws2812b_5v_60 }
wire "w" {
  gauge = "18 AWG"
  price = "10 EUR"
  reel  = "20 m"
}
holder "h" {
  price = "4 EUR"
  ways  = 6
}
supply "u" {
  output = "5 V"
  rating = "10 A"
  price  = "25 EUR"
}
run "a" {
  strip  = strip.s
  length = "50 cm"
}
lead "a" {
  from   = supply.u.out
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
  fuse   = "3 A"
  holder = holder.h
}
lead "b" {
  from   = supply.u.out
  to     = run.a.end
  wire   = wire.w
  length = "2 m"
  fuse   = "3 A"
  holder = holder.h
}
`
	price := func(text string) Price {
		t.Helper()
		p := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))}, nil)
		for _, pr := range p.Problems {
			t.Fatal(pr.Message)
		}
		f, err := figures.Work(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		return pricesOf(f).of(f, 0)
	}
	const wire = 2 * 3 * 0.5 // EUR: plus and minus, 3 m at 50 ct
	for _, c := range []struct {
		old, new string
		others   float64
	}{
		{"", "", 25 + 4},
		{"  ways  = 6\n", "", 25 + 2*4},
		{"25 EUR", "25 USD", 4},
		{"  price = \"4 EUR\"\n", "", 25},
	} {
		if got := price(strings.Replace(text, c.old, c.new, 1)); math.Abs(got.Others-c.others) > 1e-9 || math.Abs(got.Sum-wire-c.others) > 1e-9 {
			t.Errorf("%q for %q: %+v, want %g EUR of wire and %g EUR of others", c.new, c.old, got, wire, c.others)
		}
	}
	if got := price(text).String(); !strings.HasPrefix(got, "3.00 EUR of wire and 29.00 EUR of supplies and holders (") {
		t.Error(got)
	}
	if got := price(strings.Replace(text, "price = \"10 EUR\"\n", "", 1)); got.Currency != "" || got.Others != 0 {
		t.Errorf("without a price of the wire: %+v", got)
	}
}

// Leads of assemblies that are like one another are of one text: what is written there must do for each of them.
func TestLoadOfLikeAssemblies(t *testing.T) {
	plan := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(`plan "p" { mains = "230 V" }
strip "s" { like = catalog.ws2812b_5v_60 }
wire "w" { gauge = "10 AWG" }
supply "u" {
  output = "5 V"
  rating = "40 A"
}
assembly "left" {
  run "r" {
    strip  = strip.s
    length = "1 m"
  }
  lead "l" {
    from   = supply.u.out
    to     = run.r.start
    wire   = wire.w
    length = "1 m"
  }
}
assembly "right" {
  like = assembly.left
  run "r" { length = "2 m" }
}
`)))}, nil)
	f, err := figures.Work(context.Background(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Leads) != 2 {
		t.Fatalf("%d leads: %v", len(f.Leads), plan.Problems)
	}
	a, b := f.Leads[0], f.Leads[1]
	most := max(f.WorstLead(a).Value, f.WorstLead(b).Value)
	if x, y := LoadOf(f, a), LoadOf(f, b); x != most || y != most || f.WorstLead(a).Value == f.WorstLead(b).Value {
		t.Errorf("%s and %s are to carry %g A and %g A, want %g A both", a.ID(), b.ID(), x, y, most)
	}
}
