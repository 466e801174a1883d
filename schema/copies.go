package schema

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// The names of copies. Behind a name stands which of the copies is meant: a
// number, or one of the words below. A copy of a copy has a number for each, the
// outer one first: run.bay-ring-hoop-2-7 is the hoop of the seventh ring of the
// second bay.

// counts is how many copies there are of something, of what is around it first;
// empty for what is in an assembly and made once.
type counts []int

func (n counts) product() int {
	out := 1
	for _, k := range n {
		out *= k
	}
	return out
}

// ordinal is the place of a copy among all, from 0.
func (n counts) ordinal(numbers []int) int {
	at := 0
	for i, k := range n {
		at = at*k + numbers[i] - 1
	}
	return at
}

// numbered is the copy at a place; false where there is none.
func (n counts) numbered(at int) ([]int, bool) {
	if at < 0 || at >= n.product() {
		return nil, false
	}
	out := make([]int, len(n))
	for i := len(n) - 1; i >= 0; i-- {
		out[i] = at%n[i] + 1
		at /= n[i]
	}
	return out, true
}

// copyNamed is the name of a copy.
func copyNamed(base string, numbers []int) string {
	for _, n := range numbers {
		base += "-" + strconv.Itoa(n)
	}
	return base
}

// The words that a pick may be, beside numbers and ranges such as 11-to-20.
const (
	pickEach     = "each"     // the copy with the same number
	pickNext     = "next"     // the one after
	pickPrevious = "previous" // the one before
	pickLast     = "last"
	pickAll      = "all"
	pickOdd      = "odd"
	pickEven     = "even"
)

// Picks are the words that may stand behind the name of what has copies, and
// what they mean.
var Picks = []Option{
	{pickEach, beside[pickEach]},
	{pickNext, beside[pickNext]},
	{pickPrevious, beside[pickPrevious]},
	{pickLast, "the last copy"},
	{pickAll, "all copies"},
	{pickOdd, "the first copy, the third and so on"},
	{pickEven, "the second copy, the fourth and so on"},
}

// pick says which copies are meant: from one number to another, in steps, or the
// copy beside.
type pick struct {
	from, to, step int    // to is 0 for the last one
	beside         string // each, next or previous; else ""
}

func (p pick) many() bool { return p.beside == "" && p.from != p.to }

// numbers are those that a pick means of n; one that there is not stays in.
func (p pick) numbers(n int) []int {
	if p.from == 0 {
		return []int{n}
	}
	to := p.to
	if to == 0 {
		to = n
	}
	var out []int
	for i := p.from; p.step > 0 && i <= to || p.step < 0 && i >= to; i += p.step {
		if len(out) > mostTimes {
			break
		}
		out = append(out, i)
	}
	return out
}

var numberOrRange = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`-([1-9][0-9]{0,6})(?:-to-([1-9][0-9]{0,6}))?$`) })

// lastPick takes the last pick off a name.
func lastPick(name string) (rest string, p pick, ok bool) {
	i := strings.LastIndexByte(name, '-')
	if i <= 0 {
		return name, pick{}, false
	}
	switch word := name[i+1:]; word {
	case pickEach, pickNext, pickPrevious:
		return name[:i], pick{beside: word}, true
	case pickLast:
		return name[:i], pick{}, true
	case pickAll:
		return name[:i], pick{from: 1, step: 1}, true
	case pickOdd:
		return name[:i], pick{from: 1, step: 2}, true
	case pickEven:
		return name[:i], pick{from: 2, step: 2}, true
	}
	m := numberOrRange().FindStringSubmatch(name)
	if m == nil || len(m[0]) == len(name) {
		return name, pick{}, false
	}
	from, _ := strconv.Atoi(m[1])
	p = pick{from: from, to: from, step: 1}
	if m[2] != "" {
		if p.to, _ = strconv.Atoi(m[2]); p.to < from {
			p.step = -1
		}
	}
	return name[:len(name)-len(m[0])], p, true
}

// named is a name taken apart: what has copies, and which of them are meant.
type named struct {
	base  string // with the names of the assemblies around it
	of    counts
	picks []pick // of the last numbers; those before are given
	given []int  // numbers that are given by where the name stands
}

// split finds what has copies and begins a name, within a prefix.
func (sc *scope) split(typeName, prefix, name string) (named, bool) {
	out := named{}
	for rest := name; ; {
		if n, ok := sc.copied[typeName+"."+prefix+rest]; ok {
			slices.Reverse(out.picks)
			out.base, out.of = prefix+rest, n
			return out, true
		}
		less, p, ok := lastPick(rest)
		if !ok {
			return out, false
		}
		out.picks, rest = append(out.picks, p), less
	}
}

// copies finds which copies a name means in a block; false where it is no name
// of a copy. In an assembly it is first a name there.
func (sc *scope) copies(typeName, name string, of *Header) (out named, ok bool) {
	if len(sc.copied) == 0 {
		return out, false
	}
	if of != nil {
		for f := of.frame; f != nil; f = f.outer {
			if out, ok = sc.split(typeName, f.name+"-", name); ok && out.within(f, of) {
				return out, true
			}
		}
	}
	if _, ok := sc.named[typeName+"."+name]; ok && typeName != assemblyType.Name {
		return out, false // a block of that very name
	}
	out, ok = sc.split(typeName, "", name)
	if ok && len(out.picks) == 1 && out.picks[0].beside != "" {
		ok = of != nil && out.beside(of.numbers, out.of)
	}
	return out, ok && len(out.picks) <= len(out.of)
}

// within makes a name that stands in a copy of an assembly complete: false where
// it is none there.
func (x *named) within(f *frame, of *Header) bool {
	inner := len(x.of) - len(f.numbers) // copies of its own
	if inner < 0 {
		return false
	}
	switch {
	case len(x.picks) == 1 && x.picks[0].beside != "" && inner > 0:
		return x.beside(of.numbers, x.of)
	case len(x.picks) == 1 && x.picks[0].beside != "":
		for f.outer != nil && len(f.numbers) == len(f.outer.numbers) {
			f = f.outer // made once; its neighbours are those of what is around it
		}
		numbers, ok := f.neighbour(x.picks[0].beside)
		x.given, x.picks = numbers, nil
		return ok && len(numbers) == len(x.of)
	case len(x.picks) > 0 && inner == 0: // another copy of the same assembly
		around := 0
		if f.outer != nil {
			around = len(f.outer.numbers)
		}
		x.given = f.numbers[:around]
		return len(x.picks) <= len(f.numbers)-around
	}
	x.given = f.numbers
	return len(x.picks) <= inner
}

// beside makes each, next and previous of a block's own numbers.
func (x *named) beside(numbers []int, n counts) bool {
	if len(numbers) < len(n) || len(n) == 0 {
		return false
	}
	mine := slices.Clone(numbers[:len(n)])
	switch x.picks[0].beside {
	case pickNext:
		mine = n.after(mine, 1)
	case pickPrevious:
		mine = n.after(mine, -1)
	}
	x.given, x.picks = mine, nil
	return true
}

// after is the copy so many behind another one; beyond the last one the number
// that it would have, so that a message can say so.
func (n counts) after(numbers []int, by int) []int {
	if out, ok := n.numbered(n.ordinal(numbers) + by); ok {
		return out
	}
	numbers[len(numbers)-1] += by
	return numbers
}

// one is the name of the one copy that is meant; false where there are several.
func (x named) one() (string, bool) {
	numbers := slices.Clone(x.given)
	if len(numbers)+len(x.picks) != len(x.of) {
		return "", false
	}
	for _, p := range x.picks {
		if p.many() || p.beside != "" {
			return "", false
		}
		numbers = append(numbers, p.numbers(x.of[len(numbers)])...)
	}
	return copyNamed(x.base, numbers), true
}

// count is how many copies are meant.
func (x named) count() int {
	out := 1
	for i := len(x.given); i < len(x.of); i++ {
		if k := i - len(x.given); k < len(x.picks) {
			out *= len(x.picks[k].numbers(x.of[i]))
		} else {
			out *= x.of[i]
		}
	}
	return out
}

// all are the numbers of the copies that are meant, in their order.
func (x named) all() [][]int {
	out := [][]int{x.given}
	for i := len(x.given); i < len(x.of); i++ {
		p := pick{from: 1, step: 1}
		if k := i - len(x.given); k < len(x.picks) {
			p = x.picks[k]
		}
		var next [][]int
		for _, head := range out {
			for _, n := range p.numbers(x.of[i]) {
				next = append(next, append(slices.Clone(head), n))
			}
		}
		out = next
	}
	return out
}

// several reports whether a name in a list stands for more than one: it says
// which, or leaves out numbers of copies in copies.
func (x named) several() bool {
	_, one := x.one()
	return !one && len(x.picks) > 0
}

// spread replaces what stands for several copies in a list, as run.tread-all, by
// these in their order, and an assembly by its runs.
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
		ref := turned(v)
		names, ok := c.several(ref)
		if !ok {
			out = append(out, v)
			continue
		}
		if ref != v && v.Func.Text == "from_end" && ref.Steps[0].Name == assemblyType.Name {
			slices.Reverse(names) // all of it from its end, not each run where it stands
		}
		for _, name := range names {
			one := &Val{Kind: RefVal, At: ref.At, Steps: slices.Clone(ref.Steps)}
			one.Steps[0].Name, one.Steps[1].Name = name.typeName, name.name
			if ref != v {
				one = &Val{Kind: CallVal, At: v.At, Func: v.Func, Items: []*Val{one}}
			}
			out = append(out, one)
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
		out += max(c.copiesIn(turned(v)), 1)
	}
	return out
}

// turned is the reference that an item is, or turns round.
func turned(v *Val) *Val {
	if v.Kind == CallVal && len(v.Items) == 1 {
		return v.Items[0]
	}
	return v
}

// member names a block that a list spreads to.
type member struct{ typeName, name string }

// several lists what a reference to several copies stands for; false where it is none.
func (c *conversion) several(ref *Val) (out []member, ok bool) {
	if f, ok := c.allOf(ref); ok {
		for _, m := range c.sc.runsOf(nil, f.name, nil) {
			out = append(out, member{m.typeName, strings.TrimPrefix(m.name, f.name+"-")})
		}
		return out, len(out) > 0
	}
	x, ok := c.apart(ref)
	if !ok {
		return nil, false
	}
	if ref.Steps[0].Name != assemblyType.Name {
		for _, numbers := range x.all() {
			out = append(out, member{ref.Steps[0].Name, copyNamed(x.base, numbers)})
		}
		return out, true
	}
	for _, numbers := range x.all() {
		out = c.sc.runsOf(out, x.base, numbers)
	}
	return out, len(out) > 0
}

// allOf is the copy of an assembly that run.all in it stands for all runs of.
func (c *conversion) allOf(ref *Val) (*frame, bool) {
	if ref.Kind != RefVal || len(ref.Steps) != 2 || ref.Steps[0].Name != runType.Name || ref.Steps[1].Name != pickAll || c.of == nil || c.of.frame == nil {
		return nil, false
	}
	f := c.of.frame
	return f, !c.sc.assemblies[f.name].holds(runType.Name, pickAll)
}

// apart takes a reference to several copies apart; of an assembly also one to a single copy.
func (c *conversion) apart(ref *Val) (named, bool) {
	if ref.Kind != RefVal || len(ref.Steps) < 2 || ref.Steps[1].Index != nil || len(c.sc.copied) == 0 {
		return named{}, false
	}
	x, ok := c.sc.copies(ref.Steps[0].Name, ref.Steps[1].Name, c.of)
	if ref.Steps[0].Name == assemblyType.Name {
		return x, ok && len(ref.Steps) == 2
	}
	return x, ok && x.several()
}

// copiesIn is how many blocks a reference to several copies stands for; 0 where it is none.
func (c *conversion) copiesIn(ref *Val) int {
	if f, ok := c.allOf(ref); ok {
		return int(min(c.sc.assemblies[f.name].runs, mostItems+1))
	}
	x, ok := c.apart(ref)
	if !ok {
		return 0
	}
	if ref.Steps[0].Name == assemblyType.Name {
		return int(min(float64(x.count())*c.sc.assemblies[x.base].runs, mostItems+1))
	}
	return x.count()
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

// instead says what to write for a copy that there is none of, for a message.
func (x named) instead() string {
	first, _ := x.of.numbered(0)
	last, _ := x.of.numbered(x.of.product() - 1)
	say := fmt.Sprintf("write one of %s to %s", copyNamed(x.base, first), copyNamed(x.base, last))
	if len(x.of) > 0 && x.of.product() == 1 {
		say = fmt.Sprintf("%s is the only one: write that", copyNamed(x.base, first))
	}
	if len(x.of) == 1 && len(x.picks) == 1 && x.picks[0].to > x.of[0] && x.picks[0].to <= mostTimes {
		say += fmt.Sprintf(", or make times %d", x.picks[0].to)
	}
	return say
}
