package schema

import (
	"strings"

	"ohmstead/calc/quantity"
)

// Feed is several leads alike: from one place to each, or on from each to the next.
type Feed struct {
	Header
	From     Value[*Point]     `attr:"from"`
	To       Value[[]Block]    `attr:"to"`
	Through  Value[[]Block]    `attr:"through"`
	Ends     Value[string]     `attr:"ends"`
	Wire     Value[*Wire]      `attr:"wire"`
	Length   Value[[]Quantity] `attr:"length"`
	Fuse     Value[Quantity]   `attr:"fuse"`
	Holder   Value[*Holder]    `attr:"holder"`
	Carries  Value[string]     `attr:"carries"`
	Parallel Value[int]        `attr:"parallel"`
	Within   Value[*Lead]      `attr:"within"`
	Branches []*Branch         `block:"branch"`
}

// Branch is what one lead of a feed has that the others have not.
type Branch struct {
	Header
	To       Value[Block]    `attr:"to"`
	Wire     Value[*Wire]    `attr:"wire"`
	Length   Value[Quantity] `attr:"length"`
	Fuse     Value[Quantity] `attr:"fuse"`
	Holder   Value[*Holder]  `attr:"holder"`
	Carries  Value[string]   `attr:"carries"`
	Parallel Value[int]      `attr:"parallel"`
	Within   Value[*Lead]    `attr:"within"`
}

// fedWhole are the types of what a feed may name without a place on it.
var fedWhole = []string{"run", "chain"}

var feedType = &BlockType{
	Name: "feed", Label: "name", Unlike: true,
	Doc: "Feeds several places from one: stands for a lead to each, all alike, or for one that goes on from place to place.",
	Detail: "The lead to run.b.start is called lead.NAME-b, that to run.b.end lead.NAME-b-end, that to run.b[90] lead.NAME-b-90, that to joint.b lead.NAME-b: " +
		"a place put in between gives no other lead another name. A lead without length is as long as its places lie apart. " +
		"With through it is a trunk: a lead to the first place, from there to the next and so on, and the fuse is in the first.",
	Example: `feed "panel" {
  from = supply.brick.out
  to   = [run.left, run.right.end, joint.hub]
  wire = wire.feed
  fuse = "3 A"
}`,
	Attrs: append([]Attr{
		{Name: "from", Kind: Place, Places: powerPlaces, Required: true, Doc: "Where all of them come from: the supply's side.", Example: "supply.brick.out"},
		{Name: "to", Kind: Places, Places: powerPlaces, Types: fedWhole, OneOf: "way", Doc: "Where they go to; of a run, or of each run of a chain, the ends that ends says.", Example: "[run.left, joint.hub]"},
		{Name: "through", Kind: Places, Places: powerPlaces, OneOf: "way", Doc: "The places that it passes one after the other, as a trunk does: a lead from each to the next.", Detail: "Only the first has the fuse, which is in the way of all of them.", Example: "[joint.tee-1, joint.tee-2, joint.tee-3]"},
		{Name: "ends", Kind: Choice, Default: `"start"`, Choices: []Option{{"start", "the start"}, {"end", "the end"}, {"both", "the start and the end, a lead each"}}, Doc: "Where it feeds a run that is named without a place on it.", Example: `"both"`},
		{Name: "length", Kind: MeasureEach, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Length of each, one way; in a list, of the lead to each place.", Example: `"1.2 m"`},
	}, ofLeads()...),
	Blocks: []*BlockType{branchType},
	form:   func() former { return new(Feed) },
	makes:  makeFeed,
}

var branchType = &BlockType{
	Name: "branch",
	Doc:  "Says what the lead to one place has that the others have not.",
	Example: `branch {
  to   = joint.hub
  fuse = "1 A"
}`,
	Attrs: append([]Attr{
		{Name: "to", Kind: Place, Places: powerPlaces, Types: fedWhole, Required: true, Doc: "Where it goes to, as the feed says it.", Example: "joint.hub"},
		*leadType.must("length"),
	}, ofLeads()...),
	form: func() former { return new(Branch) },
}

// ofLeads are the attributes that a feed has for all of its leads.
func ofLeads() (out []Attr) {
	for _, name := range leadsShare {
		a := *leadType.must(name)
		a.Required, a.Default = false, ""
		out = append(out, a)
	}
	return out
}

var leadsShare = []string{"wire", "fuse", "holder", "carries", "parallel", "within"}

// makeFeed makes a lead to each place, or from each to the next.
func makeFeed(m *making) {
	i, from, on := 0, m.say("from"), false
	to := func(v *Val, within string) {
		var has []*Assign
		branch := m.alone("branch", addressed(v), blockOf(v), within)
		for _, name := range leadsShare {
			a := m.has(branch, name)
			if on && (name == "fuse" || name == "holder") && a == m.say(name) {
				continue // it is in the first
			}
			has = append(has, a)
		}
		m.add("lead", m.node.Label()+"-"+suffixOf(v), v.At, append(has, from, says("to", v), m.each(branch, "length", i))...)
		i++
	}
	for _, v := range m.items("through") {
		if v.Kind != RefVal || len(v.Steps) < 2 || v.Steps[1].Name == "" {
			continue // as below
		}
		to(refVal(v), "")
		from, on = says("from", refVal(v)), true
	}
	for _, v := range m.items("to") {
		if v.Kind != RefVal || len(v.Steps) < 2 || v.Steps[1].Name == "" {
			continue // the feed's own to says why not
		}
		switch whole := len(v.Steps) == 2; {
		case whole && v.Steps[0].Name == chainType.Name:
			for _, run := range m.runsOf(v) {
				m.ends(run, func(end *Val) { to(end, addressed(v)) })
			}
		case whole && v.Steps[0].Name == runType.Name:
			m.ends(v, func(end *Val) { to(end, "") })
		default:
			to(refVal(v), "")
		}
	}
}

// ends are those of a run that a feed goes to.
func (m *making) ends(run *Val, each func(*Val)) {
	says := "start"
	if a := m.say("ends"); a != nil {
		if v := m.own.follow(a.Val); v != nil {
			says = v.Text
		}
	}
	for _, end := range []string{"start", "end"} {
		if says == end || says == "both" {
			each(refVal(run, end))
		}
	}
}

// runsOf are the runs of a chain, with the place where it is named.
func (m *making) runsOf(v *Val) (out []*Val) {
	b := m.scope.named[chainType.Name+"."+v.Steps[1].Name]
	if b == nil {
		return nil
	}
	other := *m
	other.node = b.header().Node
	for _, c := range other.chained() {
		run := &Val{Kind: RefVal, At: v.At}
		for _, s := range c.run.Steps {
			run.Steps = append(run.Steps, RefStep{Name: s.Name, At: v.At})
		}
		out = append(out, run)
	}
	return out
}

// suffixOf is what a place adds to the name of the feed that goes there.
func suffixOf(v *Val) string {
	var out []string
	for i, s := range v.Steps[1:] {
		word := s.Name
		switch {
		case s.Index != nil && s.Index.Kind == RefVal:
			word = s.Index.Steps[len(s.Index.Steps)-1].Name
		case s.Index != nil:
			word = strings.NewReplacer(" ", "", ".", "_", "'", "ft", `"`, "in").Replace(s.Index.Text)
		case i > 0 && (word == "start" || word == "out" || word == "power"):
			continue
		}
		out = append(out, word)
	}
	return strings.Join(out, "-")
}

func (f *Feed) check(r *resolver, _ *effective) {
	places := &f.To
	if f.Through.Set {
		places = &f.Through
	}
	if !places.Set {
		f.Broken = true
		if !f.torn() {
			r.report(RuleAttrMissing, f.Head(), "%s needs the attribute to, where a lead each goes to, or through, the places that it passes; write to = %s", describe(&f.Header), feedType.must("to").Example)
		}
		return
	}
	if !places.Known() {
		return
	}
	if len(places.V) == 0 {
		f.Broken = true
		r.report(RuleValueKind, places.At, "%s goes nowhere; name at least one place, such as to = [run.NAME.start]", describe(&f.Header))
	}
	if f.Through.Set && f.Ends.Set {
		r.report(RuleAttrClash, f.Ends.At, "ends says where runs are fed that to names, and through names places; remove ends")
	}
	made := r.nodesOf(&f.Header, nil)
	r.oneEach(&f.Header, f.Length, len(made), "a lead to each of its places, and these are")
	names, ids := map[string]bool{}, []string{}
	for _, n := range made {
		to, _ := n.Assign("to")
		ids = append(ids, addressed(to.Val))
		names[addressed(to.Val)], names[blockOf(to.Val)] = true, true
	}
	for _, b := range places.V {
		if b.header().Type == chainType {
			names[b.header().ID()] = true
		}
	}
	for _, b := range f.Branches {
		if a, _ := b.Node.Assign("to"); b.To.Known() && !names[addressed(a.Val)] {
			f.Broken = true
			r.report(RuleRefKind, b.To.At, "%s does not go to %s; a branch leads to one of its places: %s", describe(&f.Header), addressed(a.Val), few(ids))
		}
	}
}
