// Package compare says what a change to a plan does on the wall: which blocks
// changed and how, which voltages and currents moved, what was found that was
// not there before, what has to be bought, and which pixels have other numbers
// now. It compares meaning, not text, and does no I/O.
package compare

import (
	"context"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Side is one version of a plan with what was worked out from it.
type Side struct {
	Plan     *schema.Plan
	Figures  *figures.Figures
	Findings []lint.Finding
	Hidden   []lint.Hidden
}

// DefaultThreshold is the least move of a figure that is told, as a share: of
// the nominal voltage for a voltage, of the rating for a supply's load, of the
// greater of the two values for the rest. Common practice, no source: a
// hundredth is less than a meter and a strip's tolerances show.
const DefaultThreshold = 0.01

// Report is the comparison of many plans.
type Report struct {
	Base      string  `json:"base"` // what was compared: directories or revisions
	Head      string  `json:"head"`
	Version   string  `json:"version"` // of the program, which the rules come with
	Threshold float64 `json:"threshold"`
	Plans     []*Plan `json:"plans"` // those that differ in some way, by directory
	Total     int     `json:"total"` // plans looked at, on either side
	Solved    int     `json:"solved"`
	// Moved are plans whose directory alone is another one now.
	Moved     []Moved    `json:"moved"`
	Drawers   []Drawer   `json:"drawers"`
	Baselines []Baseline `json:"baselines"`
}

// Moved is a plan's directory before and after.
type Moved struct {
	Was string `json:"was"`
	Is  string `json:"is"`
}

// Plan is the comparison of one plan.
type Plan struct {
	Dir      string    `json:"dir"`
	Name     string    `json:"plan"`
	Title    string    `json:"title"`
	Status   Status    `json:"status"`
	Blocks   []Block   `json:"blocks"`
	Moves    []Move    `json:"figures"`
	Findings Findings  `json:"findings"`
	Silenced Silenced  `json:"silenced"`
	Limits   []Limit   `json:"limits"` // of judgement, that changed
	Parts    []Part    `json:"parts"`
	Cost     []Cost    `json:"cost"`
	Unpriced int       `json:"unpriced"` // changed parts of which no price is known
	Pixels   Pixels    `json:"pixels"`
	Profiles []Profile `json:"profiles"`
	// Unsolved says of which version no figures could be worked out, in part or
	// as a whole: "base", "head" or "both"; empty where all is known.
	Unsolved string `json:"unsolved,omitempty"`
	// Failed says why the plan could not be compared at all.
	Failed string `json:"failed,omitempty"`
	// Unjudged are the runs and leads of head of which nothing is known, and Why is
	// what of the text is to blame.
	Unjudged []string  `json:"unjudged"`
	Why      string    `json:"why,omitempty"`
	Places   []Placing `json:"places"`
	// Moved is the directory that the plan had before, Shares that of another plan of
	// its name; both are empty as a rule.
	Moved  string `json:"moved,omitempty"`
	Shares string `json:"shares_name_with,omitempty"`
	// Called is the name that the plan had before, where that is another one.
	Called string `json:"called_before,omitempty"`
	// Watts are what all supplies give in the case held; nil where it is not known.
	Watts [2]*float64 `json:"watts"`

	threshold float64
	pictures  []*drawing.Scene // of the places where something hangs elsewhere now
	stocked   []string         // parts of stock of which some is there
	bought    [2][]bill        // what each part costs before and after
}

// Status says whether a plan is on both sides.
type Status string

// A plan is on both sides, new, or gone.
const (
	Changed Status = "changed"
	Added   Status = "added"
	Removed Status = "removed"
)

// Plans compares two versions of a plan; one of them may be nil. The threshold
// is a share, see DefaultThreshold.
func Plans(base, head *Side, threshold float64) *Plan {
	out := &Plan{Status: Changed, Limits: []Limit{}, Unjudged: []string{}, threshold: threshold}
	side := head
	switch {
	case base == nil:
		out.Status = Added
		base = empty(head)
	case head == nil:
		out.Status = Removed
		side = base
		head = empty(base)
	}
	out.Dir, out.Name, out.Title = side.Plan.Dir, side.Plan.Name(), side.Plan.Title()
	if was := base.Plan.Name(); out.Status == Changed && was != out.Name {
		out.Called = was
	}
	m := matched(base, head)
	out.Blocks = m.blocks()
	out.Moves = m.moves(threshold)
	out.Findings, out.Silenced = m.findings()
	if out.Status == Changed {
		out.Limits = m.limits()
		m.settings(&out.Silenced)
		out.pictures = drawing.Compared(base.Figures, head.Figures, drawing.Sheet)
	}
	out.Unsolved = unsolved(base, head)
	if out.Unsolved != "" {
		out.Unjudged, out.Why = m.unjudged()
	}
	out.buy(m)
	out.Pixels = m.pixels()
	out.Profiles = m.profiles(out.Moves)
	out.Places = m.places()
	out.Watts = [2]*float64{watts(base.Figures), watts(head.Figures)}
	return out
}

// called says that the plan has another name.
func (p *Plan) called() string {
	if p.Called == "" || p.Name == "" {
		return "the plan has a name now, or none any more: " + orNone(p.Called) + " → " + orNone(p.Name)
	}
	return "the plan is called " + p.Name + " now, before: " + p.Called
}

// Failed stands for a plan that could not be compared.
func Failed(dir string, why error) *Plan {
	first, _, _ := strings.Cut(why.Error(), "\n")
	return &Plan{Dir: dir, Title: dir, Status: Changed, Failed: first,
		Blocks: []Block{}, Moves: []Move{}, Findings: Findings{New: []Finding{}, Gone: []Finding{}, Kept: []Finding{}}, Silenced: silenced(nil, nil), Limits: []Limit{},
		Parts: []Part{}, Cost: []Cost{}, Profiles: []Profile{}, Places: []Placing{}, Unjudged: []string{}}
}

// Same reports whether the two versions mean the same.
func (p *Plan) Same() bool {
	said := slices.ContainsFunc(p.Blocks, func(b Block) bool { return !b.judges() })
	return p.Failed == "" && p.Status == Changed && !said && len(p.Moves) == 0 && len(p.Findings.New) == 0 && len(p.Findings.Gone) == 0 && p.Silenced.same() &&
		!slices.ContainsFunc(p.Limits, Limit.judges) && len(p.Parts) == 0 && p.Pixels.Same() && p.Called == ""
}

// empty is a plan without any blocks, to compare a new or removed one with.
func empty(like *Side) *Side {
	p := schema.Decode(like.Plan.Dir, nil, nil)
	f, _ := figures.Work(context.Background(), p, nil) // fails only where its context ends
	return &Side{Plan: p, Figures: f}
}

// watts are what all supplies give in the case held, where all of them are known.
func watts(f *figures.Figures) *float64 {
	sum := 0.0
	held, ok := f.Case(schema.Held)
	if !ok {
		return &sum
	}
	for _, s := range held.Supplies {
		if !s.OK {
			return nil
		}
		sum += s.Volts * s.Amps
	}
	return &sum
}

func unsolved(base, head *Side) string {
	b, h := !known(base), !known(head)
	switch {
	case b && h:
		return "both"
	case b:
		return "base"
	case h:
		return "head"
	}
	return ""
}

func known(s *Side) bool {
	if !s.Figures.Complete && len(s.Plan.Blocks) > 0 {
		return false
	}
	for _, is := range s.Figures.Islands {
		if is.Err != nil {
			return false
		}
	}
	return true
}
