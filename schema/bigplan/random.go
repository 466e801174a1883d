package bigplan

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// Random writes a plan of one supply, joints and runs with gauges, fuses and
// lengths of which many do not fit.
func Random(r *rand.Rand) string {
	pick := func(of ...string) string { return of[r.IntN(len(of))] }
	var b strings.Builder
	b.WriteString("plan \"random\" { mains = \"230 V\" }\nstrip \"led\" { like = catalog.ws2812b_5v_60 }\n")
	for i := range 3 {
		fmt.Fprintf(&b, "wire \"w%d\" { gauge = %q }\n", i, pick("22 AWG", "20 AWG", "18 AWG", "16 AWG", "14 AWG", "0.75 mm2", "1.5 mm2"))
	}
	fmt.Fprintf(&b, "supply \"s\" {\n  output = \"5 V\"\n  rating = %q\n  input  = [\"230 V\"]\n}\n", pick("4 A", "8 A", "15 A", "30 A"))
	fmt.Fprintf(&b, "controller \"c\" {\n  board   = catalog.esp32_devkit\n  buffer  = \"5 V\"\n  ceiling = %q\n  port \"a\" { pin = 4 }\n}\n", pick("2 A", "5 A", "9 A", "25 A"))
	lead := func(name, from, to string) {
		fmt.Fprintf(&b, "lead %q {\n  from   = %s\n  to     = %s\n  wire   = wire.w%d\n  length = %q\n", name, from, to, r.IntN(3), pick("30 cm", "1 m", "3 m", "8 m"))
		if r.IntN(3) > 0 {
			fmt.Fprintf(&b, "  fuse   = %q\n", pick("1 A", "2 A", "3 A", "5 A", "7.5 A", "10 A", "15 A"))
		}
		b.WriteString("}\n")
	}
	lead("board", "supply.s.out", "controller.c.power")
	from := "supply.s.out"
	if r.IntN(2) == 0 {
		fmt.Fprintf(&b, "joint \"hub\" {\n  kind   = \"lever\"\n  rating = %q\n  ways   = 5\n}\n", pick("4 A", "10 A", "24 A"))
		lead("trunk", from, "joint.hub")
		from = "joint.hub"
	}
	before := "controller.c.port.a"
	for i := range 1 + r.IntN(3) {
		run := fmt.Sprintf("run.r%d", i)
		fmt.Fprintf(&b, "run \"r%d\" {\n  strip  = strip.led\n  length = %q\n}\n", i, pick("30 cm", "1 m", "1.6 m", "2.9 m"))
		lead(fmt.Sprintf("r%d", i), from, run+".start")
		if r.IntN(3) == 0 {
			lead(fmt.Sprintf("r%d-far", i), from, run+".end")
		}
		fmt.Fprintf(&b, "signal \"r%d\" {\n  from   = %s\n  to     = %s.start\n  wire   = wire.w0\n  length = \"30 cm\"\n}\n", i, before, run)
		before = run + ".end"
	}
	return b.String()
}
