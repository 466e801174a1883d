package schema

import "testing"

// An edit of a text changes all copies for which that text says the attribute: those that say another one themselves stay.
func TestShared(t *testing.T) {
	p := decode(t, `plan "p" { mains = "230 V" }
wire "w" { gauge = "16 AWG" }
supply "s" {
  output = "5 V"
  rating = "5 A"
}
joint "j" {
  times  = 4
  kind   = "crimp"
  rating = "20 A"
}
lead "l" {
  times  = 4
  from   = supply.s.out
  to     = joint.j-each
  wire   = wire.w
  length = "1 m"
  fuse   = "5 A"
  copy "2" { fuse = "3 A" }
}
`)
	for _, c := range []struct{ id, attr, want string }{
		{"lead.l-3", "wire", "lead.l (all 4)"},
		{"lead.l-2", "wire", "lead.l (all 4)"},
		{"lead.l-3", "fuse", "lead.l (3 of 4)"},
		{"lead.l-2", "fuse", "lead.l-2"},
		{"joint.j-1", "kind", "joint.j (all 4)"},
		{"supply.s", "rating", "supply.s"},
	} {
		b, ok := p.Find(c.id)
		if !ok {
			t.Fatalf("no %s: %v", c.id, p.Problems)
		}
		if got := p.Shared(HeaderOf(b), c.attr); got != c.want {
			t.Errorf("%s of %s: %s, not %s", c.attr, c.id, got, c.want)
		}
	}
}
