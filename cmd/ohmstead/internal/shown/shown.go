// Package shown is a plan's figures as the show command gives them: a contract
// for other programs in JSON, and tables for people.
package shown

import (
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/report"
)

// Number is null in JSON where nothing is known.
type Number = report.Number

var unknown = Number(math.NaN())

// Plan is everything that was worked out, in SI units: V, A, W, ohm, m, s, Hz;
// load and scale are shares of 1. Fields are added, never renamed; a lead's drop
// is both sides together, its amps the plus side, positive from its from to its
// to.
type Plan struct {
	Name      string      `json:"plan"`
	Cases     []Case      `json:"cases"`
	Runs      []Run       `json:"runs"`
	Leads     []Lead      `json:"leads"`
	Ports     []Port      `json:"ports"`
	Orders    []Order     `json:"orders"`
	Universes []Universes `json:"universes"`
	Any       Any         `json:"any"`
	Fixings   []Fixing    `json:"fixings"`
	Findings  int         `json:"findings"`

	habit quantity.Habit // of the text
}

// Case is one load case.
type Case struct {
	Name        string           `json:"name"`
	Supplies    []CaseSupply     `json:"supplies"`
	Leads       []CaseLead       `json:"leads"`
	Joints      []CaseJoint      `json:"joints"`
	Controllers []CaseController `json:"controllers"`
	Runs        []CaseRun        `json:"runs"`
}

// The rows of a case.
type (
	// CaseSupply is one supply. Load is the share of its rating in use.
	CaseSupply struct {
		ID    string `json:"id"`
		Volts Number `json:"volts"`
		Amps  Number `json:"amps"`
		Watts Number `json:"watts"`
		Load  Number `json:"load"`
	}
	// CaseLead is one lead.
	CaseLead struct {
		ID       string `json:"id"`
		Amps     Number `json:"amps"`
		Drop     Number `json:"drop"`
		Watts    Number `json:"watts"`
		Ampacity Number `json:"ampacity"`
	}
	// CaseJoint is one joint: plus minus minus.
	CaseJoint struct {
		ID    string `json:"id"`
		Volts Number `json:"volts"`
		Amps  Number `json:"amps"`
	}
	// CaseController is one controller: what its firmware believes its pixels
	// draw, and what its ceiling scales them by.
	CaseController struct {
		ID       string `json:"id"`
		Volts    Number `json:"volts"`
		Estimate Number `json:"estimate"`
		Scale    Number `json:"scale"`
	}
	// CaseRun is one run.
	CaseRun struct {
		ID         string   `json:"id"`
		Pixels     int      `json:"pixels"`
		Amps       Number   `json:"amps"`
		Watts      Number   `json:"watts"`
		MinVolts   Number   `json:"min_volts"`
		MinPixel   *int     `json:"min_pixel"`
		StartVolts Number   `json:"start_volts"`
		EndVolts   Number   `json:"end_volts"`
		Volts      []Number `json:"volts,omitempty"`
	}
)

// Run is a run's geometry.
type Run struct {
	ID        string `json:"id"`
	Length    Number `json:"length"`
	Pixels    int    `json:"pixels"`
	Pitch     Number `json:"pitch"`
	MinRadius Number `json:"min_radius"` // null where it nowhere bends

	Port       *string `json:"port"`        // null where no data reaches it, as the two below
	FirstPixel *int    `json:"first_pixel"` // of that port
	DataEnters *string `json:"data_enters"` // "start" or "end"
}

// Fixing is one that holds a run.
type Fixing struct {
	Run     string  `json:"run"`
	Fixing  string  `json:"fixing"`
	At      Number  `json:"at"`      // from the run's start
	Surface *string `json:"surface"` // null where the run's place is not known
	X       Number  `json:"x"`       // to the right on its surface, null where that is not known
	Y       Number  `json:"y"`       // up
	Holds   string  `json:"holds"`   // "start", "end", "corner", "joint", "bend" or "stretch"
	Mass    Number  `json:"mass"`    // kg that it carries, null where the diffuser's weight is not known
}

// Lead is a lead's wire.
type Lead struct {
	ID        string `json:"id"`
	Length    Number `json:"length"`
	Estimated bool   `json:"estimated"`
	Ohms      Number `json:"ohms"`      // of each side
	FuseOhms  Number `json:"fuse_ohms"` // of the fuse in its plus side, 0 without one
	Ampacity  Number `json:"ampacity"`
	Fault     Number `json:"fault"`   // the most that a fault drives through it, null where nothing bounds it or it is not known
	Guarded   bool   `json:"guarded"` // it is known, and no more than the ampacity
}

// Port is one data output.
type Port struct {
	ID        string `json:"id"`
	Pixels    int    `json:"pixels"`
	FrameTime Number `json:"frame_time"`
	Rate      Number `json:"rate"`
}

// Order is a line of pixels.
type Order struct {
	ID     string      `json:"id"`
	Pixels int         `json:"pixels"`
	Spans  []OrderSpan `json:"spans"`
}

// OrderSpan is a run's part of an order.
type OrderSpan struct {
	Run     string `json:"run"`
	First   int    `json:"first"`
	Count   int    `json:"count"`
	FromEnd bool   `json:"from_end"`
	Against bool   `json:"against"` // its pixels are taken against the way of their data
}

// Universes is an order's network addresses.
type Universes struct {
	ID       string         `json:"id"`
	Priority int            `json:"priority"` // that the source sends with
	Spans    []UniverseSpan `json:"spans"`
}

// UniverseSpan is the part in one universe.
type UniverseSpan struct {
	Universe   int `json:"universe"`
	Slot       int `json:"slot"`
	FirstPixel int `json:"first_pixel"`
	Pixels     int `json:"pixels"`
	Slots      int `json:"slots"`
}

// Any is the bound over every pattern that the ceilings allow.
type Any struct {
	Leads    []AnyLead   `json:"leads"`
	Runs     []AnyRun    `json:"runs"`
	Supplies []AnySupply `json:"supplies"`
}

// The rows of the bound.
type (
	// AnyLead is the greatest current of a lead, and what lights then.
	AnyLead struct {
		ID   string   `json:"id"`
		Amps Number   `json:"amps"`
		Lit  []string `json:"lit"`
	}
	// AnyRun is the least voltage of a run, and what lights then.
	AnyRun struct {
		ID       string   `json:"id"`
		MinVolts Number   `json:"min_volts"`
		MinPixel *int     `json:"min_pixel"`
		Lit      []string `json:"lit"`
	}
	// AnySupply is the greatest current of a supply's fullest output.
	AnySupply struct {
		ID   string `json:"id"`
		Amps Number `json:"amps"`
	}
)

// Of shows what was worked out; findings is how many there are, and pixels asks
// for the voltage of every pixel.
func Of(fig *figures.Figures, findings int, pixels bool) *Plan {
	p := &Plan{
		Name: fig.Plan.Name(), Findings: findings, habit: fig.Habit,
		Cases: []Case{}, Runs: []Run{}, Leads: []Lead{}, Ports: []Port{}, Orders: []Order{}, Universes: []Universes{},
		Any: Any{Leads: []AnyLead{}, Runs: []AnyRun{}, Supplies: []AnySupply{}}, Fixings: []Fixing{},
	}
	for _, c := range fig.Cases {
		p.Cases = append(p.Cases, caseOf(fig, c, pixels))
	}
	for _, r := range fig.Runs {
		p.Runs = append(p.Runs, runOf(r))
		p.Fixings = append(p.Fixings, fixingsOf(r)...)
	}
	faults := fig.Faults()
	for _, l := range fig.Leads {
		p.Leads = append(p.Leads, leadOf(l, faults))
	}
	for _, x := range fig.Ports {
		row := Port{x.ID(), x.Pixels, unknown, unknown}
		if x.OK {
			row.FrameTime, row.Rate = Number(x.FrameTime), Number(x.Rate)
		}
		p.Ports = append(p.Ports, row)
	}
	for _, o := range fig.Orders {
		row := Order{ID: o.ID(), Pixels: o.Pixels, Spans: []OrderSpan{}}
		for _, s := range o.Spans {
			row.Spans = append(row.Spans, OrderSpan{s.Run.ID(), s.First, s.Count, s.FromEnd, s.Against()})
		}
		p.Orders = append(p.Orders, row)
	}
	for _, u := range fig.Universes {
		row := Universes{ID: u.ID(), Priority: u.Priority.V, Spans: []UniverseSpan{}}
		for _, s := range u.Spans {
			row.Spans = append(row.Spans, UniverseSpan{s.Universe, s.Slot, s.FirstPixel, s.Pixels, s.Slots})
		}
		p.Universes = append(p.Universes, row)
	}
	p.bound(fig)
	return p
}

func runOf(r *figures.Run) Run {
	out := Run{ID: r.ID(), Length: unknown, Pixels: r.Pixels, Pitch: unknown, MinRadius: unknown}
	if r.Length > 0 {
		out.Length, out.MinRadius = Number(r.Length), Number(r.Least)
	}
	if r.Pitch > 0 {
		out.Pitch = Number(r.Pitch)
	}
	if r.Port != nil {
		port, first, enters := r.Port.ID(), r.First, r.DataEnters.V
		out.Port, out.FirstPixel, out.DataEnters = &port, &first, &enters
	}
	return out
}

func fixingsOf(r *figures.Run) (out []Fixing) {
	for _, x := range r.Fixings() {
		row := Fixing{Run: r.ID(), Fixing: r.Fixing.V.ID(), At: Number(x.At), X: unknown, Y: unknown, Holds: string(x.Of), Mass: unknown}
		if right, up, ok := r.XY(x.At); ok {
			on := r.On.V.ID()
			row.Surface, row.X, row.Y = &on, Number(right), Number(up)
		}
		if d := r.Diffuser.V; d != nil && r.Diffuser.Known() && d.Weight.Known() {
			row.Mass = Number(x.Carries * d.Weight.V.SI)
		}
		out = append(out, row)
	}
	return out
}

func leadOf(l *figures.Lead, faults *figures.Faults) Lead {
	out := Lead{ID: l.ID(), Length: unknown, Ohms: unknown, FuseOhms: unknown, Ampacity: unknown, Fault: unknown}
	if l.OK {
		out.Length, out.Estimated = Number(l.Length), l.Estimated
		out.Ohms, out.FuseOhms, out.Ampacity = Number(l.Ohms), Number(l.FuseOhms), Number(l.Ampacity)
	}
	if faults.Known(l) {
		fault := faults.Lead(l)
		out.Fault, out.Guarded = Number(fault.Amps), !fault.Unguarded
	}
	return out
}

func caseOf(fig *figures.Figures, c *figures.Case, pixels bool) Case {
	out := Case{Name: c.Name, Supplies: []CaseSupply{}, Leads: []CaseLead{}, Joints: []CaseJoint{}, Controllers: []CaseController{}, Runs: []CaseRun{}}
	for _, s := range c.Supplies {
		row := CaseSupply{s.Supply.ID(), unknown, unknown, unknown, unknown}
		if s.OK {
			row = CaseSupply{s.Supply.ID(), Number(s.Volts), Number(s.Amps), Number(s.Volts * s.Amps), Number(s.Load)}
		}
		out.Supplies = append(out.Supplies, row)
	}
	for i, l := range c.Leads {
		row := CaseLead{fig.Leads[i].ID(), unknown, unknown, unknown, unknown}
		if fig.Leads[i].OK {
			row.Ampacity = Number(fig.Leads[i].Ampacity)
		}
		if l.OK {
			row.Amps, row.Drop, row.Watts = Number(l.Amps), Number(l.Drop), Number(l.Watts)
		}
		out.Leads = append(out.Leads, row)
	}
	for _, j := range c.Joints {
		row := CaseJoint{j.Joint.ID(), unknown, unknown}
		if j.OK {
			row.Volts, row.Amps = Number(j.Volts), Number(j.Amps)
		}
		out.Joints = append(out.Joints, row)
	}
	for i, k := range c.Controllers {
		row := CaseController{fig.Controllers[i].ID(), unknown, Number(k.Estimate), Number(k.Scale)}
		if k.OK {
			row.Volts = Number(k.Volts)
		}
		out.Controllers = append(out.Controllers, row)
	}
	for i, r := range c.Runs {
		out.Runs = append(out.Runs, caseRunOf(fig.Runs[i], r, pixels))
	}
	return out
}

func caseRunOf(run *figures.Run, r figures.RunCase, pixels bool) CaseRun {
	row := CaseRun{ID: run.ID(), Pixels: run.Pixels, Amps: unknown, Watts: unknown, MinVolts: unknown, StartVolts: unknown, EndVolts: unknown}
	if !r.OK {
		return row
	}
	row.Amps, row.Watts = Number(r.Amps), Number(r.Watts)
	row.MinVolts, row.MinPixel = Number(r.MinVolts), &r.MinPixel
	row.StartVolts, row.EndVolts = Number(r.StartVolts), Number(r.EndVolts)
	if pixels {
		for _, v := range r.Volts() {
			row.Volts = append(row.Volts, Number(v))
		}
	}
	return row
}

func (p *Plan) bound(fig *figures.Figures) {
	for i, l := range fig.Any.Leads {
		row := AnyLead{fig.Leads[i].ID(), unknown, ids(l.Lit)}
		if l.OK {
			row.Amps = Number(l.Amps)
		}
		p.Any.Leads = append(p.Any.Leads, row)
	}
	for i, r := range fig.Any.Runs {
		row := AnyRun{ID: fig.Runs[i].ID(), MinVolts: unknown, Lit: ids(r.Lit)}
		if r.OK {
			row.MinVolts, row.MinPixel = Number(r.MinVolts), &r.MinPixel
		}
		p.Any.Runs = append(p.Any.Runs, row)
	}
	for i, s := range fig.Any.Supplies {
		row := AnySupply{fig.Plan.Supplies[i].ID(), unknown}
		if s.OK {
			row.Amps = Number(s.Amps)
		}
		p.Any.Supplies = append(p.Any.Supplies, row)
	}
}

func ids(runs []*figures.Run) []string {
	out := []string{}
	for _, r := range runs {
		out = append(out, r.ID())
	}
	return out
}
