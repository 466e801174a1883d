package lists

import "testing"

func TestNatural(t *testing.T) {
	for _, pair := range [][2]string{
		{"fuse 3 A", "fuse 10 A"}, {"blade fuse 10 A", "glass fuse 1 A"}, {"fuse 2 A", "fuse 2.5 A"}, {"wire.a", "wire.b"},
		{"wire", "wire 2"}, {"r-9", "r-10"}, {"r-1.x", "r-2"}, {"", "a"}, {"a 1 b", "a 1 c"}, {"a 1.2.3", "a 1.2.4"},
	} {
		if natural(pair[0], pair[1]) >= 0 || natural(pair[1], pair[0]) <= 0 {
			t.Errorf("%q does not come before %q", pair[0], pair[1])
		}
		if natural(pair[0], pair[0]) != 0 {
			t.Errorf("%q is not as itself", pair[0])
		}
	}
}
