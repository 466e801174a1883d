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
