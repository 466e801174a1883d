package ide

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Renaming is a name that can be given anew.
type Renaming struct {
	Range        // in v.File, without quotes; of a copy with its number
	Name  string // as it is, without that
}

// PrepareRename finds the name at an offset, or says why it cannot be renamed.
func PrepareRename(v *View, offset int) (Renaming, error) {
	h, t, at, err := v.renamed(offset)
	if err != nil {
		return Renaming{}, err
	}
	if !touches(at, h.at) { // on a quote
		return Renaming{}, errNoName
	}
	return Renaming{h.file(at), text(t.written(at))}, nil
}

var errNoName = errors.New("there is no name here; put the cursor on the name of a block, port or named value")

// renamed finds the thing at an offset and the name that stands there, which
// may be that of a copy.
func (v *View) renamed(offset int) (*hit, thing, source.Span, error) {
	h, ok := v.hit(offset)
	if !ok {
		return nil, thing{}, source.Span{}, errNoName
	}
	t, at, ok := v.at(h)
	switch {
	case !ok:
		return nil, thing{}, source.Span{}, errNoName
	case v.inCatalogue(t):
		return nil, thing{}, source.Span{}, fmt.Errorf("%s is an entry of the built-in catalogue and keeps its name; write a block of your own with like = %s and name that", t.id(), t.id())
	case t.let == nil && len(t.node.Labels) == 0:
		return nil, thing{}, source.Span{}, fmt.Errorf("%s has no name", t.node.Type)
	case t.node != nil && t.node.Maker != nil:
		m := t.node.Maker
		return nil, thing{}, source.Span{}, fmt.Errorf("%s has its name of the %s %q and of what it joins; rename these", t.id(), m.Type, m.Label())
	case t.node != nil && t.node.Type == "usual":
		return nil, thing{}, source.Span{}, errors.New("what stands behind usual is a kind of block, and keeps its name")
	case t.node != nil && t.node.Type == "copy":
		return nil, thing{}, source.Span{}, errors.New("a copy has its number for a name")
	case t.node != nil && t.node.Type == "pin":
		return nil, thing{}, source.Span{}, errors.New("a pin has the number that the chip's maker gave it")
	}
	if by, ok := v.picked(t); ok {
		return nil, thing{}, source.Span{}, fmt.Errorf("%s keeps its name: %s means it by the number at its end", t.id(), by.Bytes())
	}
	switch h.part {
	case onType:
		return nil, thing{}, source.Span{}, errNoName
	case onValue:
		steps := h.val().Steps
		if _, used := v.follow(steps); h.step != used-1 && !(used == 4 && h.step == 1) {
			return nil, thing{}, source.Span{}, errNoName
		}
		at = bare(inBrackets(at))
	}
	return h, t, at, nil
}

// written is the thing's own name within a step that may name a copy of it.
func (t thing) written(at source.Span) source.Span {
	if t.block != nil {
		if part, ok := partOf(at, t.block, t.node); ok {
			return part
		}
	}
	if t.node != nil && t.port == nil {
		at.End = min(at.End, at.Start+len(t.node.Label()))
	}
	return at
}

func (v *View) inCatalogue(t thing) bool {
	_, _, _, ok := schema.Catalogue().Locate(t.name())
	return ok
}

// Rename gives the thing at an offset another name everywhere in the plan and
// its stock, or says why it cannot have that name.
func Rename(v *View, offset int, name string) ([]TextEdit, error) {
	_, t, _, err := v.renamed(offset)
	if err != nil {
		return nil, err
	}
	if t.block != nil { // where it is different in some copies, it has its name of the block that it varies
		written := schema.HeaderOf(t.block).Written()
		if first := written[len(written)-1]; first != t.node && first.Type == t.node.Type && first.Label() == t.node.Label() {
			t.node, t.block = first, v.copies(first)[0]
		}
	}
	if err := v.mayBeCalled(t, name); err != nil {
		return nil, err
	}
	var edits []schema.Edit
	add := func(at source.Span, text string) { edits = append(edits, schema.Edit{At: at, New: text}) }
	labels := v.labels(t)
	for _, p := range pieces(v.files()) {
		for _, at := range labels {
			if at.Piece == p {
				add(at, name)
			}
		}
		for _, at := range v.usesIn(p, t) {
			add(t.written(bare(inBrackets(at))), name)
		}
		for _, at := range v.madeUses(p, t) {
			add(t.written(at), name)
		}
	}
	out, ok := v.edits(edits)
	if !ok {
		return nil, errNoName
	}
	return out, nil
}

// picked finds a reference that means a block by the number at the end of its own name, as
// joint.tee-each means joint.tee-3 in the third copy: it has no place for another name.
func (v *View) picked(t thing) (source.Span, bool) {
	if t.block == nil || schema.HeaderOf(t.block).Copy > 0 {
		return source.Span{}, false
	}
	stem := strings.TrimRight(t.node.Label(), "0123456789")
	if stem == t.node.Label() || !strings.HasSuffix(stem, "-") {
		return source.Span{}, false
	}
	for _, p := range pieces(v.files()) {
		for _, r := range refsIn(p) {
			steps := r.val.Steps
			if len(steps) < 2 || steps[0].Name != t.node.Type {
				continue
			}
			pick, ok := strings.CutPrefix(stepName(steps[1]), stem)
			if ok && (strings.Contains(pick, "-to-") || slices.ContainsFunc(schema.Picks, func(o schema.Option) bool { return pick == o.Value })) {
				return r.val.At, true
			}
		}
	}
	return source.Span{}, false
}

// labels are where a thing has its name: of a member of an assembly also what is different in
// some of its copies, and in assemblies that are like its own.
func (v *View) labels(t thing) []source.Span {
	out := []source.Span{t.name()}
	if t.block == nil {
		return out
	}
	for _, b := range v.copies(t.node) {
		for _, n := range schema.HeaderOf(b).Written() {
			if at := (thing{node: n}).name(); n.Type == t.node.Type && n.Label() == t.node.Label() && !slices.Contains(out, at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// mayBeCalled says why a thing cannot have a name.
func (v *View) mayBeCalled(t thing, name string) error {
	kind := "named value"
	if t.let == nil {
		kind = t.node.Type
	}
	if !hclsyntax.ValidIdentifier(name) {
		if t.let != nil || !freelyNamed(kind) {
			return fmt.Errorf("%q cannot be the name of a %s: it takes letters, digits, - and _, and starts with a letter, because references name it", name, kind)
		}
		if strings.TrimSpace(name) == "" || strings.ContainsAny(name, "\"\\\r\n") || strings.Contains(name, "${") || strings.Contains(name, "%{") {
			return fmt.Errorf("%q cannot be the name of a %s: it takes text without quotes, backslashes, ${ and line ends", name, kind)
		}
	}
	for _, p := range schema.Picks {
		if strings.HasSuffix(name, "-"+p.Value) {
			return fmt.Errorf("%q cannot be a name: -%s at its end picks one of several copies", name, p.Value)
		}
	}
	if v.taken(t, name) {
		return fmt.Errorf("there is already a %s %q", kind, name)
	}
	return nil
}

// freelyNamed reports whether a block's name is never written in a reference.
func freelyNamed(typeName string) bool {
	return slices.Contains([]string{"plan", "reading", "keepout", "universes"}, typeName)
}

func (v *View) taken(t thing, name string) bool {
	switch {
	case t.let != nil:
		l, ok := v.Plan.Let(name)
		return ok && l.Assign != t.let.Assign
	case t.port != nil:
		p := portNamed(t.port.Controller, name)
		return p != nil && p.Node != t.node
	case t.block != nil:
		for _, b := range v.copies(t.node) {
			h := schema.HeaderOf(b)
			written := strings.TrimSuffix(h.Base(), t.node.Label()) + name
			if numbers := h.Numbers(); h.Copy > 0 && numbers != "" {
				written += "-" + numbers
			}
			if other, ok := v.find(t.node.Type, written); ok && other.node != t.node {
				return true
			}
		}
		if schema.HeaderOf(t.block).Assembly() != "" {
			return false
		}
		other, ok := v.find(t.node.Type, name)
		return ok && other.node != t.node
	}
	return false
}
