package sizing

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// What a first draft of the power and data is made of (common practice, no source).
const (
	mostSupply  = 60  // A: larger supplies are not common at 5 to 24 V
	mostTrunk   = 20  // A: what a lever joint and a wire of 12 AWG take
	directLeads = 3   // leads that the terminals of a supply take without a joint
	portPixels  = 800 // on one port: 24 bits at 800 kbit/s, 40 times a second
	firstLength = 1.0 // m from the supply to the first run, as long as nobody has said
)

// Bare reports whether a plan has runs but nothing yet that brings them power.
func Bare(p *schema.Plan) bool {
	return len(p.Runs) > 0 && len(p.Leads) == 0 && len(p.Joints) == 0 && len(p.Supplies) <= 1 && len(p.Controllers) <= 1
}

// caution is no question: it stays when those beside it are answered and taken out.
const caution = "# The mains side is for a qualified person under the code in force at the place."

// Undrafted stands below the runs of a new plan until their power and data are drafted.
const Undrafted = caution + `

# ? Power and data: write mains = "230 V" or "120 V" into the plan block and run
# ohmstead size NAME --write, which drafts them in place of this.`

// first writes the blocks of a first draft.
type first struct {
	*Draft
	f     *figures.Figures
	out   []string
	wires map[wire.Gauge]string
}

// First drafts the power and data of a plan that has only runs: a supply for all of them, a
// controller, a lead with its fuse to the start of each, over joints where they are many, and
// data lines through them in their order. Parts that the plan has are used. It is a
// start that is to be judged and sized like any other plan; its lengths are estimates, from
// the first run on where the runs are drawn. The error says what only the maker knows.
func First(f *figures.Figures) ([]schema.Edit, error) {
	p := f.Plan
	w := &first{Draft: newDraft(p), f: f, wires: map[wire.Gauge]string{}}
	load, volts := 0.0, f.Runs[0].Volts
	for _, r := range f.Runs {
		if !schema.Referable(r.Name) {
			return nil, fmt.Errorf("run %q: what is drafted names the runs, and a reference takes a name of letters, digits, - and _ that begins with a letter: rename the run first", r.Name)
		}
		if !r.OK {
			return nil, fmt.Errorf("%s: its strip and length have to be known first", r.ID())
		}
		if r.Volts != volts {
			return nil, fmt.Errorf("%s takes %s and %s takes %s: write a supply for each voltage, and a lead from it to the start of each run", f.Runs[0].ID(), quantity.Show(quantity.Voltage, volts), r.ID(), quantity.Show(quantity.Voltage, r.Volts))
		}
		load += draw(r)
	}
	board := schema.DefaultNeeds
	w.say(caution)
	w.say("# ? Drafted by ohmstead size. Lengths are estimated as if the supply stood %s from\n# the start of %s, and as if what is not drawn were near by: measure and write\n# them before cutting. A comment with # ? goes when it is answered.", quantity.Show(quantity.Length, firstLength), f.Runs[0].ID())
	from, err := w.supply(volts, load+board)
	if err != nil {
		return nil, err
	}
	ports, err := w.controller(volts)
	if err != nil {
		return nil, err
	}
	to := strings.SplitN(ports[0], ".port.", 2)[0] + ".power"
	if c := p.Controllers; len(c) == 0 || !c[0].OwnPower.V {
		if err := w.lead("board", from, to, 0.3, board, wire.AWG(22)); err != nil {
			return nil, err
		}
	}
	for i := 0; i < len(f.Runs); { // as many as a trunk and a joint take
		n, sum := 0, 0.0
		for i+n < len(f.Runs) && (n == 0 || sum+draw(f.Runs[i+n]) <= mostTrunk*0.75) && n < 11 {
			sum += draw(f.Runs[i+n])
			n++
		}
		at, near := from, f.Runs[0]
		if len(f.Runs) > directLeads && n > 1 {
			if at, err = w.joint(from, n, sum, firstLength+between(near, f.Runs[i])); err != nil {
				return nil, err
			}
			near = f.Runs[i]
		}
		for _, r := range f.Runs[i : i+n] {
			m := firstLength + between(near, r)
			if at != from {
				m -= firstLength / 2
			}
			if err := w.lead(r.Name, at, r.ID()+".start", m, draw(r), wire.AWG(18)); err != nil {
				return nil, err
			}
		}
		i += n
	}
	if err := w.data(ports); err != nil {
		return nil, err
	}
	last := p.Runs[len(p.Runs)-1].Node
	for _, a := range p.Assemblies { // what stands in one would be copied with it
		if a.Node.Piece() == last.Piece() {
			last = a.Node
		}
	}
	out := schema.InsertBehind(last, strings.Join(w.out, "\n\n"))
	for _, asked := range strings.Split(Undrafted, "\n\n") { // the question may have been taken out, and the caution left
		rest := string(last.Piece().Bytes()[out.At.End:])
		if strings.Contains(rest, "\r\n") {
			asked = strings.ReplaceAll(asked, "\n", "\r\n")
		}
		if strings.HasPrefix(strings.TrimLeft(rest, "\r\n"), asked) {
			out.At.End += strings.Index(rest, asked) + len(asked)
		}
	}
	return []schema.Edit{out}, nil
}

// draw is what a run takes with everything lit, A.
func draw(r *figures.Run) float64 { return float64(r.Pixels) * r.PixelMax }

// between is how far the start of a run is from that of another, m, as far as both are
// drawn.
func between(a, b *figures.Run) float64 {
	if a.Path == nil || b.Path == nil {
		return 0
	}
	x0, y0, _ := a.Path.At(0)
	x1, y1, _ := b.Path.At(0)
	return math.Hypot(x1-x0, y1-y0)
}

func (w *first) say(format string, args ...any) { w.out = append(w.out, fmt.Sprintf(format, args...)) }

// name is one that is free, and is taken from now on.
func (w *first) name(kind, wish string) string {
	n := w.free(kind, wish)
	w.news = append(w.news, &addition{kind: kind, name: n})
	return n
}

func (w *first) supply(volts, load float64) (string, error) {
	if p := w.f.Plan; len(p.Supplies) == 1 {
		if is := p.Supplies[0].Output; is.Known() && is.V.SI != volts {
			return "", fmt.Errorf("%s gives %s, and the runs take %s: write one that gives that", p.Supplies[0].ID(), is.V.String(), quantity.Show(quantity.Voltage, volts))
		}
		return p.Supplies[0].ID() + ".out", nil
	}
	head := w.f.Plan.Head
	if head == nil || !head.Mains.Known() || !head.Mains.Set {
		return "", fmt.Errorf(`the plan has no supply, and what it plugs into only you know: write mains = "230 V" or "120 V" into the plan block`)
	}
	rating := math.Ceil(load/w.f.Plan.Limits().Load - 1e-9)
	if rating > mostSupply {
		return "", fmt.Errorf("the runs take up to %s at %s; a supply for that has %s, more than one commonly gives (%s): write the supplies, and a lead from one of them to the start of each run", quantity.Show(quantity.Current, load), quantity.Show(quantity.Voltage, volts), quantity.Show(quantity.Current, rating), quantity.Show(quantity.Current, mostSupply))
	}
	n := w.name("supply", "main")
	w.say("supply %q {\n output = %q\n rating = %q\n input = [%q]\n}", n, quantity.Of(quantity.Voltage, volts).Exact(), amps(rating), head.Mains.V.String())
	return "supply." + n + ".out", nil
}

// controller gives the ports that data comes from.
func (w *first) controller(volts float64) (ports []string, err error) {
	p := w.f.Plan
	chains := len(w.chains())
	if len(p.Controllers) == 1 {
		for _, port := range p.Controllers[0].Ports {
			ports = append(ports, port.ID())
		}
	} else {
		b, _ := p.Find("catalog.esp32_devkit")
		board := b.(*schema.Board)
		n := w.name("controller", "main")
		text := fmt.Sprintf("controller %q {\n board = catalog.esp32_devkit # ? Is this your board? ohmstead catalog board lists others.\n", n)
		if takes := board.InputVoltage.V; len(takes) > 0 && takes[0].SI != volts {
			text += fmt.Sprintf(" input_voltage = [%q, %q] # ? Fit a step-down converter in front of it: the bare board takes %s alone.\n", takes[0].String(), quantity.Of(quantity.Voltage, volts).Exact(), takes[0].String())
		}
		text += " buffer = \"5 V\" # ? Fit a level shifter, which lifts the data to 5 V.\n"
		for _, pin := range board.Pins {
			if number, ok := pin.Number(); ok && pin.Use.V == "good" && len(ports) < min(chains, board.Lanes.V) {
				name := string(rune('a' + len(ports)))
				ports = append(ports, "controller."+n+".port."+name)
				text += fmt.Sprintf(" port %q { pin = %d }\n", name, number)
			}
		}
		w.say("%s}", text)
	}
	if len(ports) < chains {
		return nil, fmt.Errorf("the pixels take %s of %d each, and one controller has %d: write the controllers and signals", quantity.Count(chains, "port"), portPixels, len(ports))
	}
	return ports, nil
}

// chains shares the runs among data lines, in their order.
func (w *first) chains() (out [][]string) {
	pixels := portPixels
	for _, r := range w.f.Runs {
		if pixels += r.Pixels; pixels > portPixels {
			out, pixels = append(out, nil), r.Pixels
		}
		out[len(out)-1] = append(out[len(out)-1], r.ID())
	}
	return out
}

func (w *first) data(ports []string) error {
	if p := w.f.Plan; len(p.Signals) > 0 {
		return nil
	}
	line, err := w.wire(wire.AWG(22))
	if err != nil {
		return err
	}
	chains := w.chains()
	var all []string
	for i, runs := range chains {
		all = append(all, runs...)
		w.say("chain %q {\n from = %s\n runs = [%s]\n wire = %s\n}", w.name("chain", "data"), ports[i], strings.Join(runs, ", "), line)
	}
	if len(chains) > 1 && len(w.f.Plan.Orders) == 0 {
		w.say("order %q { runs = [%s] }", "all", strings.Join(all, ", "))
	}
	return nil
}

// wire names the wire of a size.
func (w *first) wire(g wire.Gauge) (string, error) {
	if id, ok := w.wires[g]; ok {
		return id, nil
	}
	q, err := quantity.ParseFor(quantity.Gauge, g.String())
	if err != nil {
		return "", err
	}
	n := w.name("wire", "awg-"+strings.TrimSuffix(q.String(), " AWG"))
	w.wires[g] = "wire." + n
	w.say("wire %q { gauge = %q }", n, q.String())
	return "wire." + n, nil
}

// lead writes a lead of a size, or the next that carries the load behind a fuse.
func (w *first) lead(name, from, to string, m, load float64, least wire.Gauge) error {
	blade, _ := fuse.Named("blade")
	for _, g := range wire.Standard(true) {
		if g.Area() < least.Area()*(1-1e-6) {
			continue
		}
		carries, err := wire.Ampacity(g, w.f.Plan.Ambient(), wire.InsulationTemperature)
		window := blade.Window(load, carries)
		if err != nil || len(window) == 0 {
			continue
		}
		id, err := w.wire(g)
		if err != nil {
			return err
		}
		w.say("lead %q {\n from = %s\n to = %s\n wire = %s\n length = %q\n fuse = %q\n}", w.name("lead", name), from, to, id, quantity.Of(quantity.Length, math.Ceil(m*10-1e-6)/10).Exact(), amps(window[0]))
		return nil
	}
	return fmt.Errorf("%s takes up to %s, more than a fused lead carries: split it into several runs", to, quantity.Show(quantity.Current, load))
}

// joint writes the least joint for a trunk and so many leads, and the trunk.
func (w *first) joint(from string, n int, load, m float64) (string, error) {
	var best *schema.Joint
	for _, j := range joints() {
		if j.Kind.V != "plug" && j.Kind.V != "crimp" && j.Ways.V > n && j.Rating.V.SI >= mostTrunk && (best == nil || j.Ways.V < best.Ways.V) {
			best = j
		}
	}
	if best == nil {
		return "", fmt.Errorf("no joint of the catalogue takes a trunk and %s", quantity.Count(n, "lead"))
	}
	name := w.name("joint", "hub")
	w.say("joint %q { like = %s }", name, best.ID())
	return "joint." + name, w.lead("trunk", from, "joint."+name, m, load, wire.AWG(18))
}
