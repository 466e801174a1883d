package schema

import (
	"fmt"
	"strconv"
	"testing"

	"ohmstead/schema/source"
)

// Whatever stands in place of names, numbers and references of assemblies, decoding ends, and
// with what was kept it says the same.
func FuzzAssemblies(f *testing.F) {
	f.Add("ring", "run.hoop", "3", "run.ring-hoop-all", "7")
	f.Add("a", "run.hoop-next", "let.n", "assembly.a-odd", "last")
	f.Add("", "run.ring-hoop-0", "-1", "run.a-hoop-2-to-1", "11-to-20")
	f.Add("x-1", "joint.tee-previous", "1000", "from_end(assembly.x-1)", "odd")
	f.Add("r", "run.all", "\"1 m\"", "run.all", "even")
	f.Fuzz(func(t *testing.T, name, ref, number, list, which string) {
		if len(name)+len(ref)+len(number)+len(list)+len(which) > 1<<10 {
			return
		}
		if n, err := strconv.Atoi(number); err == nil && n > 20 && n <= 100 { // thousands of copies, which take seconds; more are refused
			return
		}
		text := fmt.Sprintf(`plan "p" {}
let { n = 3 }
assembly "%[1]s" {
  times = %[3]s
  rows  = 2
  at    = ["1 m", %[3]s]
  run "hoop" {
    strip  = strip.s
    length = "1 m"
    times  = %[3]s
    turn   = %[3]s
    mirror = "%[5]s"
    shift  = [%[3]s, "1 m"]
    copy "%[5]s" { like = %[2]s }
  }
  joint "tee" { ways = 3 }
  signal "hop" {
    from = %[2]s.end
    to   = run.hoop-next.start
  }
  assembly "in" {
    like  = assembly.b
    times = %[3]s
    chain "c" {
      runs = [%[4]s]
      hop { to = %[2]s }
    }
    feed "f" {
      to   = [%[2]s, %[4]s]
      ends = "%[5]s"
      branch { to = %[2]s }
    }
    runs {
      x = %[3]s
      y = %[2]s
    }
  }
  copy "%[5]s" {
    run "%[1]s" { like = %[2]s }
  }
}
assembly "b" {
  like = assembly.%[1]s
  run "%[1]s" { like = %[2]s }
}
usual "run" "%[1]s" { strip = %[2]s }
runs {
  z = %[3]s
  run "%[1]s" { like = %[2]s }
}
feed "t" { through = %[2]s }
chain "d" { runs = from_end(%[4]s) }
order "o" { runs = [%[4]s, %[2]s] }
`, name, ref, number, list, which)
		files := []*source.File{source.Parse(source.NewText("p/p.ohm.hcl", []byte(text)))}
		var memo Memo
		memo.Decode("p", files, nil)
		if got, want := dump(memo.Decode("p", files, nil)), dump(Decode("p", files, nil)); got != want {
			t.Errorf("kept:\n%s\nafresh:\n%s", got, want)
		}
	})
}
