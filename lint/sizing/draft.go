// Package sizing works out changes of a plan's sizes: gauges, fuses, feed
// points, ratings, ceilings. A change is a Draft, of which edits of the text
// are made; whether it does what it is for is judged by whoever asks for it.
package sizing

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// Draft is a change of a plan: what blocks that are there say instead, and what
// is new. Copies of a block change together, as they have one text.
type Draft struct {
	plan  *schema.Plan
	sets  []set
	news  []*addition
	parts []string // what else it does, for people

	keep []string               // blocks that stay as they are
	may  func(kind string) bool // which kinds of choices it may make; nil for all
}

// set is a value of an attribute as it will be written. Without a value the
// attribute goes.
type set struct {
	node        *schema.Node
	id          string // for people
	name, value string
}

// addition is a new block, below another one of the plan.
type addition struct {
	kind, name string
	in         string // what its name begins with outside of the assembly that it stands in
	below      *schema.Node
	says       [][2]string // attribute and value, in order
	feeds      string      // of a lead: what it feeds, for people
	measured   bool        // its length is known
	why        string      // what the maker has to know of it, as a comment
}

func (a *addition) id() string { return a.kind + "." + a.in + a.name }

func newDraft(p *schema.Plan) *Draft { return &Draft{plan: p} }

func (d *Draft) clone() *Draft {
	out := &Draft{plan: d.plan, sets: slices.Clone(d.sets), parts: slices.Clone(d.parts), keep: d.keep, may: d.may}
	for _, a := range d.news {
		b := *a
		b.says = slices.Clone(a.says)
		out.news = append(out.news, &b)
	}
	return out
}

// added is the new block that an id of the changed plan belongs to: the block
// itself or one of its copies.
func (d *Draft) added(id string) *addition {
	for _, a := range d.news {
		if a.id() == id {
			return a
		}
		copied := a.in != "" || len(a.says) > 0 && a.says[0][0] == "times"
		if number, ok := strings.CutPrefix(id, a.id()+"-"); ok && copied && strings.Trim(number, "-0123456789") == "" {
			return a
		}
	}
	return nil
}

// set writes an attribute of a block of the changed plan. It fails where no
// text of the plan says the block.
func (d *Draft) set(id, name, value string) bool {
	if a := d.added(id); a != nil {
		a.set(name, value)
		return true
	}
	b, ok := d.plan.Find(id)
	if !ok || schema.HeaderOf(b).Home == schema.InCatalogue || d.stays(b) || !d.allowed(choiceOf[name]) {
		return false
	}
	n := schema.HeaderOf(b).SaidIn(name)
	for i := range d.sets {
		if d.sets[i].node == n && d.sets[i].name == name {
			d.sets[i].value = value
			return true
		}
	}
	d.sets = append(d.sets, set{n, id, name, value})
	return true
}

// said reports whether the draft writes an attribute of a block.
func (d *Draft) said(n *schema.Node, name string) bool {
	return slices.ContainsFunc(d.sets, func(s set) bool { return s.node == n && s.name == name })
}

// choiceOf says which kind of choice writes an attribute.
var choiceOf = map[string]string{"wire": Gauges, "fuse": Fuses, "rating": Supplies, "ways": Joints, "ceiling": Ceilings, "length": Feeds, "from": Feeds, "to": Feeds}

func (d *Draft) allowed(kind string) bool { return d.may == nil || kind == "" || d.may(kind) }

// stays reports whether a block, or the text that it is a copy of, is kept.
func (d *Draft) stays(b schema.Block) bool {
	h := schema.HeaderOf(b)
	return slices.Contains(d.keep, h.ID()) || h.Copy > 0 && slices.Contains(d.keep, strings.TrimSuffix(h.ID(), fmt.Sprintf("-%d", h.Copy)))
}

func (a *addition) set(name, value string) {
	for i := range a.says {
		if a.says[i][0] == name {
			a.says[i][1] = value
			return
		}
	}
	a.says = append(a.says, [2]string{name, value})
}

// add puts a new block below one of the changed plan.
func (d *Draft) add(a *addition, belowID string) bool {
	if a.kind != "wire" && !d.allowed(Feeds) {
		return false
	}
	if o := d.added(belowID); o != nil {
		a.below = o.below
	} else if b, ok := d.plan.Find(belowID); ok && schema.HeaderOf(b).Home != schema.InCatalogue {
		a.below = schema.HeaderOf(b).Node
		if a.in == "" {
			a.below = a.below.Outermost()
		}
	} else {
		return false
	}
	d.news = append(d.news, a)
	return true
}

// free is a name that no block of a type has, neither in the plan nor in the
// draft: the wish, else with a letter behind it, as numbers are those of copies.
func (d *Draft) free(kind, wish string) string {
	name := wish
	for n := 1; ; n++ {
		if !d.plan.Taken(kind, name) && d.added(kind+"."+name) == nil {
			return name
		}
		name = wish + "-" + strings.Repeat("z", n/26) + string(rune('a'+n%26))
	}
}

// Empty reports whether the draft changes nothing.
func (d *Draft) Empty() bool { return len(d.sets) == 0 && len(d.news) == 0 }

// Edits are the edits of the plan's text that make the change.
func (d *Draft) Edits() []schema.Edit {
	var out []schema.Edit
	var insert []*schema.Node // that get attributes which they do not have yet
	lines := map[*schema.Node][]string{}
	for _, s := range d.sets {
		a, ok := s.node.Assign(s.name)
		switch {
		case ok && s.value == "":
			out = append(out, schema.Edit{At: schema.WholeLines(a.Whole)})
		case ok:
			out = append(out, schema.Edit{At: a.Val.At, New: s.value})
		case s.value != "":
			if lines[s.node] == nil {
				insert = append(insert, s.node)
			}
			lines[s.node] = append(lines[s.node], s.name+" = "+s.value)
		}
	}
	for _, n := range insert {
		e := schema.InsertBlock(n, strings.Join(lines[n], "\n"))
		if e.At == n.Inside { // a block on one line is written anew, with what else changes in it
			out, e = inside(out, n, e)
		}
		out = append(out, e)
	}
	for _, a := range d.written() {
		e := schema.InsertBehind(a.below, a.text())
		if i := slices.IndexFunc(out, func(o schema.Edit) bool { return o.At == e.At }); i >= 0 {
			out[i].New += e.New
		} else {
			out = append(out, e)
		}
	}
	return out
}

// inside takes edits within the inside of a block over into the one that
// writes all of it.
func inside(edits []schema.Edit, n *schema.Node, whole schema.Edit) (rest []schema.Edit, e schema.Edit) {
	old := string(n.Piece().Bytes()[n.Inside.Start:n.Inside.End])
	now := old
	within := slices.DeleteFunc(slices.Clone(edits), func(e schema.Edit) bool {
		return e.At.Piece != n.Piece() || e.At.Start < n.Inside.Start || e.At.End > n.Inside.End
	})
	slices.SortFunc(within, func(a, b schema.Edit) int { return b.At.Start - a.At.Start })
	for _, e := range within {
		now = now[:e.At.Start-n.Inside.Start] + e.New + now[e.At.End-n.Inside.Start:]
	}
	rest = slices.DeleteFunc(edits, func(e schema.Edit) bool { return slices.Contains(within, e) })
	whole.New = strings.Replace(whole.New, strings.TrimSpace(old), strings.TrimSpace(now), 1)
	return rest, whole
}

func (a *addition) text() string {
	var b strings.Builder
	if a.why != "" {
		fmt.Fprintf(&b, "# %s\n", a.why)
	}
	fmt.Fprintf(&b, "%s %q {\n", a.kind, a.name)
	for _, s := range a.says {
		if s[1] != "" {
			fmt.Fprintf(&b, "  %s = %s\n", s[0], s[1])
		}
	}
	b.WriteString("}")
	return b.String()
}

// says is what an attribute of a new block is, "" for nothing.
func (a *addition) value(name string) string {
	for _, s := range a.says {
		if s[0] == name {
			return s[1]
		}
	}
	return ""
}

// written lists the new blocks that are used: a wire that a lead had on the way to
// a thicker one is not.
func (d *Draft) written() []*addition {
	used := func(id string) bool {
		return slices.ContainsFunc(d.sets, func(s set) bool { return s.value == id }) ||
			slices.ContainsFunc(d.news, func(a *addition) bool { return a.value("wire") == id })
	}
	return slices.DeleteFunc(slices.Clone(d.news), func(a *addition) bool { return a.kind == "wire" && !used(a.id()) })
}

// Measured reports whether the change holds as it is written: no length in it is
// an estimate.
func (d *Draft) Measured() bool {
	return !slices.ContainsFunc(d.news, func(a *addition) bool { return a.kind == "lead" && !a.measured })
}

// Title says the change as a verb phrase.
func (d *Draft) Title() string {
	parts := slices.Clone(d.parts)
	leads := map[string][]string{} // what is done to leads, by what it is
	var order []string
	for _, id := range d.changed() {
		b, _ := d.plan.Find(id)
		say := func(name string) string {
			for _, s := range d.sets {
				if s.id == id && s.name == name {
					return s.value
				}
			}
			return ""
		}
		named := func(attr string) string { return d.plan.Shared(schema.HeaderOf(b), attr) }
		switch b.(type) {
		case *schema.Lead:
			wire, fuse, from := d.gauge(say("wire")), strings.Trim(say("fuse"), `"`), say("from")
			what, attr := "", "wire"
			switch {
			case wire != "" && fuse != "":
				what = "use " + wire + " wire with a " + fuse + " fuse for %s"
			case wire != "":
				what = "use " + wire + " wire for %s"
			case fuse != "":
				what, attr = "fit a "+fuse+" fuse in %s", "fuse"
			}
			if strings.HasPrefix(from, "supply.") {
				move := "lead %s from " + from
				if what != "" {
					move += " and " + strings.ReplaceAll(what, " for %s", " for it")
					move = strings.ReplaceAll(move, " in %s", " in it")
				}
				what, attr = move, "from"
			}
			if what == "" {
				continue // it only goes to another piece of a run that is split
			}
			if leads[what] == nil {
				order = append(order, what)
			}
			leads[what] = append(leads[what], named(attr))
		case *schema.Supply:
			parts = append(parts, "use a supply of "+strings.Trim(say("rating"), `"`)+" for "+named("rating"))
		case *schema.Joint:
			switch {
			case say("like") != "":
				parts = append(parts, "use "+say("like")+" for "+named("like"))
			case say("rating") != "" && say("ways") != "":
				parts = append(parts, fmt.Sprintf("use a joint of %s and %s ways for %s", strings.Trim(say("rating"), `"`), say("ways"), named("ways")))
			case say("ways") != "":
				parts = append(parts, "use a joint of "+say("ways")+" ways for "+named("ways"))
			default:
				parts = append(parts, "use a joint of "+strings.Trim(say("rating"), `"`)+" for "+named("rating"))
			}
		case *schema.Controller:
			parts = append(parts, "set the ceiling of "+named("ceiling")+" to "+strings.Trim(say("ceiling"), `"`))
		}
	}
	for _, what := range order {
		parts = append(parts, fmt.Sprintf(what, quantity.And(leads[what])))
	}
	feeds := map[string][]string{}
	var fed []string
	for _, a := range d.news {
		switch a.kind {
		case "supply":
			parts = append(parts, "add "+a.id()+" like "+strings.TrimPrefix(a.value("like"), "supply."))
		case "lead":
			if a.feeds == "" {
				continue
			}
			at := a.feeds
			if m := strings.Trim(a.value("length"), `"`); m != "" {
				at += " (" + m + ")"
			}
			with := strings.Trim(a.value("fuse"), `"`)
			if w := d.gauge(a.value("wire")); w != "" {
				with = strings.TrimSuffix(w+" and "+with, " and ")
			}
			if feeds[with] == nil {
				fed = append(fed, with)
			}
			feeds[with] = append(feeds[with], at)
		}
	}
	for _, with := range fed {
		what := "feed " + quantity.And(feeds[with])
		if with != "" {
			what += " with " + with
		}
		parts = append(parts, what)
	}
	if len(parts) == 0 {
		return ""
	}
	text := quantity.And(parts)
	return strings.ToUpper(text[:1]) + text[1:]
}

// changed lists the blocks that say something else, in order.
func (d *Draft) changed() []string {
	var out []string
	for _, s := range d.sets {
		if !slices.Contains(out, s.id) {
			out = append(out, s.id)
		}
	}
	return out
}

// gauge is the size of a wire that the draft or the plan has.
func (d *Draft) gauge(ref string) string {
	if a := d.added(ref); a != nil {
		return strings.Trim(a.value("gauge"), `"`)
	}
	if b, ok := d.plan.Find(ref); ok {
		if w, ok := b.(*schema.Wire); ok {
			return w.Gauge.V.String()
		}
	}
	return ""
}
