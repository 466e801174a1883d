package drawing

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// place gives elements their heights: the tallest column is stacked, and in the
// others each stands where its wires run straight, as far as its neighbours let it.
func (d *diagram) place() {
	if len(d.columns) == 0 {
		return
	}
	base := 0
	for i, col := range d.columns {
		if tall(col) >= tall(d.columns[base]) {
			base = i
		}
	}
	y := 0
	for i, e := range d.columns[base] {
		if i > 0 {
			y += gap(d.columns[base][i-1], e)
		}
		e.y = y
		y += e.h
	}
	done := make([]bool, len(d.columns))
	done[base] = true
	for dist := 1; dist < len(d.columns); dist++ {
		for _, k := range []int{base - dist, base + dist} {
			if k >= 0 && k < len(d.columns) {
				d.align(k, done)
				done[k] = true
			}
		}
	}
}

// align stands the elements of a column where the median of their wires to
// columns that are done runs straight, in their order and apart (by pooling neighbours that would overlap).
func (d *diagram) align(k int, done []bool) {
	col := d.columns[k]
	wants := make(map[*element][]int, len(col))
	for _, w := range d.wires {
		for i := 1; i < len(w.pins); i++ {
			a, b := w.pins[i-1], w.pins[i]
			if a.e.column == k && done[b.e.column] {
				wants[a.e] = append(wants[a.e], b.y()-a.off)
			}
			if b.e.column == k && done[a.e.column] {
				wants[b.e] = append(wants[b.e], a.y()-b.off)
			}
		}
	}
	// blocks of elements that touch, each with the mean of what its elements want of its top
	type pool struct {
		first, n  int
		sum       float64
		top, size int
	}
	var pools []pool
	at := 0.0
	for i, e := range col {
		want := at
		if v := wants[e]; len(v) > 0 {
			slices.Sort(v)
			want = float64(v[(len(v)-1)/2])
		}
		at = want + float64(e.h) + 4
		p := pool{first: i, n: 1, sum: want, size: e.h}
		p.top = int(math.Round(want))
		for len(pools) > 0 {
			q := &pools[len(pools)-1]
			between := gap(col[p.first-1], col[p.first])
			if q.top+q.size+between <= p.top {
				break
			}
			shift := float64(q.size + between)
			p = pool{first: q.first, n: q.n + p.n, sum: q.sum + p.sum - shift*float64(p.n), size: q.size + between + p.size}
			p.top = even(p.sum / float64(p.n))
			pools = pools[:len(pools)-1]
		}
		pools = append(pools, p)
	}
	for _, p := range pools {
		y := p.top
		for i := p.first; i < p.first+p.n; i++ {
			if i > p.first {
				y += gap(col[i-1], col[i])
			}
			col[i].y = y
			y += col[i].h
		}
	}
}

func even(x float64) int { return 2 * int(math.Round(x/2)) }

// order sorts the ports of elements that let them, so that their wires do not cross: those that turn up to
// another element of the column first, the nearest on top; then those that go away, by height; then those that turn
// down, the nearest last.
func (d *diagram) order() {
	type heading struct {
		turn int // -1 up, 1 down
		y    int
	}
	headings := map[*port]heading{}
	for _, w := range d.wires {
		n := len(w.pins) - 1
		for _, k := range [2][2]int{{0, 1}, {n, n - 1}} {
			here, there := w.pins[k[0]], w.pins[k[1]]
			to := heading{0, there.y()}
			if here.e.column == there.e.column {
				to = heading{cmp.Compare(there.e.y, here.e.y), -there.y()}
			}
			headings[here.port] = to
		}
	}
	for _, col := range d.columns {
		for _, e := range col {
			if e.fixed {
				continue
			}
			for s := range e.ports {
				slices.SortStableFunc(e.ports[s], func(a, b *port) int {
					return cmp.Or(cmp.Compare(headings[a].turn, headings[b].turn), cmp.Compare(headings[a].y, headings[b].y))
				})
			}
			e.arrange()
		}
	}
}

// hop is the way of a wire through one channel.
type hop struct {
	a, b   *pin
	left   [2]bool // a and b lie on the channel's left side
	ya, yb int
	track  int
}

func (h *hop) span() (lo, hi int) { return min(h.ya, h.yb), max(h.ya, h.yb) }

func (h *hop) straight() bool { return h.ya == h.yb && h.left[0] != h.left[1] }

// channel is what runs between two columns.
type channel struct {
	hops   []*hop
	tracks int
}

// crossings counts the places where two hops cross if a's vertical part lies to the left of b's.
func crossings(a, b *hop) int {
	n := 0
	within := func(y int, h *hop) {
		if lo, hi := h.span(); y > lo && y < hi {
			n++
		}
	}
	if !a.left[0] {
		within(a.ya, b)
	}
	if !a.left[1] {
		within(a.yb, b)
	}
	if b.left[0] {
		within(b.ya, a)
	}
	if b.left[1] {
		within(b.yb, a)
	}
	return n
}

// clash reports that two hops would lie on each other if a lay to the left of b: the
// part of a to its right and that of b to its left are at one height.
func clash(a, b *hop) bool {
	on := func(y int, right bool, h *hop) bool {
		return right && (h.left[0] && h.ya == y || h.left[1] && h.yb == y)
	}
	return on(a.ya, !a.left[0], b) || on(a.yb, !a.left[1], b)
}

// impossible stands for a clash among crossings.
const impossible = 1 << 20

// route finds the tracks of all channels; it gives the number of crossings.
func (d *diagram) route() int {
	for i := range d.channels {
		d.channels[i].hops = d.channels[i].hops[:0]
	}
	for _, w := range d.wires {
		for i := 1; i < len(w.pins); i++ {
			h := &hop{a: w.pins[i-1], b: w.pins[i]}
			h.ya, h.yb = h.a.y(), h.b.y()
			k := d.channelOf(w, i)
			h.left = [2]bool{h.a.e.column < k, h.b.e.column < k}
			d.channels[k].hops = append(d.channels[k].hops, h)
		}
	}
	n := 0
	for i := range d.channels {
		n += d.channels[i].order()
	}
	return n
}

// channelOf is the channel between pins i-1 and i of a wire.
func (d *diagram) channelOf(w *wire, i int) int {
	a, b := w.pins[i-1], w.pins[i]
	switch {
	case a.port != nil:
		return a.e.column + a.port.side
	case b.port != nil:
		return b.e.column + b.port.side
	}
	return max(a.e.column, b.e.column)
}

// order sorts the hops from left to right so that no change of one's place
// lessens the crossings, which it counts.
func (c *channel) order() int {
	h := c.hops
	n := len(h)
	if n == 0 {
		return 0
	}
	// U turns on the left side lie to the left, the wider ones further in.
	sort.SliceStable(h, func(i, j int) bool { return side3(h[i]) < side3(h[j]) })
	cost := make([]int32, n*n)
	for i := range h {
		for j := range h {
			if i != j {
				x := crossings(h[i], h[j])
				if clash(h[i], h[j]) {
					x += impossible
				}
				cost[i*n+j] = int32(x)
			}
		}
	}
	at := make([]int, n)
	for i := range at {
		at[i] = i
	}
	for better := true; better; {
		better = false
		for i := range at {
			best, where, now := int32(0), i, int32(0)
			x := at[i]
			for j := i - 1; j >= 0; j-- { // to the left past j
				now += cost[x*n+at[j]] - cost[at[j]*n+x]
				if now < best {
					best, where = now, j
				}
			}
			now = 0
			for j := i + 1; j < n; j++ {
				now += cost[at[j]*n+x] - cost[x*n+at[j]]
				if now < best {
					best, where = now, j
				}
			}
			if where != i {
				at = slices.Insert(slices.Delete(at, i, i+1), where, x)
				better = true
			}
		}
	}
	total := 0
	sorted := make([]*hop, n)
	for i, x := range at {
		sorted[i] = h[x]
		for _, y := range at[i+1:] {
			total += int(cost[x*n+y])
		}
	}
	copy(h, sorted)
	return total
}

func side3(h *hop) int {
	switch {
	case h.left[0] && h.left[1]:
		return 0
	case h.left[0] || h.left[1]:
		return 1
	}
	return 2
}

// compact gives the hops of a channel tracks, each as far left as what lies before it lets it.
func (c *channel) compact() {
	c.tracks = 0
	for i, h := range c.hops {
		h.track = 0
		if h.straight() {
			continue
		}
		lo, hi := h.span()
		for _, o := range c.hops[:i] {
			if a, b := o.span(); !o.straight() && a <= hi+1 && b >= lo-1 {
				h.track = max(h.track, o.track+1)
			}
		}
		c.tracks = max(c.tracks, h.track+1)
	}
}

// mostTried is up to how many blocks all orders are tried.
const mostTried = 8

// arrange finds the orders of the elements in their columns with the fewest
// crossings: of all for few blocks, else such that no swap of two gives fewer.
func (d *diagram) arrange() {
	best := d.count()
	blocks, orders := 0, 1
	for _, col := range d.columns {
		for i, e := range col {
			if e.block != nil {
				blocks++
			}
			orders = min(orders*(i+1), 1<<20)
		}
	}
	if blocks <= mostTried && orders <= 50_000 {
		d.tryAll(0, &best)
	} else {
		d.swapAll(&best)
	}
	d.apart()
}

// count lays the diagram out in the orders that it has.
func (d *diagram) count() int {
	d.place()
	d.order()
	d.place()
	return d.route()
}

// tryAll goes through all orders of the columns from k on and leaves the best.
func (d *diagram) tryAll(k int, best *int) {
	keep := d.orders()
	var visit func(k int)
	var permute func(k, i int)
	permute = func(k, i int) {
		if *best == 0 {
			return
		}
		col := d.columns[k]
		if i >= len(col)-1 {
			visit(k + 1)
			return
		}
		for j := i; j < len(col); j++ {
			col[i], col[j] = col[j], col[i]
			permute(k, i+1)
			col[i], col[j] = col[j], col[i]
		}
	}
	visit = func(k int) {
		if k < len(d.columns) {
			permute(k, 0)
			return
		}
		if n := d.count(); n < *best {
			*best, keep = n, d.orders()
		}
	}
	if *best > 0 {
		visit(k)
	}
	d.columns = keep
	d.count()
}

// orders copies the orders of the columns.
func (d *diagram) orders() [][]*element {
	out := make([][]*element, len(d.columns))
	for i, col := range d.columns {
		out[i] = slices.Clone(col)
	}
	return out
}

// swapAll swaps two elements of a column while that lessens the crossings.
func (d *diagram) swapAll(best *int) {
	for better := true; better && *best > 0; {
		better = false
		for _, col := range d.columns {
			for i := range col {
				for j := i + 1; j < len(col); j++ {
					col[i], col[j] = col[j], col[i]
					if n := d.count(); n < *best {
						*best, better = n, true
					} else {
						col[i], col[j] = col[j], col[i]
					}
				}
			}
		}
	}
	d.count()
}

// apart moves every second column by half a row where wires of both sides would lie on
// each other in a circle: then no two have one height.
func (d *diagram) apart() {
	if d.route() >= impossible {
		for k := 1; k < len(d.columns); k += 2 {
			for _, e := range d.columns[k] {
				e.y = even(float64(e.y)) + 1
			}
		}
		for k := 0; k < len(d.columns); k += 2 {
			for _, e := range d.columns[k] {
				e.y = even(float64(e.y))
			}
		}
		d.route()
	}
	for i := range d.channels {
		d.channels[i].compact()
	}
}
