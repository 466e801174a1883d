package figures

import (
	"fmt"
	"strings"
	"testing"
)

// bigPlans writes plans of any number of pixels with a feed each 100, in the
// shapes that big installations take.
var bigPlans = map[string]func(pixels int) string{
	// One supply and a bus; each 100 pixels are a run on a lead of their own.
	"runs": func(pixels int) string {
		return fmt.Sprintf(`plan "runs" {}
supply "s" {
  output = "12 V"
  rating = "1000 A"
}
run "r" {
  times  = %[1]d
  strip  = catalog.ws2815_12v_60
  pixels = 100
}
lead "r" {
  times  = %[1]d
  from   = supply.s.out
  to     = run.r-each.start
  wire   = catalog.awg_16
  length = "3 m"
  fuse   = "3 A"
}
`, pixels/100) + bigControl(pixels/100)
	},
	// A supply for each ten runs of 100 pixels, and nothing between the supplies.
	"islands": func(pixels int) string {
		var b strings.Builder
		fmt.Fprintf(&b, `plan "islands" {}
run "r" {
  times  = %d
  strip  = catalog.ws2815_12v_60
  pixels = 100
}
`, pixels/100)
		for i := range pixels / 100 {
			if i%10 == 0 {
				fmt.Fprintf(&b, "supply \"s-%d\" {\n  output = \"12 V\"\n  rating = \"30 A\"\n}\n", i/10)
			}
			fmt.Fprintf(&b, "lead \"f-%d\" {\n  from   = supply.s-%d.out\n  to     = run.r-%d.start\n  wire   = catalog.awg_16\n  length = \"%d cm\"\n  fuse   = \"3 A\"\n}\n", i+1, i/10, i+1, 100+i)
		}
		return b.String() + bigControl(pixels/100)
	},
	// Runs of 1,000 pixels along a trunk of joints, each fed each 100
	// pixels.
	"trunk": func(pixels int) string {
		var b strings.Builder
		n := pixels / 1000
		fmt.Fprintf(&b, `plan "trunk" {}
supply "s" {
  output = "12 V"
  rating = "100 A"
}
joint "j" { times = %[1]d }
run "r" {
  times  = %[2]d
  strip  = catalog.ws2815_12v_60
  pixels = 1000
}
lead "s" {
  from   = supply.s.out
  to     = joint.j-1
  wire   = catalog.awg_10
  length = "1 m"
  fuse   = "30 A"
}
`, n, n)
		if n > 1 {
			fmt.Fprintf(&b, `lead "trunk" {
  times  = %d
  from   = joint.j-each
  to     = joint.j-next
  wire   = catalog.awg_10
  length = "17 m"
}
`, n-1)
		}
		for i := range n {
			for k := range 11 {
				fmt.Fprintf(&b, "lead \"f-%d-%d\" {\n  from   = joint.j-%d\n  to     = run.r-%d[%d]\n  wire   = catalog.awg_14\n  length = \"%d m\"\n  fuse   = \"5 A\"\n}\n", i+1, k, i+1, i+1, 100*k, 1+k)
			}
		}
		return b.String() + bigControl(n)
	},
	// One run, fed each 100 pixels straight from the supply: all feeds and rails
	// lie on common rings.
	"ring": func(pixels int) string {
		var b strings.Builder
		fmt.Fprintf(&b, `plan "ring" {}
supply "s" {
  output = "12 V"
  rating = "1000 A"
}
run "r" {
  times  = 1
  strip  = catalog.ws2815_12v_60
  pixels = %d
}
`, pixels)
		for k := range pixels/100 + 1 {
			fmt.Fprintf(&b, "lead \"f-%d\" {\n  from   = supply.s.out\n  to     = run.r-1[%d]\n  wire   = catalog.awg_14\n  length = \"%d m\"\n  fuse   = \"5 A\"\n}\n", k, 100*k, 1+k)
		}
		return b.String() + bigControl(1)
	},
}

// bigControl drives the runs "r" from one port.
func bigControl(runs int) string {
	s := `controller "c" {
  board     = catalog.esp32_devkit
  own_power = true
  ceiling   = "20 A"
  port "p" { pin = 4 }
}
signal "p" {
  from = controller.c.port.p
  to   = run.r-1.start
}
`
	if runs > 1 {
		s += fmt.Sprintf("signal \"r\" {\n  times = %d\n  from  = run.r-each.end\n  to    = run.r-next.start\n}\n", runs-1)
	}
	return s
}

// BenchmarkWorkBig works out everything: two cases, the bound over every
// pattern, protection.
func BenchmarkWorkBig(b *testing.B) {
	for _, shape := range []string{"islands", "runs", "trunk", "ring"} {
		for _, pixels := range []int{1000, 10_000, 100_000} {
			b.Run(fmt.Sprintf("%s/%dk", shape, pixels/1000), func(b *testing.B) {
				p := decode(b, "x", bigPlans[shape](pixels))
				for b.Loop() {
					f := figuresOf(b, p, nil)
					if f.Islands[0].Err != nil || !f.Any.Runs[0].OK {
						b.Fatal(f.Islands[0].Err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(pixels), "ns/pixel")
			})
		}
	}
}
