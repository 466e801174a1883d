package drawing

import (
	"fmt"
	"testing"
)

// tenThousand is a wall of 100 rows of 100 pixels, fed by ten joints.
const tenThousand = `plan "large" {}
wire "w" { gauge = "14 AWG" }
surface "wall" {
  width  = "2 m"
  height = "5.2 m"
}
supply "s" {
  output = "12 V"
  rating = "300 A"
}
joint "j" { times = 10 }
lead "j" {
  times  = 10
  from   = supply.s.out
  to     = joint.j-each
  wire   = wire.w
  length = "3 m"
  fuse   = "30 A"
}
run "r" {
  times   = 100
  strip   = catalog.ws2815_12v_60
  on      = surface.wall
  through = [["10 cm", "10 cm"], ["177 cm", "10 cm"]]
  shift   = ["0 cm", "5 cm"]
}
controller "c" {
  board = catalog.esp32_devkit
  port "a" { pin = 4 }
}
signal "first" {
  from = controller.c.port.a
  to   = run.r-1.start
}
signal "next" {
  times = 99
  from  = run.r-each.end
  to    = run.r-next.start
}
`

func wall() string {
	s := tenThousand
	for i := range 100 {
		s += fmt.Sprintf("lead \"r%d\" {\n  from = joint.j-%d\n  to = run.r-%d.start\n  wire = wire.w\n  length = \"1 m\"\n  fuse = \"3 A\"\n}\n", i, i/10+1, i+1)
	}
	return s
}

func BenchmarkLarge(b *testing.B) {
	f := worked(b, wall())
	place := Places(f)[0]
	for name, draw := range map[string]func(){
		"elevation": func() { Elevation(f, place, Sheet) },
		"voltage":   func() { Voltage(f, place, f.Cases[0], Sheet) },
		"wiring":    func() { Wiring(f, Sheet) },
		"profile":   func() { Profile(f, f.Runs[0], Small) },
		"template":  func() { Template(f, place) },
		"svg":       func() { Elevation(f, place, Sheet).SVG() },
		"dxf":       func() { DXF(f, place) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				draw()
			}
		})
	}
}
