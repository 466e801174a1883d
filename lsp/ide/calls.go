package ide

import (
	"slices"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Part is a thing in the flow of power and data: a supply, joint, controller,
// port or run.
type Part struct {
	ID     string // run.arch
	Detail string // 216 pixels, 3.6 m
	Kind   SymbolKind
	Name   Location
	Whole  Location
}

// Flow is a part that another one feeds or is fed by, and the leads and
// signals that do so: the places of their from or to.
type Flow struct {
	Part
	Through []Location
}

// mostParts bounds how many copies of a block are listed at once.
const mostParts = 50

// PartAt finds the part at an offset: a block's own, or the one that a
// reference leads to; both ends where it stands on a lead or signal.
func PartAt(v *View, offset int) []Part {
	t, ok := v.thingAt(offset)
	if _, part := v.part(t); !ok || !part && t.none() {
		h, inside := v.hit(offset)
		if !inside || len(h.nodes) == 0 {
			return nil
		}
		if t, ok = v.declared(h.nodes); !ok || t.port == nil && t.block == nil {
			if t, ok = v.declared(h.nodes[:1]); !ok {
				return nil
			}
		}
	}
	var out []Part
	add := func(t thing) {
		if p, ok := v.part(t); ok && len(out) < mostParts && !slices.ContainsFunc(out, func(o Part) bool { return o.ID == p.ID }) {
			out = append(out, p)
		}
	}
	blocks := []schema.Block{t.block}
	if t.block != nil && schema.HeaderOf(t.block).Copy > 0 && !t.one {
		blocks = v.copies(t.node)
	}
	var take func(b schema.Block)
	take = func(b schema.Block) {
		ends := func(from, to schema.Value[*schema.Point]) {
			add(pointThing(from))
			add(pointThing(to))
		}
		switch b := b.(type) {
		case nil:
			add(t)
		case *schema.Lead:
			ends(b.From, b.To)
		case *schema.Signal:
			ends(b.From, b.To)
		case *schema.Chain, *schema.Feed: // all that lies along it
			for _, x := range v.Plan.Blocks {
				if schema.HeaderOf(x).MadeBy() == t.node {
					take(x)
				}
			}
		case *schema.Assembly:
			for _, x := range v.members(b) {
				add(thing{node: schema.HeaderOf(x).Node, block: x, one: true})
			}
		default:
			add(thing{node: t.node, block: b, one: true})
		}
	}
	for _, b := range blocks {
		take(b)
	}
	return out
}

// pointThing is the part that a place lies on.
func pointThing(val schema.Value[*schema.Point]) thing {
	if !val.Known() {
		return thing{}
	}
	if pt := val.V; pt.Port != nil {
		if p := portNamed(pt.Controller, pt.Port.Name); p != nil {
			return thing{node: p.Node, port: p}
		}
		return thing{}
	}
	b := val.V.Block()
	return thing{node: schema.HeaderOf(b).Node, block: b, one: true}
}

// part describes a thing in the flow; false for anything else.
func (v *View) part(t thing) (Part, bool) {
	if t.node == nil {
		return Part{}, false
	}
	p := Part{ID: t.id(), Kind: symbolKinds[t.node.Type]}
	switch t.block.(type) {
	case nil:
		if t.port == nil {
			return Part{}, false
		}
		p.Detail = v.portBrief(t.port)
	case *schema.Supply, *schema.Joint, *schema.Controller, *schema.Run:
		p.Detail = v.brief(t.block, schema.Full)
	default:
		return Part{}, false
	}
	var ok1, ok2 bool
	p.Name, ok1 = v.Locate(t.name())
	p.Whole, ok2 = v.Locate(t.whole())
	return p, ok1 && ok2
}

// portBrief says how many pixels hang on a port, and how fast they are.
func (v *View) portBrief(port *schema.Port) string {
	if v.Figures == nil {
		return ""
	}
	for _, p := range v.Figures.Ports {
		if p.Port.Node == port.Node && p.Controller == port.Controller && len(p.Runs) > 0 {
			return portLine(p)
		}
	}
	return ""
}

// link is one lead or signal, or the way from a controller to its port.
type link struct {
	id         string
	from, to   thing
	out, in    source.Span // where it says from and to
	fromID, ID string
}

// links lists everything that carries power or data.
func (v *View) links() []link {
	var out []link
	add := func(h *schema.Header, from, to schema.Value[*schema.Point]) {
		l := link{id: h.ID(), from: pointThing(from), to: pointThing(to), out: from.At, in: to.At}
		if !l.from.none() && !l.to.none() {
			l.fromID, l.ID = l.from.id(), l.to.id()
			out = append(out, l)
		}
	}
	for _, l := range v.Plan.Leads {
		add(&l.Header, l.From, l.To)
	}
	for _, s := range v.Plan.Signals {
		add(&s.Header, s.From, s.To)
	}
	for _, c := range v.Plan.Controllers {
		for _, p := range c.Ports {
			l := link{from: thing{node: c.Node, block: c}, to: thing{node: p.Node, port: p}, out: p.Node.Head, in: p.Node.Head}
			l.fromID, l.ID = l.from.id(), l.to.id()
			out = append(out, l)
		}
	}
	return out
}

// FedBy lists what feeds a part, along leads and signals against their direction.
func FedBy(v *View, id string) []Flow {
	return v.flows(func(l link) (thing, source.Span, bool) { return l.from, l.in, l.ID == id })
}

// FeedText says what feeds a part, lead by lead back to the supplies.
func FeedText(v *View, id string) string {
	lines := []string{}
	seen := map[string]bool{}
	var back func(id, indent string)
	back = func(id, indent string) {
		if seen[id] {
			return // a ring
		}
		seen[id] = true
		for _, f := range FedBy(v, id) {
			if strings.HasPrefix(f.ID, "controller.") || f.Kind == symbolKinds["port"] && strings.Contains(f.ID, ".port.") {
				continue // data
			}
			if len(lines) == mostParts {
				return
			}
			lines = append(lines, indent+f.ID+": "+f.Detail)
			back(f.ID, indent+"  ")
		}
	}
	back(id, "  ")
	if len(lines) == 0 {
		return "nothing feeds " + id
	}
	return id + " is fed by\n" + strings.Join(lines, "\n")
}

// Feeds lists what a part feeds, along leads and signals.
func Feeds(v *View, id string) []Flow {
	return v.flows(func(l link) (thing, source.Span, bool) { return l.to, l.out, l.fromID == id })
}

func (v *View) flows(pick func(link) (other thing, at source.Span, ok bool)) []Flow {
	var out []Flow
	through := map[string][]string{}
	for _, l := range v.links() {
		other, at, ok := pick(l)
		if !ok {
			continue
		}
		p, ok := v.part(other)
		if !ok {
			continue
		}
		i := slices.IndexFunc(out, func(f Flow) bool { return f.ID == p.ID })
		if i < 0 {
			i = len(out)
			out = append(out, Flow{Part: p})
		}
		if loc, ok := v.Locate(at); ok && !slices.Contains(out[i].Through, loc) {
			out[i].Through = append(out[i].Through, loc)
		}
		if l.id != "" {
			through[p.ID] = append(through[p.ID], l.id)
		}
	}
	for i := range out {
		if ids := through[out[i].ID]; len(ids) > 0 {
			out[i].Detail = strings.TrimPrefix(out[i].Detail+", through "+listed(ids), ", ")
		}
	}
	return out
}
