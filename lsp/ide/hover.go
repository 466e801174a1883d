package ide

import (
	"fmt"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Hover is what to show about the thing at a place of v.File.
type Hover struct {
	Range
	Markdown string
}

// HoverAt describes what stands at an offset. Figures belong to the load case
// of that name; where the plan has none such, to the case full.
func HoverAt(v *View, offset int, caseName string) (Hover, bool) {
	h, ok := v.hit(offset)
	if !ok {
		return Hover{}, false
	}
	if a, ok := v.allowAt(h.spot); ok {
		return v.hoverAllow(h.spot, a)
	}
	say := func(at source.Span, p page) (Hover, bool) {
		return Hover{h.file(at), p.String()}, len(p.parts) > 0
	}
	switch h.part {
	case onType:
		return say(h.node().TypeAt, v.blockPage(h, caseName, true))
	case onLabel:
		return say(h.node().Labels[0].At, v.blockPage(h, caseName, false))
	case onAttr:
		return say(h.assign.NameAt, v.attrPage(h))
	case onFunc:
		return say(h.val().Func.At, v.callPage(h.val()))
	case onValue:
		at, p := v.valuePage(h, caseName)
		return say(at, p)
	}
	return Hover{}, false
}

// allowAt finds the silencing comment at a place.
func (v *View) allowAt(s spot) (lint.Allow, bool) {
	for _, a := range lint.Allows(s.piece) {
		if touches(a.At, s.at) {
			return a, true
		}
	}
	return lint.Allow{}, false
}

func (v *View) hoverAllow(s spot, a lint.Allow) (Hover, bool) {
	r, ok := v.rule(a.Rule.Text)
	if !ok {
		return Hover{}, false
	}
	return Hover{s.file(a.At), ruleDoc(r)}, true
}

// blockPage describes a block in the text: its figures, and on its type what
// such a block is for.
func (v *View) blockPage(h *hit, caseName string, typed bool) page {
	var p page
	n, t := h.node(), h.blockType()
	title := n.Type
	for _, l := range n.LabelTexts() {
		title += fmt.Sprintf(" %q", l)
	}
	p.add("**%s**", prose(title))
	if typed && t != nil {
		p.add("%s", t.Doc)
	}
	if it, ok := v.declared(h.nodes); ok {
		switch {
		case it.port != nil:
			p.facts(v.portFacts(it.port))
		case it.block != nil:
			p.copies(v, v.copies(n), caseName)
			p.facts(v.limitFacts(v.copies(n), ""))
			p.standsFor(v, it.block)
			p.isUsual(it.block)
		}
	}
	if len(h.nodes) > 1 {
		p.alone(v, n, h.nodes[len(h.nodes)-2])
	}
	if typed && t != nil {
		p.add("%s", t.Detail)
	}
	if len(p.parts) == 1 && t != nil {
		p.add("%s", t.Doc)
	}
	return p
}

// copies adds the figures of a block, of copies those of the one that speaks for them.
func (p *page) copies(v *View, blocks []schema.Block, caseName string) {
	if len(blocks) == 0 {
		return
	}
	b, why := v.speaks(blocks, caseName)
	if len(blocks) > 1 {
		first, last := schema.HeaderOf(blocks[0]), schema.HeaderOf(blocks[len(blocks)-1])
		p.add("%d copies: %s to %s", len(blocks), prose(first.ID()), prose(last.ID()))
		if why != "" {
			p.add("%s has %s:", prose(schema.HeaderOf(b).ID()), prose(why))
		}
	}
	if before, was, ok := v.judgedBefore(b); ok {
		p.add("%s", oldNote)
		p.facts(before.facts(was, caseName))
		return
	}
	p.facts(v.facts(b, caseName))
}

func (v *View) attrPage(h *hit) page {
	var p page
	if t, ok := schema.TypeNamed(h.node().Type); ok && len(h.nodes) == 1 && h.assign.Name == "like" && t.Likes() {
		like := t.Like()
		p.add("**like**")
		p.add("%s", like.Doc)
		p.add("%s", code("like = "+like.Example))
		return p
	}
	if h.attr == nil {
		return p
	}
	if h.attr.Kind == schema.Values {
		if l, ok := v.Plan.Let(h.assign.Name); ok {
			p.let(v, l)
		}
		p.add("%s", h.attr.Doc)
		return p
	}
	p.add("**%s**", h.attr.Name)
	p.add("%s", attrDoc(h.blockType(), h.attr))
	if len(h.nodes) == 1 {
		p.facts(v.limitFacts(v.copies(h.node()), h.attr.Name))
	}
	if h.attr.Name == "fuse" && len(h.nodes) == 1 {
		if leads := v.copies(h.node()); len(leads) > 0 {
			p.facts(v.fuseOf(leads[0]))
		}
	}
	return p
}

// let adds a named value with what it works out to.
func (p *page) let(v *View, l *schema.LetValue) {
	p.add("%s", code("let."+l.Name+" = "+l.Val.String()))
	if q, ok := v.Plan.Quantity(l); ok {
		p.add("%s", prose(measured(q, l.Val.Text)))
	}
}

// callPage describes a function, and what this call of it gives.
func (v *View) callPage(c *schema.Val) page {
	var p page
	f, ok := schema.FunctionNamed(c.Func.Text)
	if !ok {
		return p
	}
	label, _ := call(f)
	p.add("%s", code(label))
	if q, ok := v.evaluate(c); ok {
		p.add("Here it gives %s", measured(q, ""))
	}
	p.add("%s", functionDoc(f))
	return p
}

// valuePage describes a value, or the part of it at the place.
func (v *View) valuePage(h *hit, caseName string) (source.Span, page) {
	var p page
	val := h.val()
	at := val.At
	switch val.Kind {
	case schema.RefVal:
		if h.step >= 0 {
			return v.referencePage(h, caseName)
		}
	case schema.MapVal:
		if h.key >= 0 {
			at = val.Keys[h.key].At
			if name, ok := letterNames[val.Keys[h.key].Text]; ok {
				p.add("**%s**: the %s channel", val.Keys[h.key].Text, name)
			}
		}
	case schema.TextVal:
		v.textPage(&p, h)
	case schema.NumberVal:
		if pin := v.pin(h); pin != nil && pin.Use.Known() && h.attr != nil && h.attr.Name == "pin" {
			p.add("%s", pinText(pin))
		}
	}
	if h.attr != nil && h.attr.Name != "*" {
		p.add("%s: %s", h.attr.Name, lowerFirst(h.attr.Doc))
		if len(h.nodes) == 1 {
			p.facts(v.limitFacts(v.copies(h.node()), h.attr.Name))
		}
	}
	return at, p
}

func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' || s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

var letterNames = map[string]string{"R": "red", "G": "green", "B": "blue", "W": "white (where there are two, the warm one)", "C": "cool white", "A": "amber"}

// pinText says how well a pin serves as a data output, and why.
func pinText(pin *schema.Pin) string {
	text := fmt.Sprintf("pin %s: **%s**", pin.Name, pin.Use.V)
	if pin.Because.Known() && pin.Because.V != "" {
		return text + ", " + pin.Because.V
	}
	for _, o := range pinUses() {
		if o.Value == pin.Use.V {
			text += ", " + o.Doc
		}
	}
	return text
}

// pinUses are the declared ways in which a pin serves.
func pinUses() []schema.Option {
	t, _ := schema.TypeNamed("board")
	if pin, ok := t.Block("pin"); ok {
		if a, ok := pin.Attr("use"); ok {
			return a.Choices
		}
	}
	return nil
}

// textPage describes a value in quotes.
func (v *View) textPage(p *page, h *hit) {
	val, a := h.val(), h.attr
	if a == nil {
		return
	}
	if q, ok := v.quantityIn(h); ok {
		p.add("%s", measured(q, val.Text))
		return
	}
	switch a.Kind {
	case schema.Choice:
		for _, o := range a.Choices {
			if o.Value == val.Text {
				p.add("`%q`: %s", o.Value, o.Doc)
			}
		}
	case schema.RuleNames:
		if r, ok := v.rule(val.Text); ok {
			p.add("%s", ruleDoc(r))
		}
	case schema.Letters:
		var names []string
		for _, l := range val.Text {
			if n, ok := letterNames[string(l)]; ok {
				names = append(names, n)
			}
		}
		p.add("On the wire: %s", strings.Join(names, ", "))
	case schema.Colour:
		if c, ok := colourIn(val.Text); ok {
			p.add("red %s, green %s, blue %s of the full duty", share(c[0]), share(c[1]), share(c[2]))
		}
	case schema.Directories:
		if dir, ok := schema.StockDir(v.dir(), val.Text); ok {
			p.add("the directory `%s` of the workspace", dir)
		}
	}
}

// referencePage describes what a reference leads to.
func (v *View) referencePage(h *hit, caseName string) (source.Span, page) {
	var p page
	val := h.val()
	t, at, ok := v.at(h)
	if !ok {
		if h.step == 0 {
			if bt, isType := schema.TypeNamed(val.Steps[0].Name); isType {
				p.add("**%s**", bt.Name)
				p.add("%s", bt.Doc)
			}
		}
		return val.Steps[max(h.step, 0)].At, p
	}
	switch {
	case t.let != nil:
		p.let(v, t.let)
		return source.Span{Piece: at.Piece, Start: val.Steps[0].At.Start, End: at.End}, p
	case t.port != nil:
		p.add("**%s**", prose(t.id()))
		if t.port.Pin.Known() && t.port.Pin.Set {
			p.add("pin %d", t.port.Pin.V)
		}
		p.facts(v.portFacts(t.port))
		return at, p
	}
	_, used := v.follow(val.Steps)
	if len(val.Steps) > used && h.step >= used {
		if ok := v.placePage(&p, h, caseName); ok {
			at.Start = val.Steps[0].At.Start
			return at, p
		}
	}
	p.thing(v, t, caseName)
	return source.Span{Piece: at.Piece, Start: val.Steps[0].At.Start, End: at.End}, p
}

// thing adds what a block is and what was worked out about it.
func (p *page) thing(v *View, t thing, caseName string) {
	hd := schema.HeaderOf(t.block)
	p.add("**%s**", prose(t.id()))
	blocks := []schema.Block{t.block}
	if hd.Copy > 0 && !t.one {
		blocks = v.copies(hd.Node)
	}
	p.copies(v, blocks, caseName)
	if hd.Type.Part || hd.Home != schema.InPlan {
		p.add("%s", code(partText(t.block)))
		if src := sourceText(t.block); src != "" {
			p.add("Source: %s", prose(src))
		}
	} else if v.Figures == nil || len(p.parts) == 1 {
		p.add("%s", code(partText(t.block)))
	}
}

// placePage describes a place: the voltage there, and where it snaps to.
func (v *View) placePage(p *page, h *hit, caseName string) bool {
	pt := v.pointOf(h)
	if pt == nil {
		return false
	}
	p.add("**%s**", prose(pt.String()))
	var fs facts
	if pt.Run != nil && v.Figures != nil && (pt.Where == schema.AtDistance || pt.Where == schema.AtPixel) {
		if r, ok := v.Figures.Run(pt.Run); ok && r.OK {
			snap := r.Snap(pt)
			text := v.metres(snap.At) + " from the start"
			if r.Pitch > 0 {
				text += fmt.Sprintf(", before pixel %.0f", snap.At/r.Pitch)
			}
			if moved := snap.Moved; moved > 0.0005 || moved < -0.0005 {
				text += fmt.Sprintf(" (%s from what is written)", v.metres(max(moved, -moved)))
			}
			fs.add("nearest pad", "%s", text)
		}
	}
	if v.Figures != nil {
		for _, c := range v.Figures.Cases {
			if x, ok := v.voltsAt(pt, c); ok {
				fs.add("voltage in "+c.Name, "%s", volts(x))
			}
		}
		if pt.Supply != nil {
			c := v.loadCase(caseName)
			if x, ok := v.supplyCase(pt.Supply, c); ok && pt.Output >= 1 && pt.Output <= len(x.Each) {
				fs.add("current in "+c.Name, "%s", amps(x.Each[pt.Output-1]))
			}
		}
	}
	p.facts(fs)
	return true
}

// pointOf is the resolved place that the attribute at a place holds.
func (v *View) pointOf(h *hit) *schema.Point {
	if len(h.nodes) != 1 || len(h.vals) == 0 || h.vals[0].Kind != schema.RefVal {
		return nil
	}
	for _, b := range v.copies(h.nodes[0]) {
		var val schema.Value[*schema.Point]
		switch b := b.(type) {
		case *schema.Lead:
			val = map[string]schema.Value[*schema.Point]{"from": b.From, "to": b.To}[h.assign.Name]
		case *schema.Signal:
			val = map[string]schema.Value[*schema.Point]{"from": b.From, "to": b.To}[h.assign.Name]
		case *schema.Reading:
			val = map[string]schema.Value[*schema.Point]{"at": b.Place}[h.assign.Name]
		}
		if val.Known() {
			return val.V
		}
	}
	return nil
}
