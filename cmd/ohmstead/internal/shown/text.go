package shown

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"ohmstead/calc/quantity"
	"ohmstead/lint/terminal"
)

// Text writes the figures as tables, one for each subject.
func (p *Plan) Text(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "plan %s\n", terminal.Printable(p.Name))
	p.geometry(b)
	for _, c := range p.Cases {
		c.text(b)
	}
	p.bounds(b)
	p.data(b)
	p.fixings(b)
	fmt.Fprintf(b, "\n%s\n", quantity.Count(p.Findings, "finding"))
	return b.Flush()
}

func (p *Plan) geometry(b io.Writer) {
	t := table{head: []string{"run", "length", "pixels", "pitch", "least radius"}}
	for _, r := range p.Runs {
		radius := p.length(r.MinRadius)
		if math.IsInf(float64(r.MinRadius), 1) {
			radius = "straight"
		}
		t.row(r.ID, p.length(r.Length), fmt.Sprint(r.Pixels), p.length(r.Pitch), radius)
	}
	t.write(b, "")
	t = table{head: []string{"lead", "length", "each side", "ampacity", "a fault drives"}}
	for _, l := range p.Leads {
		length := p.length(l.Length)
		if l.Estimated {
			length += " (estimated)"
		}
		fault := show(quantity.Current, l.Fault)
		switch {
		case math.IsInf(float64(l.Fault), 1):
			fault = "no limit"
		case math.IsNaN(float64(l.Fault)):
			fault = "not known"
		}
		t.row(l.ID, length, show(quantity.Resistance, l.Ohms), show(quantity.Current, l.Ampacity), fault)
	}
	t.write(b, "")
}

func (c *Case) text(b io.Writer) {
	t := table{head: []string{"supply", "volts", "amps", "watts", "load"}}
	for _, s := range c.Supplies {
		t.row(s.ID, show(quantity.Voltage, s.Volts), show(quantity.Current, s.Amps), show(quantity.Power, s.Watts), show(quantity.Share, s.Load))
	}
	t.write(b, "case "+c.Name)
	t = table{head: []string{"lead", "amps", "drop", "watts", "ampacity"}}
	for _, l := range c.Leads {
		t.row(l.ID, show(quantity.Current, l.Amps), show(quantity.Voltage, l.Drop), show(quantity.Power, l.Watts), show(quantity.Current, l.Ampacity))
	}
	t.write(b, "")
	t = table{head: []string{"joint", "volts", "amps"}}
	for _, j := range c.Joints {
		t.row(j.ID, show(quantity.Voltage, j.Volts), show(quantity.Current, j.Amps))
	}
	t.write(b, "")
	t = table{head: []string{"controller", "volts", "estimate", "scale"}}
	for _, k := range c.Controllers {
		t.row(k.ID, show(quantity.Voltage, k.Volts), show(quantity.Current, k.Estimate), show(quantity.Share, k.Scale))
	}
	t.write(b, "")
	t = table{head: []string{"run", "amps", "watts", "start", "end", "least", "at pixel"}}
	for _, r := range c.Runs {
		t.row(r.ID, show(quantity.Current, r.Amps), show(quantity.Power, r.Watts), show(quantity.Voltage, r.StartVolts), show(quantity.Voltage, r.EndVolts), show(quantity.Voltage, r.MinVolts), pixel(r.MinPixel))
		if len(r.Volts) > 0 {
			t.note(profile(r.Volts))
		}
	}
	t.write(b, "")
}

// profile lists the voltage of every pixel, ten a line.
func profile(volts []Number) string {
	var b strings.Builder
	for i, v := range volts {
		if i%10 == 0 {
			fmt.Fprintf(&b, "\n    %5d ", i)
		}
		fmt.Fprintf(&b, " %7.4f", float64(v))
	}
	return strings.TrimPrefix(b.String(), "\n")
}

func (p *Plan) bounds(b io.Writer) {
	t := table{head: []string{"lead", "at most", "when lit"}}
	for _, l := range p.Any.Leads {
		t.row(l.ID, show(quantity.Current, l.Amps), quantity.List(l.Lit))
	}
	t.write(b, "over every pattern that the ceilings allow")
	t = table{head: []string{"run", "at least", "at pixel", "when lit"}}
	for _, r := range p.Any.Runs {
		t.row(r.ID, show(quantity.Voltage, r.MinVolts), pixel(r.MinPixel), quantity.List(r.Lit))
	}
	t.write(b, "")
	t = table{head: []string{"supply", "each output at most"}}
	for _, s := range p.Any.Supplies {
		t.row(s.ID, show(quantity.Current, s.Amps))
	}
	t.write(b, "")
}

func pixel(n *int) string {
	if n == nil {
		return "-"
	}
	return fmt.Sprint(*n)
}

func (p *Plan) data(b io.Writer) {
	t := table{head: []string{"port", "pixels", "frame", "rate"}}
	for _, x := range p.Ports {
		t.row(x.ID, fmt.Sprint(x.Pixels), show(quantity.Time, x.FrameTime), show(quantity.Frequency, x.Rate))
	}
	t.write(b, "data")
	orders := p.inOrders()
	t = table{head: []string{"run", "port", "first", "last", "data goes", "in order"}}
	for _, r := range p.alongData() {
		goes := "start to end"
		if *r.DataEnters == "end" {
			goes = "end to start"
		}
		t.row(r.ID, *r.Port, fmt.Sprint(*r.FirstPixel), fmt.Sprint(*r.FirstPixel+r.Pixels-1), goes, strings.Join(orders[r.ID], ", "))
	}
	t.write(b, "")
	t = table{head: []string{"order", "run", "first", "last", "taken"}}
	for _, o := range p.Orders {
		for i, s := range o.Spans {
			id, direction := o.ID, "from start"
			if i > 0 {
				id = ""
			}
			if s.FromEnd {
				direction = "from end"
			}
			t.row(id, s.Run, fmt.Sprint(s.First), fmt.Sprint(s.First+s.Count-1), direction)
		}
	}
	t.write(b, "")
	t = table{head: []string{"universes", "universe", "slots", "first pixel", "pixels", "priority"}}
	for _, u := range p.Universes {
		for i, s := range u.Spans {
			id := u.ID
			if i > 0 {
				id = ""
			}
			t.row(id, fmt.Sprint(s.Universe), fmt.Sprintf("%d-%d", s.Slot, s.Slot+s.Slots-1), fmt.Sprint(s.FirstPixel), fmt.Sprint(s.Pixels), fmt.Sprint(u.Priority))
		}
	}
	t.write(b, "")
}

// alongData are the runs that data reaches, port by port in its way.
func (p *Plan) alongData() []Run {
	ports := map[string]int{}
	for i, x := range p.Ports {
		ports[x.ID] = i
	}
	var out []Run
	for _, r := range p.Runs {
		if r.Port != nil {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b Run) int {
		return cmp.Or(ports[*a.Port]-ports[*b.Port], *a.FirstPixel-*b.FirstPixel)
	})
	return out
}

// inOrders says of each run where orders take it, and which way.
func (p *Plan) inOrders() map[string][]string {
	in := map[string][]string{}
	for _, o := range p.Orders {
		for _, s := range o.Spans {
			say := fmt.Sprintf("%s from %d", o.ID, s.First)
			if s.Against {
				say += " against its data"
			}
			in[s.Run] = append(in[s.Run], say)
		}
	}
	return in
}

func (p *Plan) fixings(b io.Writer) {
	if len(p.Fixings) == 0 {
		return
	}
	t := table{head: []string{"run", "fixing", "at", "right", "up", "carries", "holds"}}
	last := ""
	for _, x := range p.Fixings {
		id, fixing := x.Run, x.Fixing
		if id == last {
			id, fixing = "", ""
		}
		last = x.Run
		t.row(id, fixing, p.length(x.At), p.length(x.X), p.length(x.Y), showIn(p.habit, quantity.Mass, x.Mass), x.Holds)
	}
	t.write(b, "fixings")
}

func show(d quantity.Dimension, n Number) string { return showIn(quantity.Metric, d, n) }

func (p *Plan) length(n Number) string { return showIn(p.habit, quantity.Length, n) }

func showIn(h quantity.Habit, d quantity.Dimension, n Number) string {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "-"
	}
	return h.Show(d, f)
}

// table is rows of cells, written in columns: the first to the left, the
// others to the right, the last one of words to the left again.
type table struct {
	head  []string
	rows  [][]string
	notes map[int]string // below a row
}

func (t *table) row(cells ...string) {
	for i, c := range cells {
		cells[i] = terminal.Printable(c)
	}
	t.rows = append(t.rows, cells)
}

func (t *table) note(text string) {
	if t.notes == nil {
		t.notes = map[int]string{}
	}
	t.notes[len(t.rows)-1] = text
}

// write writes the table below a title; an empty table writes only the title.
func (t *table) write(w io.Writer, title string) {
	if title != "" {
		fmt.Fprintf(w, "\n%s\n", title)
	}
	if len(t.rows) == 0 {
		return
	}
	if title == "" {
		fmt.Fprintln(w)
	}
	widths := make([]int, len(t.head))
	for _, r := range append([][]string{t.head}, t.rows...) {
		for i, c := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	line := func(cells []string) {
		var b strings.Builder
		for i, c := range cells {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c))
			switch {
			case i == 0:
				b.WriteString("  " + c + pad)
			case words(t.head[i]):
				b.WriteString("  " + c + pad)
			default:
				b.WriteString("  " + pad + c)
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
	line(t.head)
	for i, r := range t.rows {
		line(r)
		if note, ok := t.notes[i]; ok {
			fmt.Fprintln(w, note)
		}
	}
}

// words reports whether a column holds words, not numbers.
func words(head string) bool {
	switch head {
	case "when lit", "run", "value", "taken", "port", "data goes", "in order", "fixing", "holds":
		return true
	}
	return false
}
