package ide

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// outcome is what a choice gives, as far as it is known without working the plan out again.
type outcome struct {
	says  string  // "carries 8 A, loses 0.12 V"
	unfit bool    // it does not do
	order float64 // of two that do, the one with less comes first
}

// figured is the plan as it was last worked out whole, else as it is.
func (p *proposer) figured() *figures.Figures {
	if p.v.Before != nil {
		return p.v.Before
	}
	return p.figures()
}

// leadHere is the lead that the place is in, where the figures know it.
func (p *proposer) leadHere() (*figures.Figures, *figures.Lead) {
	n, f := p.outer(), p.figured()
	if n == nil || n.Type != "lead" || f == nil {
		return nil, nil
	}
	for _, l := range f.Leads {
		if l.OK && l.Node.Type == "lead" && l.Node.Label() == n.Label() {
			f.Need(l.Lead)
			return f, l
		}
	}
	return nil, nil
}

// runHere is the run that the place is in, where the figures know it.
func (p *proposer) runHere() (*figures.Figures, *figures.Run) {
	n, f := p.outer(), p.figured()
	if n == nil || n.Type != "run" || f == nil {
		return nil, nil
	}
	for _, r := range f.Runs {
		if r.OK && r.Node.Type == "run" && r.Node.Label() == n.Label() {
			return f, r
		}
	}
	return nil, nil
}

// gives says what it gives to name a block in the attribute that the place is in.
func (p *proposer) gives(b schema.Block) (out outcome, ok bool) {
	switch b := b.(type) {
	case *schema.Wire:
		f, l := p.leadHere()
		if l == nil || p.assigned() != "wire" || !b.Gauge.Known() {
			return out, false
		}
		g := wire.Of(b.Gauge.V)
		amps, err := f.Ampacity(b)
		if err != nil {
			return out, false
		}
		amps *= l.Shared * float64(l.Parallel.V)
		return wireGives(f, l, g, amps), true
	case *schema.Strip:
		if p.assigned() != "strip" {
			return out, false
		}
		f, r := p.runHere()
		law := b.Law()
		if r == nil || law == nil || !b.Density.Known() || !b.Group.Known() {
			return out, false
		}
		pixels := math.Floor(r.Length * b.Density.V.SI / float64(b.Group.V))
		out.order = law.Full() * pixels
		out.says = fmt.Sprintf("%.0f pixels, %s at most", pixels, amps(out.order))
		for _, o := range f.Connectivity().Plus(r.Run) {
			if o.Supply.Output.Known() && !suits(b, o.Supply) {
				out.says, out.unfit = "not for the "+volts(o.Supply.Volts())+" of "+o.Supply.ID(), true
			}
		}
		if d := r.Diffuser.V; d != nil && b.Width.Known() && d.InnerWidth.Known() && b.Width.V.SI > d.InnerWidth.V.SI {
			out.says, out.unfit = "too wide for "+d.ID(), true
		}
		return out, true
	case *schema.Supply:
		f, l := p.leadHere()
		if l == nil || !slices.Contains([]string{"from", "to"}, p.assigned()) || !b.Rating.Known() {
			return out, false
		}
		for i, s := range f.Plan.Supplies {
			if s.ID() != b.ID() {
				continue
			}
			f.Need(s)
			here := f.WorstLead(l)
			if !here.OK {
				return out, false
			}
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if pt.Run != nil && pt.Run.Strip.V != nil && b.Output.Known() && !suits(pt.Run.Strip.V, b) {
					return outcome{says: "its " + volts(b.Volts()) + " are not for " + pt.Run.ID(), unfit: true}, true
				}
			}
			free := b.Rating.V.SI * float64(max(b.Outputs.V, 1))
			if load := f.WorstSupply(i); load.OK { // else nothing hangs on it
				free -= load.Value
			}
			if l.From.V.Supply == s || l.To.V.Supply == s {
				free += here.Value
			}
			out = outcome{says: fmt.Sprintf("%s free of %s", amps(math.Max(0, free)), b.Rating.V), unfit: free < here.Value, order: -free}
			if out.unfit {
				out.says = "too little for " + amps(here.Value) + ": " + out.says
			}
			return out, true
		}
	}
	return out, false
}

// suits reports whether a strip takes the voltage of a supply, as far as both are known.
func suits(strip *schema.Strip, s *schema.Supply) bool {
	most, known := figures.MostVolts(strip)
	got := s.Volts()
	return !(known && got > most || strip.MinVoltage.Known() && got < strip.MinVoltage.V.SI)
}

// wireGives says what a wire that carries so much gives a lead.
func wireGives(f *figures.Figures, l *figures.Lead, g wire.Gauge, carries float64) outcome {
	out := outcome{says: "carries " + amps(carries), order: g.Area()}
	if w := f.WorstLead(l); w.OK {
		if drop := f.LeadDrop(l, w.Value); !math.IsNaN(drop) {
			out.says += ", loses " + volts(drop*l.Gauge.Area()/g.Area())
		}
		if carries < w.Value {
			out.unfit = true
			out.says = "too thin for " + amps(w.Value) + ": " + out.says
		}
	}
	if !out.unfit && l.Fused() && !l.Device.Protects(l.Fuse.V.SI, carries) {
		out.unfit = true
		out.says = "too thin for a fuse of " + l.Fuse.V.String() + ": " + out.says
	}
	return out
}

// weighed sorts blocks that may be named by what they give: those that do before those that do not.
func (p *proposer) weighed(list []candidate) []candidate {
	type one struct {
		candidate
		outcome
		known bool
	}
	var all []one
	for _, c := range list {
		x := one{candidate: c}
		if c.block != nil {
			x.outcome, x.known = p.gives(c.block)
		}
		if x.known {
			x.note = strings.TrimPrefix(x.note+", "+x.says, ", ")
			if x.worse = x.unfit; x.unfit {
				x.rank = 6
			}
		}
		all = append(all, x)
	}
	slices.SortStableFunc(all, func(a, b one) int {
		if !a.known || !b.known {
			return 0
		}
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.order, b.order))
	})
	out := list[:0:0]
	for _, x := range all {
		out = append(out, x.candidate)
	}
	return out
}

// lengths lists lengths of the lead at the place with what it loses in them: that of the way between its ends first.
func (p *proposer) lengths() []schema.Option {
	f, l := p.leadHere()
	if l == nil || p.assigned() != "length" {
		return nil
	}
	w := f.WorstLead(l)
	lost := f.LeadDrop(l, w.Value)
	if !w.OK || math.IsNaN(lost) || l.Length <= 0 {
		return nil
	}
	var out []schema.Option
	add := func(m float64, why string) {
		o := schema.Option{Value: p.v.Plan.Habit().Show(quantity.Length, m), Doc: "loses " + volts(lost*m/l.Length) + why}
		if !slices.ContainsFunc(out, func(x schema.Option) bool { return x.Value == o.Value }) {
			out = append(out, o)
		}
	}
	if apart, ok := f.Apart(l.From, l.To); ok {
		add(math.Ceil(apart*(1+f.Plan.Limits().Slack)*20)/20, ", by the places of its ends")
	}
	for _, m := range []float64{0.5, 1, 2, 5} {
		add(m, "")
	}
	return out
}

// consequential are the attributes whose values resolve to what they bring, by block.
var consequential = map[string][]string{"lead": {"wire", "fuse", "from", "to", "length"}, "run": {"strip"}, "wire": {"gauge"}}

// would is what Resolve needs to know to try an item.
func (p *proposer) would(it Item) string {
	n := p.outer()
	if n == nil || !slices.Contains(consequential[n.Type], p.assigned()) {
		return ""
	}
	text := it.Text
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "()") || strings.Contains(text, `" `) {
		return ""
	}
	return fmt.Sprintf("|%d|%d|%s", it.Start, it.End, text)
}

func isWord(c byte) bool {
	return c == '-' || c == '_' || '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z'
}

// brings works the plan out with an item taken, and says what that brings: the far pixel's voltage of the run, or of the
// runs that the lead or wire feeds, and the lead's current and loss.
func (v *View) brings(would string) string {
	part := strings.SplitN(would, "|", 3)
	if len(part) != 3 || v.Figures == nil {
		return ""
	}
	start, err1 := strconv.Atoi(part[0])
	end, err2 := strconv.Atoi(part[1])
	s, ok := v.spot(start)
	if err1 != nil || err2 != nil || !ok || end < start || end-s.base > len(s.piece.Bytes()) {
		return ""
	}
	for src := s.piece.Bytes(); end-s.base < len(src) && isWord(src[end-s.base]); { // what stands behind the cursor is typed over
		end++
	}
	changed, err := v.Plan.With([]schema.Edit{{At: source.Span{Piece: s.piece, Start: start - s.base, End: end - s.base}, New: part[2]}})
	if err != nil {
		return ""
	}
	f, err := v.Figures.Try(context.Background(), changed)
	h, in := v.hit(start)
	if err != nil || !in || len(h.nodes) == 0 {
		return ""
	}
	typeName, label := h.nodes[0].Type, h.nodes[0].Label()
	var out []string
	fed := map[*schema.Run]bool{}
	for _, l := range f.Leads {
		is := l.Node.Type == typeName && l.Node.Label() == label
		if !is && !(typeName == "wire" && l.Wire.V != nil && l.Wire.V.Node.Label() == label) || !l.OK {
			continue
		}
		if w := f.WorstLead(l); w.OK && is && len(out) == 0 {
			out = append(out, fmt.Sprintf("carries %s of %s", amps(w.Value), amps(l.Ampacity)))
			if drop := f.LeadDrop(l, w.Value); !math.IsNaN(drop) {
				out = append(out, "loses "+volts(drop))
			}
		}
		for _, r := range f.Runs {
			for _, path := range f.Feeds(r) {
				fed[r.Run] = fed[r.Run] || slices.Contains(path, l)
			}
		}
	}
	least, at := math.Inf(1), ""
	for _, r := range f.Runs {
		if !fed[r.Run] && !(typeName == "run" && r.Node.Label() == label) {
			continue
		}
		if w := f.WorstVolts(r, 0); w.OK && w.Value < least {
			least, at = w.Value, r.ID()
		}
	}
	if at != "" {
		out = append(out, fmt.Sprintf("far pixel %s (%s)", volts(least), at))
	}
	if len(out) == 0 {
		return ""
	}
	return "With it: " + prose(strings.Join(out, ", ")) + "."
}
