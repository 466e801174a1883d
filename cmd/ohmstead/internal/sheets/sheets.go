package sheets

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// Job is what sheets are made of, and how.
type Job struct {
	Figures *figures.Figures
	Others  []*figures.Figures // of plans that take from the same drawer
	Verdict lint.Verdict
	Program string // that judged it, with its version
	Rules   int    // that it judged it by
	Stamp   Stamp
	Paper   Paper
	Margin  float64  // mm
	Only    []string // names of sheets; nil for all
	Labels  string   // one of LabelForms; "" is the first
}

// maker makes the sheets of one job.
type maker struct {
	Job
	plan     *schema.Plan
	page     page
	contents Contents
	alike    map[string]bool // names that blocks of several kinds have
}

// kinds are all sheets in their order.
var kinds = []struct {
	name string
	wide bool
	make func(*maker) []Block
}{
	{"summary", false, (*maker).summary},
	{"building", false, (*maker).building},
	{"elevation", true, (*maker).elevation},
	{"wiring", true, (*maker).wiring},
	{"wires", true, (*maker).wires},
	{"labels", false, (*maker).labels},
	{"shopping", true, (*maker).shopping},
	{"cutting", false, (*maker).cutting},
	{"controller", true, (*maker).controller},
	{"template", false, (*maker).template},
	{"commissioning", false, (*maker).commissioning},
	{"handover", false, (*maker).handover},
}

// Names lists the sheets that there are.
func Names() []string {
	var out []string
	for _, k := range kinds {
		out = append(out, k.name)
	}
	return out
}

// Of makes the sheets of a plan. step is called after each of them.
func Of(job Job, step func()) *Document {
	m := &maker{Job: job, plan: job.Figures.Plan, page: page{job.Paper, job.Margin}}
	for _, k := range kinds {
		if len(job.Only) == 0 || slices.Contains(job.Only, k.name) {
			m.contents = append(m.contents, Entry{k.name, say("sheet." + k.name), say("sheet." + k.name + ".for")})
		}
	}
	d := &Document{Name: m.plan.Name(), Title: short(m.plan.Title(), 300), Stamp: job.Stamp, Digest: Digest(m.plan), Habit: job.Figures.Habit}
	switch errors, _, _ := m.counts(); {
	case errors > 0:
		d.Alarm = say("stamp.errors", "errors", count(errors, "error"))
	case len(m.plan.Problems) > 0:
		d.Alarm = say("stamp.unread")
	}
	for _, k := range kinds {
		if len(job.Only) == 0 || slices.Contains(job.Only, k.name) {
			s := &Sheet{Name: k.name, Title: say("sheet." + k.name), Wide: k.wide, Framed: k.name == "template", Blocks: k.make(m)}
			if k.name == "summary" {
				s.Head = d.Title
			}
			d.Sheets = append(d.Sheets, s)
		}
		step()
	}
	return d
}

// wires is the wire schedule.
func (m *maker) wires() []Block {
	if len(m.Figures.Leads)+len(m.plan.Signals) == 0 {
		return []Block{Text(say("wiring.empty"))}
	}
	return []Block{Table{lists.Wires(m.Figures)}}
}

// shopping is what has to be bought.
func (m *maker) shopping() []Block {
	return []Block{Table{lists.Shopping(m.Figures, m.Others...)}}
}

// cutting is which piece is cut from what.
func (m *maker) cutting() []Block {
	return []Block{Text(say("cutting.how")), Table{lists.Cutting(m.Figures, m.Others...)}}
}

// controller is what the firmware of each controller has to be told.
func (m *maker) controller() []Block {
	if len(m.plan.Controllers) == 0 {
		return []Block{Text(say("controller.none"))}
	}
	return []Block{Text(say("controller.how")), Table{lists.Controller(m.Figures)}, Data{Table: lists.Pixels(m.Figures), JSON: true}}
}

// Digest is a short sum over the plan's text and that of its stock: eight letters.
func Digest(p *schema.Plan) string {
	h := sha256.New()
	for _, f := range slices.Concat(p.Files, p.StockFiles) {
		fmt.Fprintf(h, "%q %d\n", f.Text.Path(), len(f.Text.Bytes()))
		h.Write(f.Text.Bytes())
	}
	s := strings.ToUpper(fmt.Sprintf("%x", h.Sum(nil)[:4]))
	return s[:4] + "-" + s[4:]
}

func (m *maker) counts() (errors, warnings, hints int) {
	for _, f := range m.Verdict.Findings {
		switch f.Level {
		case lint.Error:
			errors++
		case lint.Warning:
			warnings++
		default:
			hints++
		}
	}
	return errors, warnings, hints
}

func (m *maker) show(d quantity.Dimension, si float64) string { return m.Figures.Habit.Show(d, si) }

// name is what people call a block: its name, else what it is.
func name(b schema.Block) string {
	h := schema.HeaderOf(b)
	if h.Name == "" {
		return h.ID()
	}
	return h.Name
}

// all is a list of everything up to a number of items, and how many more there are.
func all[T any](items []T, most int, show func(T) string) string {
	var out []string
	for i, x := range items {
		if i == most && len(items) > most+1 {
			out = append(out, say("list.more", "more", fmt.Sprint(len(items)-most)))
			break
		}
		out = append(out, show(x))
	}
	if n := len(out) - 1; n > 0 {
		return say("list.and", "first", strings.Join(out[:n], ", "), "last", out[n])
	}
	return strings.Join(out, "")
}

func itself(s string) string { return s }

// The cells and columns of the tables that are made here.

func words(s string) lists.Cell { return lists.Cell{Text: s} }

func number(si float64) lists.Cell { return lists.Cell{Number: si, Numeric: true} }

func column(key, title string) lists.Column {
	return lists.Column{Key: key, Title: title, Kind: lists.Text}
}

func counted(key, title string) lists.Column {
	return lists.Column{Key: key, Title: title, Kind: lists.Number}
}

func blank(key, title string) lists.Column {
	return lists.Column{Key: key, Title: title, Kind: lists.Blank}
}

func measured(d quantity.Dimension, symbol, key, title string, places int) lists.Column {
	return lists.Column{Key: key, Title: title, Kind: lists.Number, Unit: quantity.UnitNamed(d, symbol), Places: places}
}

func (m *maker) tabled(name, title string, columns ...lists.Column) *lists.Table {
	return &lists.Table{Name: name, Title: title, Plan: m.plan.Name(), Columns: columns, Habit: m.Figures.Habit}
}
