package ide

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Item is one proposal of completion.
type Item struct {
	Range         // what it replaces, on one line
	Label  string // what the list shows
	Kind   ItemKind
	Detail string // short, beside the label: a unit, "12 V", "unconnected"
	Note   string // where it comes from, at the far end: "catalogue", "stock"
	Text   string // what it inserts, plain
	// Snippet is what it inserts where the editor knows tab stops, in the
	// snippet syntax of the language server protocol; empty where it is Text.
	Snippet string
	Sort    string // orders the list
	Filter  string // what the editor compares with what was typed; empty where it is Label
	Doc     string // Markdown; filled in by Resolve
	Key     string // what Resolve knows the item by
	Again   bool   // completion goes on right behind it: "supply."
	Worse   bool   // possible, but not to be chosen without need: shown struck through
}

// ItemKind is the sort of thing that an item stands for.
type ItemKind int

// The kinds of items.
const (
	BlockItem ItemKind = iota
	AttributeItem
	ReferenceItem // a block of the plan or its stock
	EntryItem     // a catalogue entry
	StepItem      // a step behind a dot: out, start, power
	UnitItem
	ValueItem // one of a fixed set: "push", true, a pin
	FunctionItem
	LetItem
	RuleItem
	FolderItem
	ColourItem
	SnippetItem // a whole block, ready to fill in
	WordItem
)

// Complete proposes what may stand at an offset, best first. It works in
// half-typed text. Documentation comes with Resolve.
func Complete(v *View, offset int) []Item {
	s, ok := v.spot(offset)
	if !ok {
		return nil
	}
	p := &proposer{cursor: s.cursor(v)}
	if at, ok := p.comment(); ok {
		p.inComment(at)
		return p.done()
	}
	if at, ok := p.quoted(); ok {
		if p.setting() {
			p.inQuotes(at)
		} else {
			p.labels(at)
		}
		return p.done()
	}
	if p.inside(heredocFrame) || p.inside(quoteFrame) {
		return nil
	}
	typed, all, token := p.word()
	if len(typed) > 0 && typed[0] >= '0' && typed[0] <= '9' && p.token(token).Type == hclsyntax.TokenNumberLit && p.assigned() != "pin" {
		return nil
	}
	p.replace = all
	p.before = p.token(token - 1)
	switch dot := p.before; {
	case dot.Type == hclsyntax.TokenDot && dot.Range.End.Byte == all.Start:
		p.behindDot(token - 1)
	case p.setting():
		if p.mayStart() {
			p.value()
		}
	default:
		p.statement(token)
	}
	return p.done()
}

// proposer gathers items at a place.
type proposer struct {
	*cursor
	replace source.Span     // what items replace
	before  hclsyntax.Token // the token in front of that
	items   []Item
	known   *wiring
	byType  map[string][]schema.Block
}

// add gathers an item in the order of the list within its rank: lower ranks
// come first.
func (p *proposer) add(rank int, it Item) {
	if it.Text == "" {
		it.Text = it.Label
	}
	if it.Range == (Range{}) {
		it.Range = p.file(p.replace)
	}
	it.Sort = fmt.Sprintf("%02d%05d", rank, len(p.items))
	it.Key += p.would(it)
	p.items = append(p.items, it.atWord(p.v.File.Text.Bytes()[it.Start:max(it.Start, p.base+p.at)]))
}

// atWord is an item that replaces no more of what was typed than the word at the
// cursor, where it begins with the rest: small clients replace a word, whatever range
// they are told.
func (it Item) atWord(typed []byte) Item {
	before := string(typed[:bytes.LastIndexFunc(typed, func(r rune) bool { return !inWord(r) })+1])
	if before == "" || len(it.Text) <= len(before) || !strings.HasPrefix(it.Text, before) || !strings.HasPrefix(it.Snippet, before) && it.Snippet != "" {
		return it
	}
	it.Start += len(before)
	it.Filter = strings.TrimPrefix(cmp.Or(it.Filter, it.Label), before)
	it.Text, it.Snippet = it.Text[len(before):], strings.TrimPrefix(it.Snippet, before)
	return it
}

// inWord reports whether editors take a sign for a part of a word in a plan.
func inWord(r rune) bool {
	return r == '_' || r == '-' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// figures gives the figures of the plan, or nil.
func (p *proposer) figures() *figures.Figures {
	if p.v.Figures == nil && p.v.Work != nil {
		p.v.Figures = p.v.Work()
	}
	return p.v.Figures
}

func (p *proposer) done() []Item {
	slices.SortStableFunc(p.items, func(a, b Item) int { return strings.Compare(a.Sort, b.Sort) })
	return p.items
}

// setting reports whether the place is in the value of an attribute.
func (p *proposer) setting() bool {
	f, _ := p.block()
	return f.equal >= 0
}

// mayStart reports whether a value may start at the place: not right behind another.
func (p *proposer) mayStart() bool {
	switch p.before.Type {
	case hclsyntax.TokenEqual, hclsyntax.TokenComma, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenOBrace, hclsyntax.TokenNewline, hclsyntax.TokenColon, hclsyntax.TokenComment:
		return true
	}
	return false
}

// declaration finds what the language says of the attribute whose value the
// place is in. like counts as a reference to a block of the same type.
func (c *cursor) declaration() *schema.Attr {
	types := c.types()
	if len(types) == 0 || types[len(types)-1] == nil {
		return nil
	}
	t := types[len(types)-1]
	name := c.assigned()
	if name == "like" && len(types) == 1 && t.Likes() {
		return t.Like()
	}
	return attrNamed(t, name)
}

// typePath names a nested block type from the outside in: run/path/arc, or usual lead.
func typePath(types []*schema.BlockType) string {
	var names []string
	for _, t := range types {
		name := t.Name
		if t.Of != nil {
			name += " " + t.Of.Name
		}
		names = append(names, name)
	}
	return strings.Join(names, "/")
}

// typeAt is the inverse of typePath.
func typeAt(path string) *schema.BlockType {
	var types []*schema.BlockType
	for _, name := range strings.Split(path, "/") {
		words := strings.Fields(strings.ReplaceAll(name, " or ", " "))
		t := innerType(types, words[0], words[1:]...)
		if t == nil {
			return nil
		}
		types = append(types, t)
	}
	return types[len(types)-1]
}

// node is the innermost block around the place as far as the syntax tree knows
// it; in half-typed text it may lack what is being typed.
func (c *cursor) node() *schema.Node {
	h, ok := c.v.hit(c.base + c.at)
	if !ok {
		return nil
	}
	return h.node()
}

// outer is the top-level block around the place.
func (c *cursor) outer() *schema.Node {
	h, ok := c.v.hit(c.base + c.at)
	if !ok || len(h.nodes) == 0 {
		return nil
	}
	return h.nodes[0]
}

// Resolve adds an item's documentation. Only Key and Label need to be set.
func Resolve(v *View, item Item) Item {
	key, would, _ := strings.Cut(item.Key, "|")
	item = v.resolve(item, key)
	if brings := v.brings(would); brings != "" {
		item.Doc = strings.TrimSpace(brings + "\n\n" + item.Doc)
	}
	return item
}

// resolve adds what there is to say of what an item names.
func (v *View) resolve(item Item, key string) Item {
	kind, key, ok := strings.Cut(key, ":")
	if !ok {
		return item
	}
	switch kind {
	case "block":
		if t := typeAt(key); t != nil {
			item.Doc = blockDoc(t)
		}
	case "attr":
		path, name, _ := strings.Cut(key, ".")
		if t := typeAt(path); t != nil {
			if a := attrNamed(t, name); a != nil {
				item.Doc = attrDoc(t, a)
			}
		}
	case "option":
		path, rest, _ := strings.Cut(key, ".")
		name, value, _ := strings.Cut(rest, "=")
		if t := typeAt(path); t != nil {
			if a, ok := t.Attr(name); ok {
				for _, o := range a.Choices {
					if o.Value == value {
						item.Doc = o.Doc
					}
				}
			}
		}
	case "ref":
		typeName, name, _ := strings.Cut(key, ".")
		if t, ok := v.find(typeName, name); ok {
			var p page
			p.thing(v, t, schema.Full)
			item.Doc = p.String()
		}
	case "port":
		item.Doc = v.resolvePort(key)
	case "let":
		if l, ok := v.Plan.Let(key); ok {
			var p page
			p.let(v, l)
			item.Doc = p.String()
		}
	case "function":
		if f, ok := schema.FunctionNamed(key); ok {
			label, _ := call(f)
			item.Doc = code(label) + "\n\n" + functionDoc(f)
		}
	case "rule":
		if r, ok := v.rule(key); ok {
			item.Doc = ruleDoc(r)
		}
	case "pin":
		item.Doc = v.resolvePin(key)
	}
	return item
}

func (v *View) resolvePort(key string) string {
	id, name, _ := strings.Cut(key, "/")
	t, ok := v.find("controller", id)
	if !ok {
		return ""
	}
	c, ok := t.block.(*schema.Controller)
	if !ok {
		return ""
	}
	port := portNamed(c, name)
	if port == nil {
		return ""
	}
	var p page
	p.add("**%s**", prose(port.ID()))
	p.facts(v.portFacts(port))
	return p.String()
}

func (v *View) resolvePin(key string) string {
	typeName, rest, _ := strings.Cut(key, ".")
	name, number, _ := strings.Cut(rest, "/")
	t, ok := v.find(typeName, name)
	if !ok {
		return ""
	}
	if b, ok := t.block.(*schema.Board); ok {
		for _, p := range b.Pins {
			if p.Name == number && p.Use.Known() {
				return pinText(p)
			}
		}
	}
	return ""
}
