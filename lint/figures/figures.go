// Package figures works out everything that the calculation core knows about a
// plan, once: lengths and pixels, currents and voltages in every case, the
// bound over every pattern, protection, frame times and addresses. Rules, the
// show command and the language server all read it. All numbers are SI.
package figures

import (
	"sync"
	"sync/atomic"

	"ohmstead/calc/address"
	"ohmstead/calc/circuit"
	"ohmstead/calc/fuse"
	"ohmstead/calc/path"
	"ohmstead/calc/pixels"
	"ohmstead/calc/protect"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

// Figures is what was worked out from a plan. What could not be worked out,
// because a value is missing or broken, is absent: nil or not OK.
type Figures struct {
	Plan        *schema.Plan
	Habit       quantity.Habit // that the plan is written in
	Runs        []*Run
	Leads       []*Lead
	Ports       []*Port
	Orders      []*Order
	Universes   []*Universes
	Controllers []*Controller
	Islands     []*Island
	Cases       []*Case // full, held, then the plan's own
	Any         Any
	// Complete is false when some part of the wiring could not be read: then
	// nothing can be said of what is missing ("no lead feeds it").
	Complete bool
	Tried    bool // of a copy of a plan that is only tried: nobody reads what is said of it

	unheld bool // a ceiling cannot be read: see withheld

	memo         *Memo
	connectOnce  sync.Once
	connectivity *Connectivity
	endsOnce     sync.Once
	ends         map[*schema.Header][]*Lead
	runs         map[*schema.Run]*Run
	leads        map[*schema.Lead]*Lead
	controllers  map[*schema.Controller]*Controller
	kinds        map[*schema.Wire]*kind
	devices      map[fitted]*fuse.Kind
	laws         map[*schema.Strip]law
	frames       map[*schema.Surface][]Frame // of each surface what meets it, folded out; nil where no edge is written
	wired        map[schema.Block]*Island    // of supplies and joints
	ceilings     []ceiling

	mu       sync.Mutex // of what follows
	filled   filled
	complete atomic.Bool
	supplies map[*schema.Supply]int          // index in Plan.Supplies
	joints   map[*schema.Joint]int           // index in Plan.Joints
	bundles  func(*schema.Lead) int          // loaded pairs that lie together with a lead
	cable    func(*schema.Lead) *schema.Lead // stands for all leads that lie together
}

// Run is the geometry and the count of a run.
type Run struct {
	*schema.Run
	OK       bool         // strip and geometry are known
	Why      string       // where not OK: what the geometry lacks, if it is the geometry's fault
	Length   float64      // m, of its geometry
	Counted  pixels.Run   // what fits into the length
	Pixels   int          // as counted on the real strip where the plan says so, else what fits
	Pitch    float64      // m
	Path     *path.Path   // nil where only a length is known
	Least    float64      // m, least radius; +Inf where nothing bends
	LeastAt  float64      // m from the start
	Law      *circuit.Law // of one pixel
	PixelMax float64      // A of one pixel with all channels at 100 %
	Volts    float64      // V, nominal, of its strip

	frames []Frame // the surfaces that it may lie on, folded out

	Rails []Rail // its rails between feeds, as protection sees them

	Port   *Port   // what drives it; nil where no signal reaches it
	dataIn float64 // m from the start, then: where its data comes in
	First  int     // its first pixel on that port
	Island *Island
	strip  int // index in the island's circuit
	place  int // index in Figures.Runs
}

// Lead is a lead's wire worked out.
type Lead struct {
	*schema.Lead
	OK        bool
	Why       string  // where not OK: what is missing, if it is the lead's own fault
	Length    float64 // m, one way
	Estimated bool    // the length comes from positions
	Gauge     wire.Gauge
	Ohms      float64    // ohm, of each side without current, joint contacts included
	FuseOhms  float64    // ohm, of the fuse in its plus side and the contacts of its holder
	Device    *fuse.Kind // of its fuse, or of the one that it would get
	Ampacity  float64    // A, of all parallel conductors of a side together
	Together  int        // loaded pairs in its cable or conduit, its own among them
	Shared    float64    // what each keeps of its ampacity for that
	Fault     Exposure

	Island      *Island
	heat        float64 // 1/A2, share of Ohms that a current adds; most: A, beyond which it adds no more
	most        float64
	plus, minus int // wire indexes in the island's circuit, -1 for none
	grid        int // index of the first of its conductors in the island's grid
	place       int // index in Figures.Leads
}

// Exposure is what a fault can drive through a conductor.
type Exposure struct {
	Amps      float64          // A, the most before some fuse or supply limit surely acts
	Limit     float64          // A, what the conductor stands of it: its ampacity, of strip copper that several ways feed more
	Unguarded bool             // it is above that
	Minus     bool             // the minus conductor is the worse one
	Sources   []*schema.Supply // what can feed such a fault, where it is above the ampacity
	Through   []*Lead          // leads whose fuses bound it, likewise
}

// Rail is the stretch of a run's rails between two feeds.
type Rail struct {
	From, To float64 // m from the start
	Fault    Exposure

	grid int // index of its plus in the island's grid; its minus comes next
}

// Port is the chain of runs behind one data output.
type Port struct {
	*schema.Port
	Runs      []*Run
	Pixels    int
	FrameTime float64 // s, of this port alone
	Rate      float64 // Hz, with the controller's other ports and lanes
	OK        bool    // the chips' timing is known
}

// Controller is a controller with what it drives.
type Controller struct {
	*schema.Controller
	Runs   []*Run
	Ports  []*Port
	Idle   float64 // A, of all its pixels dark
	Full   float64 // A, of all its pixels at 100 %, as its firmware counts
	Island *Island // nil where it is not wired
	sink   int
	place  int // index in Figures.Controllers
}

// Order is an order's line of pixels.
type Order struct {
	*schema.Order
	OK     bool
	Pixels int
	Spans  []OrderSpan
}

// OrderSpan is a run's part of an order.
type OrderSpan struct {
	Run     *Run
	First   int // of the order
	Count   int
	FromEnd bool
}

// Universes is an order laid into universes.
type Universes struct {
	*schema.Universes
	OK     bool
	Err    error
	Layout address.Layout
	Spans  []address.Span
}

// Case holds the figures of one load case.
type Case struct {
	Name        string
	Own         *schema.Case // nil for full and held
	Held        bool         // ceilings apply
	Supplies    []SupplyCase
	Leads       []LeadCase // by Figures.Leads index
	Joints      []JointCase
	Controllers []ControllerCase // by Figures.Controllers index
	Runs        []RunCase        // by Figures.Runs index

	asked map[asking]asked
	last  struct { // that was asked for, as runs alike mostly stand together
		asking
		asked
	}
}

// SupplyCase is one supply in one case.
type SupplyCase struct {
	Supply *schema.Supply
	OK     bool
	Volts  float64
	Amps   float64   // A, all outputs
	Each   []float64 // A, by output
	Load   float64   // share of the rating (all outputs, after derating), of the fullest output; NaN where the rating is not known
}

// LeadCase is one lead in one case.
type LeadCase struct {
	OK    bool
	Amps  float64 // A, plus side (minus side of a lead that carries only minus), positive from from to to
	Back  float64 // A, minus side, positive from to to from
	Drop  float64 // V, both sides together
	Watts float64
}

// JointCase is one joint in one case.
type JointCase struct {
	Joint *schema.Joint
	OK    bool
	Volts float64
	Amps  float64 // A, the most that one of its sides passes on
}

// ControllerCase is one controller in one case.
type ControllerCase struct {
	OK       bool
	Volts    float64
	Estimate float64 // A, what its firmware believes its pixels draw
	Scale    float64 // what the ceiling scales the shares by
}

// RunCase is one run in one case.
type RunCase struct {
	OK         bool
	Amps       float64
	Watts      float64 // of its pixels and of the copper that feeds them
	MinVolts   float64
	MinPixel   int
	StartVolts float64
	EndVolts   float64
	RailAmps   float64 // A, the most in one rail
	RailAt     float64 // m from the start

	solved *circuit.StripSolution
}

// Volts works out the voltage at each pixel, V.
func (c *RunCase) Volts() []float64 {
	if c.solved == nil {
		return nil
	}
	return c.solved.Volts()
}

// PixelVolts is the voltage at a pixel, V.
func (c *RunCase) PixelVolts(k int) float64 { return c.solved.PixelVolts(k) }

// PadVolts is the voltage between plus and minus at a distance from the start, m.
func (c *RunCase) PadVolts(at float64) float64 { return c.solved.PadVolts(at) }

// Any holds the bounds over every pattern that the ceilings allow.
type Any struct {
	Leads    []AnyLead   // by Figures.Leads index
	Runs     []AnyRun    // by Figures.Runs index
	Supplies []AnySupply // by plan.Supplies index
}

// AnyLead is the greatest current of a lead over every pattern.
type AnyLead struct {
	OK      bool
	Amps    float64
	Lit     []*Run  // what the worst pattern lights
	Spill   float64 // A of it that the warmth of other wires may add
	Plus    float64 // A, of its plus side alone, where its fuse sits
	PlusLit []*Run
}

// AnyRun is the least voltage of a run over every pattern, and the greatest
// current in one of its rails.
type AnyRun struct {
	OK       bool
	MinVolts float64
	MinPixel int
	Lit      []*Run
	RailAmps float64 // A
	RailAt   float64 // m from the start
	RailLit  []*Run
	Spill    float64 // A of RailAmps, as that of AnyLead
}

// AnySupply is the greatest current of a supply's fullest output over every pattern.
type AnySupply struct {
	OK    bool
	Amps  float64 // A of one output
	Spill float64 // as that of AnyLead
}

// Island is a connected component of the plan's network: all that hangs together
// by leads.
type Island struct {
	Supplies []*schema.Supply
	Leads    []*Lead
	Joints   []*schema.Joint
	Runs     []*Run
	Control  []*Controller
	Circuit  *circuit.Circuit
	Grid     protect.Grid
	Err      error          // why it could not be solved
	Unread   []schema.Block // where Err is ErrPartial: those of which something cannot be read

	nodes      map[place][2]int       // plus, minus node
	source     map[*schema.Supply]int // the first of its outputs in Circuit
	ambient    float64                // degC
	wires      []*Lead                // what each wire of Circuit is a side of
	conductors []conductor            // what each conductor of Grid is
	split      *circuit.Split
	parts      []*part
	cut        *cut
	memo       *Memo                     // that its parts are kept in
	meet       map[*schema.Joint][]*Lead // the leads of each joint
	exposures  *faulted
	touching   [][]protect.Load // of each plus that lies beside a minus of another supply
	protected  bool
}
