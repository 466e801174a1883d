package ide

import (
	"slices"
	"strings"

	"ohmstead/schema"
)

// SymbolKind is the sort of thing that a symbol is.
type SymbolKind int

// The kinds of symbols: those of block types, and what stands in blocks.
const (
	PlanSymbol      SymbolKind = iota // plan
	SettingSymbol                     // policy, marking
	PartSymbol                        // strip, diffuser, wire, fixing, board
	SurfaceSymbol                     // surface, keepout
	PowerSymbol                       // supply, joint, lead
	ControlSymbol                     // controller, port, pin, signal
	RunSymbol                         // run, path, line, arc
	OrderSymbol                       // order, universes
	CaseSymbol                        // case, reading
	LetSymbol                         // let and its values
	AttributeSymbol                   // an attribute
)

var symbolKinds = map[string]SymbolKind{
	"plan": PlanSymbol, "policy": SettingSymbol, "usual": SettingSymbol, "marking": SettingSymbol,
	"strip": PartSymbol, "diffuser": PartSymbol, "wire": PartSymbol, "fixing": PartSymbol, "board": PartSymbol, "consumable": PartSymbol,
	"surface": SurfaceSymbol, "keepout": SurfaceSymbol, "edge": SurfaceSymbol,
	"supply": PowerSymbol, "joint": PowerSymbol, "holder": PowerSymbol, "lead": PowerSymbol,
	"controller": ControlSymbol, "port": ControlSymbol, "pin": ControlSymbol, "signal": ControlSymbol, "chain": ControlSymbol, "hop": ControlSymbol, "feed": PowerSymbol, "branch": PowerSymbol,
	"run": RunSymbol, "path": RunSymbol, "line": RunSymbol, "arc": RunSymbol, "curve": RunSymbol, "circle": RunSymbol, "rectangle": RunSymbol, "polygon": RunSymbol,
	"order": OrderSymbol, "universes": OrderSymbol, "assembly": RunSymbol, "runs": RunSymbol, "copy": SettingSymbol, "case": CaseSymbol, "reading": CaseSymbol, "let": LetSymbol,
}

// Symbol is a block or attribute of v.File.
type Symbol struct {
	Range    // all of it
	Selected Range
	Name     string // run arch
	Detail   string // 216 pixels, 3.6 m
	Kind     SymbolKind
	Children []Symbol
}

// Symbols lists the blocks of v.File with what stands in them.
func Symbols(v *View) []Symbol {
	var out []Symbol
	blocks := v.byNode()
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		for _, n := range schema.NodesIn(p) {
			if n.Type == "" {
				continue
			}
			sym := s.symbol(n)
			if copies := blocks[n]; len(copies) > 0 {
				if text := v.briefOf(copies, schema.Full); text != "" {
					sym.Detail = text
				} else if text := essence(copies[0]); text != "" {
					sym.Detail = text
				}
			}
			out = append(out, sym)
		}
	}
	return out
}

// byNode lists the typed blocks of each top-level node.
func (v *View) byNode() map[*schema.Node][]schema.Block {
	out := make(map[*schema.Node][]schema.Block, len(v.Plan.Blocks)+len(v.Plan.Stock))
	for _, list := range [][]schema.Block{v.Plan.Blocks, v.Plan.Stock} {
		for _, b := range list {
			n := schema.HeaderOf(b).Node
			out[n] = append(out[n], b)
		}
	}
	return out
}

func (s spot) symbol(n *schema.Node) Symbol {
	sym := Symbol{Range: s.file(n.Whole), Selected: s.file(n.TypeAt), Name: n.Type, Kind: symbolKinds[n.Type]}
	if len(n.Labels) > 0 {
		if n.Label() != "" {
			sym.Name += " " + n.Name()
		}
		sym.Selected = s.file(n.Labels[0].At)
	}
	if n.InLine() {
		sym.Detail = clip(firstLine(n.Assigns[0].Val.String()))
		return sym
	}
	for _, a := range n.Assigns {
		kind := AttributeSymbol
		if n.Type == "let" {
			kind = LetSymbol
		}
		sym.Children = append(sym.Children, Symbol{Range: s.file(a.Whole), Selected: s.file(a.NameAt), Name: a.Name, Detail: clip(firstLine(a.Val.String())), Kind: kind})
	}
	for _, c := range n.Blocks {
		sym.Children = append(sym.Children, s.symbol(c))
	}
	slices.SortStableFunc(sym.Children, func(a, b Symbol) int { return a.Start - b.Start })
	return sym
}

// clip keeps a text short enough for a list.
func clip(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// WorkspaceSymbol is a block, port or named value of a plan or its stock.
type WorkspaceSymbol struct {
	Location
	Name      string // run.arch
	Container string // the plan's title
	Kind      SymbolKind
	Score     int // how well it fits the query; more is better
}

// WorkspaceSymbols finds the blocks, ports and named values of the plan whose
// address holds the letters of the query in their order, best first; all for
// an empty query. v.File is not looked at.
func WorkspaceSymbols(v *View, query string) []WorkspaceSymbol {
	var out []WorkspaceSymbol
	title := v.Plan.Title()
	add := func(t thing, name string, kind SymbolKind) {
		score, ok := fits(query, name)
		if !ok {
			return
		}
		if at, ok := v.Locate(t.name()); ok {
			out = append(out, WorkspaceSymbol{at, name, title, kind, score})
		}
	}
	for _, list := range [][]schema.Block{v.Plan.Blocks, v.Plan.Stock} {
		for _, b := range list {
			h := schema.HeaderOf(b)
			if h.Copy > 1 || h.Type.Name == "let" {
				continue
			}
			t := thing{node: h.Node, block: b}
			name := t.id()
			if h.Type.Name == "plan" {
				name = "plan " + h.Name
			}
			add(t, name, symbolKinds[h.Type.Name])
			if c, ok := b.(*schema.Controller); ok {
				for _, p := range c.Ports {
					add(thing{node: p.Node, port: p}, p.ID(), ControlSymbol)
				}
			}
		}
	}
	for _, l := range v.Plan.Lets {
		add(thing{let: l}, "let."+l.Name, LetSymbol)
	}
	slices.SortStableFunc(out, func(a, b WorkspaceSymbol) int { return b.Score - a.Score })
	return out
}

// fits reports whether a name holds the letters of a query in their order, and
// how well: letters side by side and at the start of a word count more.
func fits(query, name string) (score int, ok bool) {
	q, n := []rune(strings.ToLower(query)), []rune(strings.ToLower(name))
	if len(q) == 0 {
		return 0, true
	}
	if i := strings.Index(string(n), string(q)); i >= 0 {
		score = 20
		if i == 0 || isBreak(rune(string(n)[i-1])) {
			score += 20
		}
	}
	i, run := 0, 0
	for j, r := range n {
		if i == len(q) {
			break
		}
		if r != q[i] {
			run = 0
			continue
		}
		i++
		run++
		score += run
		if j == 0 || isBreak(n[j-1]) {
			score += 5
		}
	}
	return score - len(n)/8, i == len(q)
}

func isBreak(r rune) bool { return strings.ContainsRune(". -_", r) }
