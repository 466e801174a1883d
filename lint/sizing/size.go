package sizing

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// The kinds of choices that Size may make.
const (
	Gauges   = "gauges"
	Fuses    = "fuses"
	Feeds    = "feeds"
	Supplies = "supplies"
	Joints   = "joints"
	Ceilings = "ceilings"
)

// Kinds lists them. A ceiling takes light away, so it is lowered only on demand.
var Kinds = []string{Gauges, Fuses, Feeds, Supplies, Joints, Ceilings}

// Options say what a search may do.
type Options struct {
	Keep      []string // blocks that stay as they are
	Only      []string // kinds of choices; none for all but ceilings
	LeastWork bool     // as few changed blocks as can be, and of those the cheapest
	Judged    int      // how many plans may be judged
	Tell      func(judged int, best Price)
}

func (o Options) may(kind string) bool {
	if len(o.Only) == 0 {
		return kind != Ceilings
	}
	return slices.Contains(o.Only, kind)
}

// Untried lists the kinds of choices that a search leaves alone.
func (o Options) Untried() []string {
	return slices.DeleteFunc(slices.Clone(Kinds), o.may)
}

// Sized is the outcome of a search.
type Sized struct {
	*Draft // nil where no change passes
	Before *figures.Figures
	After  *figures.Figures
	Was    Price
	Is     Price
	Bound  float64 // no plan over the choices that passes costs less
	Exact  bool    // the change is the cheapest over the choices
	Ended  bool    // by the context, before the search was done
	Judged int
	Finite []string   // the choices, for people
	Left   []Obstacle // what stood in the way, where no change passes
}

// Size looks for the cheapest change of sizes with which nothing stands in the
// way of a plan. What is found first by repair is then lowered; last, the finite
// set of choices is searched in the order of their cost, as far as opt.Judged
// goes: what that search has not yet looked at costs at least Bound. When ctx ends
// the best found so far is given.
func Size(ctx context.Context, f *figures.Figures, opt Options, judge Judge) (Sized, error) {
	z := &sizer{ctx: ctx, f: f, opt: opt, judge: judge, priced: pricesOf(f)}
	out := Sized{Before: f, Was: z.priced.of(f, 0), Bound: math.Inf(-1)}
	err := z.run(&out)
	if ctx.Err() != nil && z.best != nil {
		out.Ended, err = true, nil
	}
	if z.best != nil {
		out.Draft, out.After, out.Is = z.best.Draft, z.best.Figures, z.bestPrice
	}
	out.Judged, out.Left = z.judged, z.left
	return out, err
}

type sizer struct {
	ctx    context.Context
	f      *figures.Figures
	opt    Options
	judge  Judge
	priced prices
	judged int

	best      *Mended
	bestPrice Price
	left      []Obstacle
}

// ask judges a draft.
func (z *sizer) ask(d *Draft) (*figures.Figures, []Obstacle, error) {
	if err := z.ctx.Err(); err != nil {
		return nil, nil, err
	}
	z.judged++
	fig, in, err := z.judge(z.ctx, d.Edits())
	if err == nil && fig != nil {
		faults := fig.Faults()
		for _, l := range fig.Leads {
			if d.wantsFuse(fig, faults, l) {
				in = append(in, Obstacle{Subject: l.ID(), Hazard: figures.Fault})
			}
		}
	}
	if err == nil && fig != nil && len(in) == 0 {
		z.offer(d, fig)
	}
	if z.opt.Tell != nil {
		z.opt.Tell(z.judged, z.bestPrice)
	}
	return fig, in, err
}

// offer keeps a change that passes if it is the best so far.
func (z *sizer) offer(d *Draft, fig *figures.Figures) bool {
	price := z.priced.of(fig, d.work())
	price.Dims = dim(Light(z.f, fig))
	if z.best != nil && !z.better(price, z.bestPrice) {
		return false
	}
	z.best, z.bestPrice = &Mended{d.clone(), fig}, price
	return true
}

// better reports whether one price is to be preferred to another: whatever keeps the light is, then what weighs less.
func (z *sizer) better(p, than Price) bool {
	if p.Dims != than.Dims {
		return than.Dims
	}
	return z.weight(p) < z.weight(than)*(1-1e-9)-1e-9
}

// weight is what is made least.
func (z *sizer) weight(p Price) float64 {
	if z.opt.LeastWork {
		return 1e6*float64(p.Work) + p.Sum
	}
	return p.Sum + 1e-6*float64(p.Work)
}

// work counts the blocks that a draft changes or adds.
func (d *Draft) work() int { return len(d.changed()) + len(d.written()) }

func (z *sizer) run(out *Sized) error {
	start := newDraft(z.f.Plan)
	start.keep = z.opt.Keep
	start.may = z.opt.may
	fig, in, err := z.ask(start)
	if err != nil {
		return err
	}
	if fig == nil {
		return fmt.Errorf("the plan cannot be worked out as it stands")
	}
	for _, first := range []way{nil, split, fed, dimmed} {
		if err := z.repair(start, in, first); err != nil {
			return err
		}
	}
	if z.best != nil {
		z.left = nil
		if err := z.lower(); err != nil {
			return err
		}
	}
	return z.search(out)
}

// repair goes on from a draft until nothing is in its way, or nothing moves.
func (z *sizer) repair(from *Draft, in []Obstacle, first way) error {
	s := newState(from.clone(), z.f)
	for range 3 * mostSteps {
		if len(in) == 0 {
			return nil
		}
		s.done = map[any]bool{}
		moved := false
		for _, o := range in {
			kind, _, _ := strings.Cut(o.Subject, ".")
			if first != nil && kind == "run" && first(s, o) {
				moved = true
				continue
			}
			moved = repaired(s, o) || moved
		}
		if !moved {
			break
		}
		fig, left, err := z.ask(s.Draft)
		if err != nil {
			return err
		}
		if fig == nil {
			break
		}
		s.fig, in = fig, left
	}
	if z.best == nil && len(in) > 0 && (len(z.left) == 0 || len(in) < len(z.left)) {
		z.left = in
	}
	return nil
}

// lower takes back what the best change does not need, and makes its leads thinner
// one at a time, the dearest first, as long as it passes.
func (z *sizer) lower() error {
	for again := true; again; {
		again = false
		was := z.bestPrice
		for i := len(z.best.news) - 1; i >= 0; i-- { // a feed less
			if i >= len(z.best.news) || z.best.news[i].kind != "lead" || z.best.news[i].feeds == "" {
				continue
			}
			d := z.best.Draft.clone()
			d.news = slices.Delete(d.news, i, i+1)
			if _, _, err := z.ask(d); err != nil {
				return err
			}
		}
		leads := slices.Clone(z.best.Figures.Leads)
		slices.SortStableFunc(leads, func(a, b *figures.Lead) int {
			return -cmp.Compare(a.Gauge.Area()*a.Length, b.Gauge.Area()*b.Length)
		})
		seen := map[*schema.Node]bool{}
		for _, l := range leads {
			if !l.OK || seen[l.Node] || !z.opt.may(Gauges) {
				continue
			}
			seen[l.Node] = true
			l, ok := z.best.Figures.LeadNamed(l.ID())
			if !ok {
				continue
			}
			for _, x := range z.thinner(l) {
				d := z.best.Draft.clone()
				before := z.bestPrice
				if !d.apply(l, x) {
					continue
				}
				if _, _, err := z.ask(d); err != nil {
					return err
				}
				if z.bestPrice != before {
					break
				}
			}
		}
		again = z.better(z.bestPrice, was)
	}
	return nil
}

// thinner lists the sizes below that of a lead that carry its load, the thinnest
// first, each with the smallest fuse that does where it has one.
func (z *sizer) thinner(l *figures.Lead) []size {
	load := LoadOf(z.best.Figures, l)
	var out []size
	for _, x := range gauges(z.best.Figures, l, true)[1:] {
		if x.gauge.Area() >= l.Gauge.Area() || x.ampacity < load*(1-1e-9) {
			continue
		}
		if l.Fused() {
			window := l.Device.Window(load, x.ampacity)
			if len(window) == 0 {
				continue
			}
			x.fuse = window[0]
		}
		out = append(out, x)
	}
	return out
}
