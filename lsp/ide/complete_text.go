package ide

import (
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// inQuotes proposes what stands in the quotes at the place.
func (p *proposer) inQuotes(at source.Span) {
	a := p.declaration()
	if a == nil {
		return
	}
	p.replace = at
	_, inner := p.block()
	if len(inner) >= 2 && inner[len(inner)-2].kind == indexFrame {
		p.quantity(at, indexed)
		return
	}
	switch a.Kind {
	case schema.Choice, schema.Enclosure, schema.Letters, schema.Colour:
		for _, o := range p.options(a) {
			p.add(0, p.option(a, o, false))
		}
	case schema.RuleNames:
		p.rules(false, p.ruleNamesHere())
	case schema.Directories:
		p.folders(false)
	case schema.Values:
		p.quantity(at, a)
	case schema.Reference, schema.Place, schema.Places, schema.References, schema.OrderedRuns:
		p.unquoted(at, a)
	default:
		if dimensionOf(a) != quantity.None {
			p.quantity(at, a)
		}
	}
}

// labels proposes what a block may be about: kinds of blocks behind usual, copies behind copy.
func (p *proposer) labels(at source.Span) {
	src := string(at.Piece.Bytes()[:at.Start])
	words := strings.Fields(src[strings.LastIndexByte(src, '\n')+1:])
	if len(words) == 0 {
		return
	}
	p.replace = at
	switch words[0] {
	case "usual":
		for _, kind := range schema.UsualKinds() {
			if t, ok := schema.TypeNamed(kind); ok && !slices.Contains(words, strconv.Quote(kind)) {
				p.add(0, Item{Label: kind, Kind: ValueItem, Detail: t.Doc})
			}
		}
	case "copy":
		for _, o := range schema.Picks {
			if o.Value == "odd" || o.Value == "even" || o.Value == "last" {
				p.add(0, Item{Label: o.Value, Kind: ValueItem, Detail: o.Doc})
			}
		}
	}
}

// unquoted proposes references in place of the quotes: they take none.
func (p *proposer) unquoted(at source.Span, a *schema.Attr) {
	src := at.Piece.Bytes()
	at.Start--
	if at.End < len(src) && src[at.End] == '"' {
		at.End++
	}
	p.replace = at
	for _, c := range p.candidates(a) {
		p.add(c.rank, Item{Label: c.text, Kind: ReferenceItem, Detail: c.note, Note: essence(c.block), Key: c.key, Filter: `"` + c.text})
	}
	if a.Kind == schema.Reference {
		n := len(p.items)
		p.entries(4, a.Types, "")
		for i := n; i < len(p.items); i++ {
			p.items[i].Filter = `"` + p.items[i].Label
		}
	}
}

// indexed declares what stands in brackets behind a run.
var indexed = &schema.Attr{Name: "place", Kind: schema.Measure, Dim: quantity.Length}

var (
	// numbered is text that ends with a number and perhaps the start of a unit.
	numbered = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?:^|\s)([-+]?[0-9./]*[0-9])(\s*)([^\s0-9"]*)$`) })
	// spelled is the rest of a unit behind the cursor.
	spelled = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[^\s0-9"]*`) })
)

// quantity proposes units behind a number, else whole values.
func (p *proposer) quantity(at source.Span, a *schema.Attr) {
	typed := text(source.Span{Piece: at.Piece, Start: at.Start, End: p.at})
	m := numbered().FindStringSubmatch(typed)
	if m == nil {
		if strings.TrimSpace(typed) == "" {
			for _, o := range p.usual(a) {
				p.add(0, Item{Label: o.Value, Kind: ValueItem, Detail: o.Doc})
			}
		}
		return
	}
	behind := spelled().FindString(text(source.Span{Piece: at.Piece, Start: p.at, End: at.End}))
	keep, gap := "", func(string) string { return "" } // behind a blank there is one
	if m[2] == "" {
		keep, gap = m[1], unitGap
	}
	r := p.file(source.Span{Piece: at.Piece, Start: p.at - len(keep) - len(m[3]), End: p.at + len(behind)})
	dims := []quantity.Dimension{dimensionOf(a)}
	if dims[0] == quantity.None {
		dims = nil
		for d := quantity.Length; d <= quantity.Money; d++ {
			dims = append(dims, d)
		}
	}
	var seen []string
	for rank, d := range dims {
		for _, u := range quantity.Units(d) {
			if slices.Contains(seen, u.Symbol) {
				continue
			}
			seen = append(seen, u.Symbol)
			it := Item{Range: r, Label: u.Symbol, Kind: UnitItem, Detail: d.String(), Text: keep + gap(u.Symbol) + u.Symbol, Filter: keep + u.Symbol}
			if q, err := quantity.ParseFor(d, m[1]+unitGap(u.Symbol)+u.Symbol); err == nil {
				if others := converted(q); len(others) > 0 {
					it.Note = "= " + others[0]
				}
			}
			p.add(rank, it)
		}
	}
}

// ruleNamesHere lists the rule names that stand in this policy already.
func (p *proposer) ruleNamesHere() map[string]bool {
	out := map[string]bool{}
	n := p.node()
	if n == nil {
		return out
	}
	for _, a := range n.Assigns {
		for _, x := range a.Val.Items {
			if x.Kind == schema.TextVal && !touches(x.At, p.at) {
				out[x.Text] = true
			}
		}
	}
	return out
}

// rules proposes rule names but those of a set.
func (p *proposer) rules(quotes bool, but map[string]bool) {
	found := map[string]int{}
	for _, f := range p.v.Findings {
		found[f.Rule]++
	}
	for _, r := range p.v.Rules {
		if but[r.Name] {
			continue
		}
		it := Item{Label: r.Name, Kind: RuleItem, Detail: r.Title, Note: r.Level.String(), Key: "rule:" + r.Name}
		if quotes {
			it.Label = strconv.Quote(r.Name)
			it.Filter = r.Name
		}
		rank := 1
		if found[r.Name] > 0 {
			rank, it.Note = 0, r.Level.String()+", "+quantity.Count(found[r.Name], "finding")
		}
		p.add(rank, it)
	}
}

// folders proposes the directories that may be stock.
func (p *proposer) folders(quotes bool) {
	base := path.Clean(p.v.dir())
	have := map[string]bool{}
	if n := p.outer(); n != nil {
		if a, ok := n.Assign("stock"); ok {
			for _, x := range a.Val.Items {
				if dir, ok := schema.StockDir(base, x.Text); ok && !touches(x.At, p.at) {
					have[dir] = true
				}
			}
		}
	}
	for _, d := range p.v.dirs() {
		d = path.Clean(d)
		if d == base || have[d] {
			continue
		}
		it := Item{Label: relative(base, d), Kind: FolderItem, Detail: d}
		if quotes {
			it.Filter = it.Label
			it.Label = strconv.Quote(it.Label)
		}
		p.add(0, it)
	}
}

// relative writes a directory as seen from another, both below one root.
func relative(from, to string) string {
	split := func(s string) []string {
		if s == "." || s == "" {
			return nil
		}
		return strings.Split(s, "/")
	}
	a, b := split(from), split(to)
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	var out []string
	for range a {
		out = append(out, "..")
	}
	out = append(out, b...)
	if len(out) == 0 {
		return "."
	}
	return strings.Join(out, "/")
}

// dir is the directory that paths in v.File count from.
func (v *View) dir() string {
	for _, f := range v.Plan.Files {
		if f == v.File {
			return v.Plan.Dir
		}
	}
	return path.Dir(v.File.Text.Path())
}
