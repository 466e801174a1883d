package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Wiring shows every conductor of a plan with what it joins: supplies to the
// left, then joints, runs and controllers; power comes to a run from the left
// and data from the right. Where that does not fit a sheet it is split, by
// supply and run; each conductor is on one sheet.
func Wiring(f *figures.Figures, fr Frame) []*Scene {
	var out []*Scene
	sheets := fit(f, units(f), fr)
	for i, d := range sheets {
		name, title := "wiring", say("wiring", "name", planName(f))
		if len(sheets) > 1 {
			name += fmt.Sprintf("-%d", i+1)
			title += ", " + say("sheet", "n", strconv.Itoa(i+1), "of", strconv.Itoa(len(sheets)))
		}
		out = append(out, d.scene(name, title))
	}
	return out
}

func planName(f *figures.Figures) string {
	if f.Plan.Head == nil {
		return ""
	}
	return f.Plan.Head.Name
}

// cable is a lead or a signal.
type cable struct {
	id    string
	name  string
	ends  [2]*schema.Point
	cores []string  // "plus" and "minus", or those of a signal
	says  [3]string // its name, size and length, the last of them left out or two
	fuse  string    // its rating, of a lead that has one
}

// unit is what stands together on a sheet: a run with all that goes to it.
type unit []*cable

// units lists them in the order of supplies and runs. A cable between two blocks that are
// no runs goes with the first run that one of them has to do with.
func units(f *figures.Figures) []unit {
	type group struct {
		cables unit
		supply int
	}
	groups := make([]group, len(f.Runs)+1)
	index := map[*schema.Run]int{}
	joined := f.Connectivity()
	place := map[*schema.Supply]int{}
	for i, s := range f.Plan.Supplies {
		place[s] = i
	}
	for i, r := range f.Runs {
		index[r.Run] = i
		groups[i].supply = len(f.Plan.Supplies)
		for _, o := range joined.Plus(r) {
			groups[i].supply = min(groups[i].supply, place[o.Supply])
		}
	}
	groups[len(f.Runs)].supply = -1
	first := map[schema.Block]int{} // the first group in which a block occurs
	add := func(c *cable, i int) {
		groups[i].cables = append(groups[i].cables, c)
		for _, pt := range c.ends {
			if _, ok := first[pt.Block()]; !ok {
				first[pt.Block()] = i
			}
		}
	}
	var rest []*cable
	for _, c := range cables(f) {
		to, from := c.ends[1].Run, c.ends[0].Run
		switch {
		case to != nil:
			add(c, index[to])
		case from != nil:
			add(c, index[from])
		default:
			rest = append(rest, c)
		}
	}
	for len(rest) > 0 { // those that have an end in a group, until none has
		var left []*cable
		for _, c := range rest {
			i, ok := first[c.ends[1].Block()]
			if !ok {
				i, ok = first[c.ends[0].Block()]
			}
			if !ok {
				left = append(left, c)
				continue
			}
			add(c, i)
		}
		if len(left) == len(rest) {
			for _, c := range left {
				add(c, len(f.Runs))
			}
			break
		}
		rest = left
	}
	slices.SortStableFunc(groups, func(a, b group) int { return a.supply - b.supply })
	var out []unit
	for _, g := range groups {
		if len(g.cables) > 0 {
			out = append(out, g.cables)
		}
	}
	return out
}

// cables lists the leads and signals whose ends are known.
func cables(f *figures.Figures) []*cable {
	var out []*cable
	says := func(name string, w schema.Value[*schema.Wire], length float64) [3]string {
		name = brief(name)
		short := name
		if w.Known() && w.V != nil && w.V.Gauge.Known() {
			name += ", " + w.V.Gauge.V.String()
		}
		long := name
		if length > 0 {
			long += ", " + f.Habit.Show(quantity.Length, length)
		}
		return [3]string{long, name, short}
	}
	for _, l := range f.Leads {
		if !l.From.Known() || !l.To.Known() || l.From.V == nil || l.To.V == nil {
			continue
		}
		c := &cable{id: l.ID(), name: l.Name, ends: [2]*schema.Point{l.From.V, l.To.V}, says: says(l.Name, l.Wire, l.Length)}
		if l.Plus() {
			c.cores = append(c.cores, "plus")
		}
		if l.Minus() {
			c.cores = append(c.cores, "minus")
		}
		if l.Fused() {
			c.fuse = l.Fuse.V.String()
		}
		out = append(out, c)
	}
	for _, s := range f.Plan.Signals {
		if !s.From.Known() || !s.To.Known() || s.From.V == nil || s.To.V == nil {
			continue
		}
		length, _, _ := f.SignalLength(s)
		out = append(out, &cable{id: s.ID(), name: s.Name, ends: [2]*schema.Point{s.From.V, s.To.V}, cores: figures.Cores(s), says: says(s.Name, s.Wire, length)})
	}
	return out
}

// fit lays units out on as few sheets of about equal content as hold them. A unit alone
// may be taller than a sheet.
func fit(f *figures.Figures, all []unit, fr Frame) []*diagram {
	n := 1
	if len(all) > 0 {
		n = max(1, min(len(all), int(newDiagram(f, all, fr).height()/fr.Height)))
	}
	for ; ; n++ {
		if out := sheets(f, all, n, fr); out != nil {
			return out
		}
	}
}

// sheets lays units out on n sheets; nil where they do not fit and more sheets could hold them.
func sheets(f *figures.Figures, all []unit, n int, fr Frame) []*diagram {
	var out []*diagram
	for i := range n {
		d := newDiagram(f, all[len(all)*i/n:len(all)*(i+1)/n], fr)
		if n < len(all) && d.height() > fr.Height {
			return nil
		}
		out = append(out, d)
	}
	for _, d := range out {
		d.arrange()
		if n < len(all) && d.height() > fr.Height {
			return nil
		}
		d.narrow()
	}
	return out
}

// Lengths of a diagram, mm. Rows are what its parts stand on: two steps of the grid each.
const (
	grid   = 1.7
	track  = 2.0 // between the vertical parts of wires
	margin = 3.0
	header = 12.0
	footer = 12.5
)

// diagram is one sheet: columns of elements with channels between them in which
// the vertical parts of wires run. Channel i lies to the left of column i.
type diagram struct {
	f  *figures.Figures
	fr Frame

	columns  [][]*element // from top to bottom
	wires    []*wire
	elements map[schema.Block]*element
	whole    map[schema.Block]bool // of which no cable is on another sheet
	channels []channel
	short    int // how much labels leave out: lengths, sizes
}

// element is a block, or the lane of a cable that passes a column.
type element struct {
	block  schema.Block // nil of a lane
	column int
	y, h   int // grid steps
	ports  [2][]*port
	fixed  bool // its ports keep their order
	text   [2]string
	width  float64 // mm
}

// port is where a cable ends at an element, on one of its sides.
type port struct {
	e      *element
	side   int // 0 left, 1 right
	cable  *cable
	end    int // of the cable
	rank   float64
	pins   []*pin
	rows   int
	says   string // the place's name
	double bool   // takes a row for its label
}

// pin is where one core ends, or where it passes a lane.
type pin struct {
	port *port
	e    *element
	off  int // grid steps below the element's top
	core string
}

func (p *pin) y() int { return p.e.y + p.off }

// wire is one core on its way: pins at its ends, and in the lanes between.
type wire struct {
	cable *cable
	core  string
	pins  []*pin
}

// columnOf sorts blocks into columns.
func columnOf(b schema.Block) int {
	switch b.(type) {
	case *schema.Supply:
		return 0
	case *schema.Joint:
		return 1
	case *schema.Run:
		return 2
	}
	return 3
}

// newDiagram makes the elements, ports and wires of a sheet.
func newDiagram(f *figures.Figures, all []unit, fr Frame) *diagram {
	d := &diagram{f: f, fr: fr, elements: map[schema.Block]*element{}, whole: map[schema.Block]bool{}}
	here := map[schema.Block]int{}
	var used [4]bool
	var list []*cable
	for _, u := range all {
		for _, c := range u {
			list = append(list, c)
			for _, pt := range c.ends {
				here[pt.Block()]++
				used[columnOf(pt.Block())] = true
			}
		}
	}
	column := [4]int{}
	n := 0
	for i, is := range used {
		column[i] = n
		if is {
			n++
		}
	}
	d.columns = make([][]*element, n)
	d.channels = make([]channel, n+1)
	everywhere := map[schema.Block]int{}
	for _, c := range cables(f) {
		everywhere[c.ends[0].Block()]++
		everywhere[c.ends[1].Block()]++
	}
	for b, n := range here {
		d.whole[b] = n == everywhere[b]
	}
	for _, b := range blocks(f) {
		if here[b] == 0 {
			continue
		}
		e := &element{block: b, column: column[columnOf(b)]}
		_, e.fixed = b.(*schema.Run)
		d.describe(e)
		d.elements[b] = e
		d.columns[e.column] = append(d.columns[e.column], e)
	}
	for _, c := range list {
		d.lay(c)
	}
	for _, col := range d.columns {
		for _, e := range col {
			e.arrange()
		}
	}
	d.place()
	return d
}

// blocks lists what cables may join, in the order of the plan.
func blocks(f *figures.Figures) []schema.Block {
	var out []schema.Block
	for _, s := range f.Plan.Supplies {
		out = append(out, s)
	}
	for _, j := range f.Plan.Joints {
		out = append(out, j)
	}
	for _, r := range f.Plan.Runs {
		out = append(out, r)
	}
	for _, c := range f.Plan.Controllers {
		out = append(out, c)
	}
	return out
}

// describe says what stands in an element.
func (d *diagram) describe(e *element) {
	e.width = 30
	switch b := e.block.(type) {
	case *schema.Supply:
		e.text = [2]string{b.Name, ""}
		if b.Output.Known() && b.Rating.Known() {
			volts := d.f.Habit.Show(quantity.Voltage, b.Volts())
			e.text[1] = volts + ", " + b.Rating.V.String()
			if b.Outputs.V > 1 {
				e.text[1] = fmt.Sprintf("%s, %d × %s", volts, b.Outputs.V, b.Rating.V)
			}
		}
	case *schema.Joint:
		e.text[0] = b.Name
		e.width = 20
	case *schema.Run:
		e.text[0] = b.Name
		if r, ok := d.f.Run(b); ok && r.OK {
			e.text[1] = say("pixels", "n", strconv.Itoa(r.Pixels), "length", d.f.Habit.Show(quantity.Length, r.Length))
		}
	case *schema.Controller:
		e.text[0] = b.Name
	}
}

// side is where a cable leaves an element for one in another column; within a
// column data runs on the right of runs, and all else on the side where there is a channel.
func side(here, there, columns int, b schema.Block, data bool) int {
	switch {
	case there > here:
		return 1
	case there < here:
		return 0
	case here == 0 && columns > 1 && columnOf(b) != 2:
		return 1
	case data && columnOf(b) == 2:
		return 1
	}
	return 0
}

// lay gives a cable its ports, lanes and wires.
func (d *diagram) lay(c *cable) {
	var ports [2]*port
	data := c.cores[0] == "data"
	for end, pt := range c.ends {
		e, o := d.elements[pt.Block()], d.elements[c.ends[1-end].Block()]
		p := &port{e: e, side: side(e.column, o.column, len(d.columns), e.block, data), cable: c, end: end, says: d.says(pt, data, end), rank: rankOf(d.f, pt)}
		p.double = end == 0 && c.fuse != "" || end == 1 && len(c.cores) == 1
		p.rows = len(c.cores)
		if p.double {
			p.rows++
		}
		for _, core := range c.cores {
			p.pins = append(p.pins, &pin{port: p, e: e, core: core})
		}
		e.ports[p.side] = append(e.ports[p.side], p)
		ports[end] = p
	}
	a, b := ports[0], ports[1]
	from, to := a.e.column+a.side, b.e.column+b.side // channels
	var lanes []*element
	for k := from; k < to; k++ {
		lanes = append(lanes, d.lane(k, c))
	}
	for k := from - 1; k >= to; k-- {
		lanes = append(lanes, d.lane(k, c))
	}
	for i, core := range c.cores {
		w := &wire{cable: c, core: core, pins: []*pin{a.pin(core)}}
		for _, e := range lanes {
			w.pins = append(w.pins, &pin{e: e, off: 2 * i, core: core})
		}
		w.pins = append(w.pins, b.pin(core))
		d.wires = append(d.wires, w)
	}
}

func (p *port) pin(core string) *pin {
	for _, x := range p.pins {
		if x.core == core {
			return x
		}
	}
	return nil
}

func (d *diagram) lane(column int, c *cable) *element {
	e := &element{column: column, h: 2 * (len(c.cores) - 1), fixed: true}
	d.columns[column] = append(d.columns[column], e)
	return e
}

// says names the place at which a cable ends, within its block.
func (d *diagram) says(pt *schema.Point, data bool, end int) string {
	switch pt.Kind {
	case schema.SupplyOut:
		if pt.Supply.Outputs.V > 1 {
			return say("out", "n", strconv.Itoa(pt.Output))
		}
	case schema.ControllerPort:
		if pt.Port.Pin.Known() && pt.Port.Pin.Set {
			return fmt.Sprintf("%s %s, %s", say("port"), pt.Port.Name, say("pin", "n", strconv.Itoa(pt.Port.Pin.V)))
		}
		return say("port") + " " + pt.Port.Name
	case schema.RunPlace, schema.RunEnds:
		switch pt.Where {
		case schema.AtStart:
			return say("start")
		case schema.AtEnd:
			return say("end")
		case schema.AtDistance:
			return pt.Distance.String()
		}
		return say("pixel", "n", strconv.Itoa(pt.Pixel))
	}
	return ""
}

// rankOf is the order of places within a block that keeps it: along the run.
func rankOf(f *figures.Figures, pt *schema.Point) float64 {
	if pt.Run != nil {
		if r, ok := f.Run(pt.Run); ok && r.OK {
			return r.Snap(pt).At
		}
		if pt.Where == schema.AtEnd {
			return 1
		}
	}
	return float64(pt.Output)
}

// arrange gives the pins of an element their places, and it its height.
func (e *element) arrange() {
	if e.block == nil {
		return
	}
	least := 3
	if e.text[1] != "" && !e.fixed {
		least = 4
	}
	e.h = 2 * (least - 1)
	for s := range e.ports {
		if e.fixed {
			slices.SortStableFunc(e.ports[s], func(a, b *port) int { return cmp.Compare(a.rank, b.rank) })
		}
		row := 0
		for _, p := range e.ports[s] {
			if p.double {
				row++
			}
			for _, x := range p.pins {
				x.off = 2 * row
				row++
			}
		}
		e.h = max(e.h, 2*(row-1))
	}
}

// gap between elements, grid steps.
func gap(a, b *element) int {
	if a.block == nil && b.block == nil {
		return 2
	}
	return 4
}

// tall is the height of a column, grid steps.
func tall(col []*element) int {
	h := 0
	for i, e := range col {
		if i > 0 {
			h += gap(col[i-1], e)
		}
		h += e.h
	}
	return h
}

// height of the sheet, mm.
func (d *diagram) height() float64 {
	low, high := math.MaxInt, 0
	for _, col := range d.columns {
		for _, e := range col {
			low, high = min(low, e.y), max(high, e.y+e.h)
		}
	}
	if high < low {
		return header + footer
	}
	return header + footer + float64(high-low)*grid + 2*margin
}
