package ide

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// linkLength is how long the wires are that join the pieces of a run that is cut, and mostTaps at how many feeds of a run one
// is offered to be cut.
const (
	linkLength = "5 cm"
	mostTaps   = 3
)

// splitRun makes two runs of one, cut at a pad where it is fed: at the place under the cursor, or, on the run itself, at each
// such place. What was the far part is a run of its own, joined by a short lead, and by a data lead where one reaches the run.
// Places, orders and chains name the pieces then.
func (v *View) splitRun(h *hit) (out []Action) {
	if len(h.nodes) == 0 || v.Figures == nil || v.Bears == nil {
		return nil
	}
	tried := map[int]bool{} // by pixel: two leads at one pad cut it alike
	offer := func(l *figures.Lead, pt *schema.Point) {
		r, ok := v.Figures.Run(pt.Run)
		if !ok || !r.OK {
			return
		}
		if at := r.Snap(pt); at.Pixel > 0 && at.Pixel < r.Pixels && !tried[at.Pixel] && len(tried) < mostTaps {
			tried[at.Pixel] = true
			out = append(out, (&splitting{View: v, run: r, by: l, pixel: at.Pixel, at: at.At}).actions()...)
		}
	}
	inside := func(pt *schema.Point) bool {
		return pt != nil && pt.Run != nil && (pt.Where == schema.AtPixel || pt.Where == schema.AtDistance)
	}
	switch n := h.nodes[0]; {
	case n.Type == "lead" && len(h.nodes) == 1 && h.assign != nil && (h.assign.Name == "from" || h.assign.Name == "to"):
		blocks := v.copies(n)
		if len(blocks) != 1 {
			return nil
		}
		l, ok := v.Figures.Lead(blocks[0].(*schema.Lead))
		if !ok {
			return nil
		}
		pt := l.From.V
		if h.assign.Name == "to" {
			pt = l.To.V
		}
		if inside(pt) {
			offer(l, pt)
		}
	case n.Type == "run" && touches(n.Head, h.at):
		blocks := v.copies(n)
		if len(blocks) != 1 {
			return nil
		}
		for _, l := range v.Figures.Ends(blocks[0]) {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if inside(pt) && pt.Run == blocks[0] {
					offer(l, pt)
				}
			}
		}
	}
	return out
}

// splitting is a run on its way to be cut.
type splitting struct {
	*View
	run   *figures.Run
	by    *figures.Lead // that feeds it there
	pixel int           // the first of the far piece
	at    float64       // m from the start

	rest, link string // names of the far piece, and of what joins it
	data       bool   // whether a data lead joins it too
	edits      []schema.Edit
	behind     []string // new blocks below the run
	ok         bool
}

func (s *splitting) actions() []Action {
	r := s.run
	if r.Home != schema.InPlan || r.Copy > 0 || r.Assembly() != "" || r.MadeBy() != nil || r.Node.InLine() || r.Entered() != nil || len(r.Node.Piece().Problems()) > 0 ||
		r.Capacitor.Set || r.Times.Set || !r.Run.Motion().None() || r.Run.Mitred.V || !s.by.OK || !s.by.Plus() || !s.by.Minus() || s.by.MadeBy() != nil || s.by.Copy > 0 || s.by.Parallel.V > 1 || s.tailed() ||
		slices.ContainsFunc(s.Plan.Runs, func(o *schema.Run) bool {
			return o.Beside.V == r.Run || o.Like != nil && schema.HeaderOf(o.Like) == &r.Run.Header
		}) {
		return nil
	}
	s.rest, s.link, s.ok = s.free("run", r.Name+"-rest"), s.free("lead", r.Name+"-rest"), true
	s.shape()
	s.places()
	s.lists()
	s.join()
	if !s.ok || spoils(s.edits) {
		return nil
	}
	s.edits = append(s.edits, schema.InsertBehind(r.Node, strings.Join(s.behind, "\n\n")))
	fig, ok := s.bears(s.edits, map[string]string{"run." + s.rest: r.ID()})
	if !ok || !s.same(fig) {
		return nil
	}
	link, _ := fig.LeadNamed("lead." + s.link)
	if link.Fuse.Set || link.Holder.Set || slices.ContainsFunc(fig.Plan.Signals, func(x *schema.Signal) bool {
		return x.Resistor.Set && x.To.V != nil && x.To.V.Run != nil && x.To.V.Run.ID() == "run."+s.rest
	}) {
		return nil // as is usual in this plan: nobody puts that between two pieces
	}
	title := fmt.Sprintf("Split %s where %s feeds it, at pixel %d of %d: joined by %s of %s, %s a side", r.ID(), s.by.ID(), s.pixel, r.Pixels, linkLength, s.by.Wire.V.ID(), quantity.Show(quantity.Resistance, link.Ohms))
	if s.data {
		title += ", and a data lead as long"
	}
	return s.offer(Action{Title: title, Kind: RefactorRewrite}, s.edits)
}

// tailed reports whether something stands behind the run on its last line.
func (s *splitting) tailed() bool {
	at := s.run.Node.Whole
	return fullLines(at).End-at.End > 0 && strings.TrimSpace(string(at.Piece.Bytes()[at.End:fullLines(at).End])) != ""
}

// free is a name that no block of a kind has.
func (v *View) free(kind, wish string) string {
	for v.Plan.Taken(kind, wish) {
		wish += "-more"
	}
	return wish
}

func (s *splitting) set(values ...[2]string) {
	s.edits = append(s.edits, setAttrs(s.run.Node, values)...)
}

// shape draws the two pieces.
func (s *splitting) shape() {
	r, says, nested := s.run, [][2]string{{"like", s.run.ID()}}, ""
	var own [][2]string
	both := func(name, near, far string) {
		own, says = append(own, [2]string{name, near}), append(says, [2]string{name, far})
	}
	switch {
	case r.Through.Set:
		near, far, ok := s.through()
		if !ok {
			s.ok = false
			return
		}
		both("through", near, far)
	case r.Run.Length.Set:
		q := r.Run.Length.V
		both("length", measure(q, s.at), measure(q, r.Length-s.at))
	case r.Drawing() != nil:
		i := slices.IndexFunc(r.Node.Blocks, func(n *schema.Node) bool { return n.Type == "path" || n.Type == "circle" })
		if i < 0 || commented(r.Node.Blocks[i].Inside) {
			s.ok = false
			return
		}
		if n := r.Node.Blocks[i]; n.Type == "circle" {
			nested = s.circle(n)
		} else {
			nested = s.path(n)
		}
	case r.Beside.Set:
		s.ok = false
		return
	}
	if r.Run.Pixels.Set {
		both("pixels", strconv.Itoa(s.pixel), strconv.Itoa(r.Pixels-s.pixel))
	}
	s.set(own...)
	if nested != "" {
		nested = "\n  " + strings.ReplaceAll(nested, "\n", "\n  ")
	}
	s.behind = append(s.behind, fmt.Sprintf("run %q {\n  %s%s\n}", s.rest, strings.Join(aligned(says), "\n  "), nested))
}

// circle cuts a circle, and gives that of the far piece.
func (s *splitting) circle(n *schema.Node) string {
	c := s.run.Circle
	near := s.at / c.Radius.V.SI * 180 / math.Pi
	start := c.Start.V.SI - near
	if c.Turn.V == "left" {
		start = c.Start.V.SI + near
	}
	s.edits = append(s.edits, setAttrs(n, [][2]string{{"sweep", angle(near)}})...)
	values := [][2]string{{"start", angle(start)}, {"sweep", angle(c.Sweep.V.SI - near)}}
	for _, a := range n.Assigns {
		if a.Name != "start" && a.Name != "sweep" {
			values = append(values, [2]string{a.Name, text(a.Val.At)})
		}
	}
	return "circle {\n  " + strings.Join(aligned(values), "\n  ") + "\n}"
}

// path cuts a path within a line or an arc, or between two steps, and gives that of the far piece.
func (s *splitting) path(n *schema.Node) string {
	r, p := s.run, s.run.Run.Path
	if p.Closed.V || len(n.Blocks) != len(p.Steps) {
		s.ok = false
		return ""
	}
	gone := 0.0
	for i, step := range p.Steps {
		length, ok := s.stepLength(step, gone)
		if !ok {
			break
		}
		node, last := n.Blocks[i], n.Blocks[len(n.Blocks)-1]
		if s.at > gone+length+rounded {
			gone += length
			continue
		}
		x, y, heading := r.Path.At(s.at)
		cut := placeAt(x, y, unitOf(text(n.Inside)))
		var far []string
		near := text(node.Whole)
		if s.at < gone+length-rounded {
			near = editedIn(node, partOfStep(step, node, cut, s.at-gone, length))
			far = append(far, outdented(node, editedIn(node, partOfStep(step, node, "", length-s.at+gone, length))))
		} else if i == len(p.Steps)-1 {
			break
		}
		s.edits = append(s.edits, schema.Edit{At: source.Span{Piece: node.Piece(), Start: node.Whole.Start, End: last.Whole.End}, New: near})
		for _, o := range n.Blocks[i+1:] {
			far = append(far, dedented(o.Whole))
		}
		values := [][2]string{{"start", cut}}
		if _, to := n.Blocks[len(n.Blocks)-len(far)].Assign("to"); !to { // it goes on from there
			values = append(values, [2]string{"heading", angle(heading)})
		}
		return "path {\n  " + strings.Join(aligned(values), "\n  ") + "\n  " + strings.ReplaceAll(strings.Join(far, "\n"), "\n", "\n  ") + "\n}"
	}
	s.ok = false
	return ""
}

// stepLength is the length of a line or an arc that begins at a distance along the path, m.
func (s *splitting) stepLength(step schema.Step, at float64) (float64, bool) {
	x, y, _ := s.run.Path.At(at)
	switch step := step.(type) {
	case *schema.Line:
		if step.To.Set {
			return math.Hypot(step.To.V.X-x, step.To.V.Y-y), true
		}
		return step.Length.V.SI, true
	case *schema.Arc:
		if !step.To.Set {
			return step.Radius.V.SI * step.Sweep.V.SI * math.Pi / 180, true
		}
		radius := step.Radius.V.SI
		sweep := 2 * math.Asin(min(1, math.Hypot(step.To.V.X-x, step.To.V.Y-y)/2/radius))
		if step.Long.V {
			sweep = 2*math.Pi - sweep
		}
		return radius * sweep, true
	}
	return 0, false
}

// partOfStep are the edits of a line or an arc of which so much is left, which ends at a place, or where it ended.
func partOfStep(step schema.Step, n *schema.Node, end string, left, length float64) (out []schema.Edit) {
	for _, a := range n.Assigns {
		now := ""
		switch a.Name {
		case "to":
			now = end
		case "length":
			now = measure(step.(*schema.Line).Length.V, left)
		case "sweep":
			now = angle(step.(*schema.Arc).Sweep.V.SI * left / length)
		case "long":
			now = strconv.FormatBool(left > math.Pi*step.(*schema.Arc).Radius.V.SI)
		}
		if now != "" {
			out = append(out, schema.Edit{At: a.Val.At, New: now})
		}
	}
	return out
}

// outdented is the text of a block as it would stand at the left edge.
func outdented(n *schema.Node, text string) string {
	return strings.ReplaceAll(text, "\n"+strings.Repeat(" ", column(n.Whole)), "\n")
}

// through are the places of the two pieces.
func (s *splitting) through() (near, far string, ok bool) {
	r := s.run
	a, ok := r.Node.Assign("through")
	if !ok || a.Val.Kind != schema.ListVal || commented(a.Val.At) || r.Shape.V == "smooth" || r.Closed.V || r.Corner.Set || len(a.Val.Items) != len(r.Through.V) {
		return "", "", false
	}
	var places []string
	for _, x := range a.Val.Items {
		places = append(places, text(x.At))
	}
	gone := 0.0
	for i, p := range r.Through.V[1:] {
		was := r.Through.V[i]
		step := math.Hypot(p.X-was.X, p.Y-was.Y)
		if gone+step < s.at-rounded {
			gone += step
			continue
		}
		share := (s.at - gone) / step
		cut := placeAt(was.X+share*(p.X-was.X), was.Y+share*(p.Y-was.Y), unitOf(places[0]))
		rest := places[i+1:]
		if gone+step <= s.at+rounded { // at a place that is written
			cut, rest = places[i+1], places[i+2:]
		}
		list := func(places ...string) string { return "[" + strings.Join(places, ", ") + "]" }
		return list(append(slices.Clone(places[:i+1]), cut)...), list(append([]string{cut}, rest...)...), len(rest) > 0
	}
	return "", "", false
}

// places names the places on the run anew.
func (s *splitting) places() {
	of := func(r *schema.Run) bool { return r == s.run.Run }
	for _, x := range s.placesOn(of) {
		steps := x.val.Steps
		if len(steps) == 2 {
			if x.in.Type == "feed" || x.in.Type == "let" || x.in.Type == "run" || x.in.Type == "usual" {
				s.ok = false
			}
			continue // of lists
		}
		rest := func(place string) {
			if x.in.Type == "feed" || x.in.Type == "let" { // a lead would get another name
				s.ok = false
			}
			at := x.val.At
			at.Start = steps[1].At.Start
			if steps[1].Index != nil { // run["arch"]
				place = "." + place
			}
			s.edits = append(s.edits, schema.Edit{At: at, New: place})
		}
		switch steps[2].Name {
		case "start":
			continue
		case "end":
			rest(s.rest + ".end")
			continue
		}
		pt, ok := x.within()
		if !ok {
			s.ok = false
			return
		}
		switch at := s.run.Snap(pt); {
		case at.Pixel < s.pixel:
		case at.Pixel == s.pixel:
			rest(s.run.Name + ".end")
		case at.Pixel == s.run.Pixels:
			rest(s.rest + ".end")
		case pt.Where == schema.AtPixel:
			rest(fmt.Sprintf("%s[%d]", s.rest, at.Pixel-s.pixel))
		default:
			rest(s.rest + "[" + measure(pt.Distance, at.At-s.at) + "]")
		}
	}
}

// lists puts the pieces in the run's place in orders, chains and cases.
func (s *splitting) lists() {
	for _, p := range pieces(s.Plan.Files) {
		for _, n := range schema.NodesIn(p) {
			if a, ok := n.Assign("runs"); ok && n.Type != "runs" {
				s.list(n, a)
			}
		}
	}
}

func (s *splitting) list(n *schema.Node, a *schema.Assign) {
	is := func(val *schema.Val) bool {
		if val.Kind != schema.RefVal || len(val.Steps) != 2 {
			return false
		}
		t, used := s.follow(val.Steps)
		return used == 2 && t.block == schema.Block(s.run.Run)
	}
	var holds func(val *schema.Val) bool
	holds = func(val *schema.Val) bool { return is(val) || slices.ContainsFunc(val.Items, holds) }
	for _, x := range a.Val.Listed() {
		var now string
		switch near, far := s.run.ID(), "run."+s.rest; {
		case is(x):
			now = near + ", " + far
		case x.Kind == schema.CallVal && x.Func.Text == "from_end" && len(x.Items) == 1 && is(x.Items[0]) && n.Type == "order":
			now = "from_end(" + far + "), from_end(" + near + ")"
		case holds(x):
			s.ok = false
			return
		default:
			continue
		}
		if a.Val.Kind != schema.ListVal {
			now = "[" + now + "]"
		}
		s.edits = append(s.edits, schema.Edit{At: x.At, New: now})
		if n.Type == "chain" {
			if l, ok := n.Assign("length"); ok && l.Val.Kind == schema.ListVal || s.run.DataEnters.V == "end" {
				s.ok = false
				return
			}
			s.edits = append(s.edits, schema.InsertBlock(n, fmt.Sprintf("hop {\n  to     = run.%s\n  length = %q\n}", s.rest, linkLength)))
		}
	}
}

// join writes what joins the pieces: a lead like the one that feeds them there, and a data lead like the one that reaches the run.
func (s *splitting) join() {
	near, far := s.run.ID()+".end", "run."+s.rest+".start"
	block := func(kind, name string, values [][2]string) {
		s.behind = append(s.behind, fmt.Sprintf("%s %q {\n  %s\n}", kind, name, strings.Join(aligned(values), "\n  ")))
	}
	block("lead", s.link, [][2]string{{"from", near}, {"to", far}, {"wire", s.by.Wire.V.ID()}, {"length", strconv.Quote(linkLength)}})
	for _, x := range s.Plan.Signals {
		if at := x.To.V; at == nil || at.Run != s.run.Run {
			continue
		}
		if x.MadeBy() != nil {
			return // the chain joins them
		}
		if s.run.DataEnters.V == "end" {
			near, far = far, near
		}
		values := [][2]string{{"from", near}, {"to", far}}
		if x.Wire.V != nil {
			values = append(values, [2]string{"wire", x.Wire.V.ID()})
		}
		s.data = true
		block("signal", s.free("signal", s.rest), append(values, [2]string{"length", strconv.Quote(linkLength)}))
		return
	}
}

// same reports whether the pieces together are what the run was, all that ends on it or measures it does so at the same pad, and
// the voltages differ by no more than what the lead between them takes.
func (s *splitting) same(after *figures.Figures) bool {
	near, _ := after.RunNamed(s.run.ID())
	far, _ := after.RunNamed("run." + s.rest)
	if near == nil || far == nil || !near.OK || !far.OK || near.Pixels != s.pixel || far.Pixels != s.run.Pixels-s.pixel || len(after.Runs) != len(s.Figures.Runs)+1 || len(after.Leads) != len(s.Figures.Leads)+1 {
		return false
	}
	for k := 0; s.run.Path != nil && k < s.run.Pixels; k++ { // where each pixel is
		r, j := near, k
		if k >= s.pixel {
			r, j = far, k-s.pixel
		}
		x0, y0, _ := s.run.Path.At((float64(k) + 0.5) * s.run.Pitch)
		x1, y1, _ := r.Path.At((float64(j) + 0.5) * r.Pitch)
		if math.Hypot(x0-x1, y0-y1) > closing {
			return false
		}
	}
	pad := func(f *figures.Figures, pt *schema.Point) (string, int) {
		if pt == nil || pt.Run == nil {
			return fmt.Sprint(pt), 0
		}
		r, ok := f.Run(pt.Run)
		if !ok || !r.OK {
			return pt.String(), 0
		}
		switch at := r.Snap(pt).Pixel; r {
		case far:
			return s.run.ID(), at + s.pixel
		default:
			return r.ID(), at
		}
	}
	samePad := func(a, b *schema.Point) bool {
		x, i := pad(s.Figures, a)
		y, j := pad(after, b)
		return x == y && i == j
	}
	for _, b := range s.Plan.Blocks {
		o, ok := after.Plan.Find(schema.HeaderOf(b).ID())
		if _, named := s.Plan.Find(schema.HeaderOf(b).ID()); !named {
			continue
		}
		if !ok {
			return false
		}
		switch x := b.(type) {
		case *schema.Lead:
			y := o.(*schema.Lead)
			m, _ := s.Figures.Lead(x)
			n, _ := after.Lead(y)
			if !samePad(x.From.V, y.From.V) || !samePad(x.To.V, y.To.V) || m.OK != n.OK || m.OK && math.Abs(m.Length-n.Length) > closing {
				return false
			}
		case *schema.Signal:
			if y := o.(*schema.Signal); !samePad(x.From.V, y.From.V) || !samePad(x.To.V, y.To.V) {
				return false
			}
		case *schema.Case:
			y := o.(*schema.Case)
			lit := slices.Contains(x.Runs.V, s.run.Run)
			if lit != slices.Contains(y.Runs.V, near.Run) || lit != slices.Contains(y.Runs.V, far.Run) {
				return false
			}
		case *schema.Order, *schema.Chain, *schema.Reading: // see below
		case *schema.Run:
			if x != s.run.Run && !resolved.AlikeBlocks(b, o) {
				return false
			}
		default:
			if !resolved.AlikeBlocks(b, o) {
				return false
			}
		}
	}
	for i, x := range s.Plan.Readings {
		if y := after.Plan.Readings[i]; !samePad(x.Place.V, y.Place.V) {
			return false
		}
	}
	for i, o := range s.Figures.Orders {
		if !slices.Equal(s.lineOf(o, nil), s.lineOf(after.Orders[i], far)) {
			return false
		}
	}
	return s.sameVolts(after, near, far)
}

// lineOf are the pixels of an order: of which run, and which.
func (s *splitting) lineOf(o *figures.Order, far *figures.Run) (out []pixelOf) {
	for _, x := range o.Spans {
		id, first := x.Run.ID(), 0
		if x.Run == far {
			id, first = s.run.ID(), s.pixel
		}
		for k := range x.Count {
			if x.FromEnd {
				k = x.Count - 1 - k
			}
			out = append(out, pixelOf{id, first + k})
		}
	}
	return out
}

type pixelOf struct {
	run   string
	pixel int
}

func (s *splitting) sameVolts(after *figures.Figures, near, far *figures.Run) bool {
	link, _ := after.LeadNamed("lead." + s.link)
	for i, c := range s.Figures.Cases {
		o, was := after.Cases[i], c.Runs[s.Figures.Place(s.run.Run)]
		x, y, l := o.Runs[after.Place(near.Run)], o.Runs[after.Place(far.Run)], o.Leads[after.Place(link.Lead)]
		if !was.OK || !x.OK || !y.OK || !l.OK || math.Abs(min(x.MinVolts, y.MinVolts)-was.MinVolts) > math.Abs(l.Drop)+1e-6 {
			return false
		}
	}
	return true
}
