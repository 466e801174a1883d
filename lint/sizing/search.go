package sizing

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/supply"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// The search is best first: of all partial choices that with the least bound goes
// on, so that the first whole one that passes is the cheapest. The bound of a
// partial choice is what its leads cost and the least that each of the others
// may. What is left out is left out for proven reasons only:
//
//   - A lead that is the only way to what lies behind it carries at least what some
//     pattern draws there, in every plan of the same topology: its wire and its fuse
//     must carry that.
//   - A lead without a fuse that begins at a supply must stand all that this drives into a
//     fault.
//   - Where the leads make a tree, and the pixels have their full current at the least
//     voltage that their strip needs, the currents of all plans that pass are the same,
//     and thicker wire raises every voltage. So a choice of some leads is out if with
//     the thickest wire in all others a run is still too low.
//
// Nothing else is monotone: a fuse may be too small or too large, a joint takes some
// sizes, and on rings a thicker wire draws current to itself. Those plans are judged.

// topology is the plan with the same feeds: as they are, or with some runs fed at one
// more place.
type topology struct {
	draft   *Draft
	fig     *figures.Figures
	leads   []*figures.Lead
	options [][]option
	sum     []float64 // least cost of the leads from one on
	rest    float64   // cost of all else
	tree    bool
}

// option is one choice of a lead and what it costs.
type option struct {
	size
	cost float64
}

// node is a partial choice: the options of the first leads, and the least that
// any plan that begins like it costs.
type node struct {
	of    *topology
	picks []int
	bound float64
	order int
}

type queue []node

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := &q[i], &q[j]
	return cmp.Or(cmp.Compare(a.bound, b.bound), cmp.Compare(len(b.picks), len(a.picks)), cmp.Compare(a.order, b.order)) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(node)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// mostRuns bounds for how many runs feeding them at their other end too is searched,
// each with and without; mostOpen how many partial choices are kept.
const (
	mostRuns = 3
	mostOpen = 500_000
)

// search goes through the finite set of choices, the cheapest first.
func (z *sizer) search(out *Sized) error {
	topologies, all, err := z.topologies()
	if err != nil {
		return err
	}
	if len(topologies) == 0 {
		return nil
	}
	q := &queue{}
	order := 0
	for _, t := range topologies {
		heap.Push(q, node{of: t, bound: t.rest + t.sum[0], order: order})
		order++
	}
	out.Finite = topologies[0].optionLines()
	if !all {
		out.Bound = z.least(topologies[0])
		return nil
	}
	for q.Len() > 0 {
		out.Bound = (*q)[0].bound
		if z.best != nil && !z.bestPrice.Dims && z.bestPrice.Sum <= out.Bound*(1+1e-9)+1e-9 {
			break
		}
		if z.judged >= z.opt.Judged || q.Len() > mostOpen {
			return nil
		}
		top := heap.Pop(q).(node)
		t, k := top.of, len(top.picks)
		if k > 0 && t.tree && k < len(t.leads) {
			low, err := z.low(t, top.picks)
			if err != nil {
				return err
			}
			if low {
				continue
			}
		}
		if k == len(t.leads) {
			if err := z.whole(t, top.picks); err != nil {
				return err
			}
			continue
		}
		cost := top.bound - t.sum[k]
		for i, x := range t.options[k] {
			order++
			heap.Push(q, node{t, append(slices.Clone(top.picks), i), cost + x.cost + t.sum[k+1], order})
		}
	}
	out.Exact = true
	if z.best != nil {
		out.Bound = z.bestPrice.Sum
	}
	return nil
}

// topologies lists the plan as it is fed and with each of its runs fed at one more
// place; all is false where there are too many of them.
func (z *sizer) topologies() (out []*topology, all bool, err error) {
	var runs []*figures.Run
	if z.opt.may(Feeds) {
		for _, r := range z.f.Runs {
			if _, ok := nextTap(z.f, r); ok && !slices.ContainsFunc(runs, func(o *figures.Run) bool { return o.Node == r.Node }) {
				runs = append(runs, r)
			}
		}
	}
	all = len(runs) <= mostRuns
	masks := 1
	if all {
		masks = 1 << len(runs)
	}
	for mask := range masks {
		s := newState(newDraft(z.f.Plan), z.f)
		s.keep, s.may = z.opt.Keep, z.opt.may
		for i, r := range runs {
			if mask&(1<<i) != 0 {
				fed(s, Obstacle{Subject: r.ID()})
			}
		}
		fig, _, err := z.ask(s.Draft)
		if err != nil {
			return nil, false, err
		}
		if fig != nil {
			out = append(out, z.topology(s.Draft, fig, all || !z.opt.may(Feeds)))
		}
	}
	return out, all, nil
}

// topology lists the choices of a plan with its feeds.
func (z *sizer) topology(d *Draft, fig *figures.Figures, fixed bool) *topology {
	t := &topology{draft: d, fig: fig, tree: fixed}
	t.rest = z.priced.of(fig, 0).Sum
	for _, l := range fig.Leads {
		t.tree = t.tree && l.OK && onlyWay(fig, l)
		if !l.OK || slices.ContainsFunc(t.leads, func(o *figures.Lead) bool { return o.Node == l.Node }) {
			continue
		}
		t.rest -= z.priced.lead(fig, l, size{gauge: l.Gauge, wire: l.Wire.V, fuse: fuseOf(l)})
		t.leads = append(t.leads, l)
	}
	t.tree = t.tree && len(fig.Plan.Supplies) == 1
	for _, r := range fig.Runs {
		t.tree = t.tree && r.OK && ample(r)
	}
	// The leads that lose and cost the most are decided on first.
	slices.SortStableFunc(t.leads, func(a, b *figures.Lead) int {
		return -cmp.Compare(fig.WorstLead(a).Value*a.Length, fig.WorstLead(b).Value*b.Length)
	})
	for _, l := range t.leads {
		t.options = append(t.options, z.choices(t, l, fixed))
	}
	t.sum = make([]float64, len(t.leads)+1)
	for i := len(t.leads) - 1; i >= 0; i-- {
		t.sum[i] = t.sum[i+1] + t.options[i][0].cost
	}
	return t
}

// ample reports whether the pixels of a run draw their full current at the least
// voltage that their strip needs.
func ample(r *figures.Run) bool {
	need := r.Strip.V.MinVoltage
	if !need.Known() || !need.Set || r.Law == nil {
		return false
	}
	full := make([]float64, len(r.Law.Channels))
	for i := range full {
		full[i] = 1
	}
	return r.Law.Current(need.V.SI, full) >= r.Law.Full()*(1-1e-9)
}

// bare is what is driven into a fault of a lead without a fuse of its own, A, where it
// begins at a supply, whatever else the plan has: larger supplies drive more.
func bare(l *figures.Lead) float64 {
	s := l.From.V.Supply
	if s == nil || !l.Plus() || !s.Rating.Known() || !s.Overload.Known() || !s.Limited.Known() || !s.Output.Known() {
		return 0
	}
	amps, err := supply.FaultCurrent(s.Rating.V.SI, s.Overload.V.SI, s.Volts(), s.Limited.V)
	if err != nil || s.Limited.V {
		return 0
	}
	return amps
}

// optionLines says of each lead what it may be.
func (t *topology) optionLines() []string {
	var out []string
	for i, l := range t.leads {
		options := slices.Clone(t.options[i])
		slices.SortStableFunc(options, func(a, b option) int {
			return cmp.Or(cmp.Compare(a.gauge.Area(), b.gauge.Area()), cmp.Compare(a.fuse, b.fuse))
		})
		var names []string
		for at := 0; at < len(options); {
			g := options[at].gauge
			var fuses []string
			for ; at < len(options) && options[at].gauge == g; at++ {
				if options[at].fuse > 0 {
					fuses = append(fuses, amps(options[at].fuse))
				} else {
					fuses = append(fuses, "none")
				}
			}
			names = append(names, g.String()+" ("+strings.Join(fuses, ", ")+")")
		}
		out = append(out, fmt.Sprintf("%s, size and fuse: %s", l.ID(), strings.Join(names, "; ")))
	}
	return out
}

// choices lists what a lead may be: each size that joints at its ends take and that
// carries what it surely has to, without a fuse or with one that carries that and
// protects the wire. They are in the order of cost.
func (z *sizer) choices(t *topology, l *figures.Lead, fixed bool) []option {
	own := size{gauge: l.Gauge, wire: l.Wire.V, ampacity: l.Ampacity, fuse: fuseOf(l)}
	list := []size{own}
	if !t.draft.stays(l.Lead) {
		load, fuse := 0.0, 0.0
		if (fixed || l.From.V.Run == nil && l.To.V.Run == nil) && !z.opt.may(Ceilings) && onlyWay(t.fig, l) {
			for _, o := range together(t.fig, l) {
				if a := t.fig.AnyOf(o); a.OK {
					load, fuse = math.Max(load, a.Amps*(1-2e-6)), math.Max(fuse, a.Plus*(1-2e-6))
				}
			}
		}
		all := []size{own}
		if z.opt.may(Gauges) {
			all = gauges(t.fig, l, true)
		}
		list = nil
		for _, x := range all {
			if x.ampacity < load || x.gauge.Area() > mostArea && x.gauge != l.Gauge || !z.priced.knows(x.wire) {
				continue
			}
			fuses := []float64{own.fuse}
			if l.Plus() && z.opt.may(Fuses) {
				fuses = l.Device.Window(fuse, x.ampacity)
				if own.fuse == 0 {
					fuses = append([]float64{0}, fuses...) // a fuse that is there is never taken out
				}
			}
			for _, a := range fuses {
				if a == 0 && x.ampacity < bare(l)*(1-1e-9) {
					continue
				}
				x.fuse = a
				list = append(list, x)
			}
		}
		if len(list) == 0 {
			list = []size{own} // nothing carries it: it stays, and does not pass
		}
	}
	var out []option
	for _, x := range list {
		out = append(out, option{x, z.priced.lead(t.fig, l, x)})
	}
	slices.SortStableFunc(out, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// draftOf writes a choice of all leads; of those that are not decided on, the thickest
// wire and the largest fuse.
func (t *topology) draftOf(picks []int) (*Draft, bool) {
	d := t.draft.clone()
	for i, l := range t.leads {
		x := t.options[i][0].size
		if i < len(picks) {
			x = t.options[i][picks[i]].size
		} else {
			for _, o := range t.options[i] {
				if o.gauge.Area() > x.gauge.Area()*(1+1e-9) || o.gauge.Area() >= x.gauge.Area()*(1-1e-9) && (o.fuse == 0 || x.fuse > 0 && o.fuse > x.fuse) {
					x = o.size
				}
			}
		}
		if !d.apply(l, x) {
			return nil, false
		}
	}
	return d, true
}

// low reports whether no way to go on brings every run to its voltage.
func (z *sizer) low(t *topology, picks []int) (bool, error) {
	d, ok := t.draftOf(picks)
	if !ok {
		return false, nil
	}
	_, in, err := z.ask(d)
	return slices.ContainsFunc(in, Obstacle.volts), err
}

// whole judges a choice of all leads, with larger supplies and joints where only they
// are missing.
func (z *sizer) whole(t *topology, picks []int) error {
	d, ok := t.draftOf(picks)
	if !ok {
		return nil
	}
	s := newState(d, t.fig)
	for range 3 {
		fig, in, err := z.ask(s.Draft)
		if err != nil || fig == nil || len(in) == 0 {
			return err
		}
		s.fig, s.done = fig, map[any]bool{}
		for _, o := range in {
			kind, _, _ := strings.Cut(o.Subject, ".")
			if kind != "supply" && kind != "joint" || !repaired(s, o) {
				return nil
			}
		}
	}
	return nil
}

// least is what no plan that passes costs less than, whatever its feeds. Leads that do
// not end at a run carry the same however the runs behind them are fed from there. What
// goes into a run that one lead feeds goes through that lead, or through two or more of at
// least its length whose wires carry it together.
func (z *sizer) least(t *topology) float64 {
	sum := t.rest
	for i, l := range t.leads {
		least := t.options[i][0].cost
		if (l.From.V.Run != nil || l.To.V.Run != nil) && !z.opt.may(Ceilings) && !t.draft.stays(l.Lead) && onlyWay(t.fig, l) {
			one, more := math.Inf(1), 0.0
			for _, o := range together(t.fig, l) {
				load := t.fig.AnyOf(o).Amps * (1 - 2e-6)
				each := math.Inf(1) // of an ampere
				for _, x := range t.options[i] {
					each = math.Min(each, z.priced.wire(o, x.gauge, x.wire)/x.ampacity)
				}
				if z.priced.currency == "" {
					more += 2 * partGrams
				}
				more += each * load
			}
			for _, x := range t.options[i] {
				if x.ampacity >= LoadOf(t.fig, l)*(1-2e-6) {
					one = math.Min(one, x.cost)
				}
			}
			least = math.Max(least, math.Min(one, more))
		}
		sum += least
	}
	return sum
}

func fuseOf(l *figures.Lead) float64 {
	if l.Fused() {
		return l.Fuse.V.SI
	}
	return 0
}

// onlyWay reports whether the ends of a lead hang together by nothing else.
func onlyWay(f *figures.Figures, l *figures.Lead) bool {
	from, to := schema.HeaderOf(l.From.V.Block()), schema.HeaderOf(l.To.V.Block())
	seen := map[*schema.Header]bool{from: true}
	next := []schema.Block{l.From.V.Block()}
	for len(next) > 0 {
		b := next[0]
		next = next[1:]
		for _, x := range f.Ends(b) {
			if x.Lead == l.Lead {
				continue
			}
			for _, pt := range []*schema.Point{x.From.V, x.To.V} {
				if h := schema.HeaderOf(pt.Block()); !seen[h] {
					seen[h] = true
					next = append(next, pt.Block())
				}
			}
		}
	}
	return !seen[to]
}
