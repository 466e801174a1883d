package schema

import (
	"fmt"
	"strconv"
	"strings"
)

// copyName says which copy a name means in a block that is a copy itself:
// tread-each is the one with the same number, tread-next the one after.
func copyName(name string, of *Header) string {
	if of == nil || of.Copy == 0 {
		return name
	}
	if base, ok := strings.CutSuffix(name, "-each"); ok {
		return fmt.Sprintf("%s-%d", base, of.Copy)
	}
	if base, ok := strings.CutSuffix(name, "-next"); ok {
		return fmt.Sprintf("%s-%d", base, of.Copy+1)
	}
	return name
}

// beyond reports whether a name is that of a copy that times does not make.
func beyond(name, typeName string, sc *scope) (base string, n int, ok bool) {
	i := strings.LastIndexByte(name, '-')
	if i < 0 {
		return "", 0, false
	}
	if _, err := strconv.Atoi(name[i+1:]); err != nil {
		return "", 0, false
	}
	base = name[:i]
	n, ok = sc.copied[typeName+"."+base]
	return base, n, ok
}

// spread replaces run.tread-all in a list by all copies in their order.
func (c *conversion) spread(items []*Val) []*Val {
	if len(c.sc.copied) == 0 {
		return items
	}
	var out []*Val
	for _, v := range items {
		if v.Kind == CallVal && v.Func.Text == "in_turn" {
			out = append(out, c.inTurn(v)...)
			continue
		}
		ref, base, n := c.copiesIn(v)
		if n == 0 {
			out = append(out, v)
			continue
		}
		for i := range n {
			one := &Val{Kind: RefVal, At: ref.At, Steps: append([]RefStep{}, ref.Steps...)}
			one.Steps[1].Name = fmt.Sprintf("%s-%d", base, i+1)
			if ref == v {
				out = append(out, one)
				continue
			}
			out = append(out, &Val{Kind: CallVal, At: v.At, Func: v.Func, Items: []*Val{one}})
		}
	}
	return out
}

// spreads is how many items spread makes of some.
func (c *conversion) spreads(items []*Val) int {
	out := 0
	for _, v := range items {
		if v.Kind == CallVal && v.Func.Text == "in_turn" && len(c.sc.copied) > 0 {
			out += c.spreads(v.Items)
			continue
		}
		_, _, n := c.copiesIn(v)
		out += max(n, 1)
	}
	return out
}

// copiesIn finds the reference to all copies of a block that an item is, or
// turns round, and how many they are: 0 where it is none.
func (c *conversion) copiesIn(v *Val) (ref *Val, base string, n int) {
	ref = v
	if v.Kind == CallVal && len(v.Items) == 1 {
		ref = v.Items[0]
	}
	if ref.Kind != RefVal || len(ref.Steps) < 2 {
		return ref, "", 0
	}
	base, all := strings.CutSuffix(ref.Steps[1].Name, "-all")
	if !all {
		return ref, "", 0
	}
	return ref, base, c.sc.copied[ref.Steps[0].Name+"."+base]
}

// inTurn takes one from each argument's copies in turn.
func (c *conversion) inTurn(v *Val) []*Val {
	var lists [][]*Val
	longest := 0
	for _, x := range v.Items {
		l := c.spread([]*Val{x})
		lists = append(lists, l)
		longest = max(longest, len(l))
	}
	var out []*Val
	for i := range longest {
		for _, l := range lists {
			if i < len(l) {
				out = append(out, l[i])
			}
		}
	}
	return out
}
