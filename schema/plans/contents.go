package plans

import (
	"bytes"
	"slices"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Contents is what the plan files of a directory hold, as far as it decides
// about plans and stock. It is read off the blocks without decoding any.
type Contents struct {
	// Plan is true of a plan: everything but a directory that holds parts for
	// other plans and no block that only a plan can have. So one with nothing
	// in it yet, or with a file that is refused, is a plan and told of it.
	Plan bool
	// Stock is what its plan blocks name as stock, as written.
	Stock []string
}

// Look reads off what some files of one directory hold.
func Look(files []*source.File) Contents {
	var c Contents
	parts := 0
	for _, f := range files {
		c.Plan = c.Plan || f.Refused() != nil
		for _, p := range f.Pieces {
			// This is on the way of every keystroke, and to compare bytes is far
			// quicker than to look at blocks.
			if c.Plan && !bytes.Contains(p.Bytes(), []byte("stock")) {
				continue
			}
			for _, n := range schema.NodesIn(p) {
				if t, ok := schema.TypeNamed(n.Type); !ok || !t.Part {
					c.Plan = true
				}
				if n.Type == "plan" {
					c.Stock = append(c.Stock, stockOf(n)...)
				}
				parts++
			}
		}
	}
	c.Plan = c.Plan || parts == 0
	return c
}

func stockOf(n *schema.Node) []string {
	var out []string
	if a, ok := n.Assign("stock"); ok {
		for _, x := range a.Val.Listed() {
			if x.Kind == schema.TextVal {
				out = append(out, x.Text)
			}
		}
	}
	return out
}

// Same reports whether two directories hold the same, as far as Contents goes.
func (c Contents) Same(o Contents) bool { return c.Plan == o.Plan && slices.Equal(c.Stock, o.Stock) }

// Follow lists the directories whose parts a directory may use: those that it
// names as stock, those that they name, and so on.
func Follow(dir string, named func(dir string) []string) []string {
	var out []string
	var follow func(base string)
	follow = func(base string) {
		for _, written := range named(base) {
			d, ok := schema.StockDir(base, written)
			if ok && d != dir && !slices.Contains(out, d) {
				out = append(out, d)
				follow(d)
			}
		}
	}
	follow(dir)
	return out
}

// For lists the plans that a directory stands for: its own, or those that use
// its parts. Parts that nobody uses are judged by themselves, and told that
// they have no plan block.
func For(dir string, look func(dir string) Contents, users func(dir string) []string) []string {
	if !look(dir).Plan {
		if us := users(dir); len(us) > 0 {
			return us
		}
	}
	return []string{dir}
}

// Among lists the plans that some directories with plan files stand for
// together: the plans among them; only where there are none, those that use
// what there is.
func Among(dirs []string, look func(dir string) Contents, users func(dir string) []string) []string {
	var out []string
	for _, d := range dirs {
		if look(d).Plan {
			out = append(out, d)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, d := range dirs {
		out = append(out, For(d, look, users)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
