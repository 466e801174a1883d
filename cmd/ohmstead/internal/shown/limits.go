package shown

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/limits"
	"ohmstead/lint/terminal"
)

// Limits is how far values of a plan may go before anything is found. Values are in SI
// units, of a gauge m2, of a share and a count as they are, of a temperature degC. Fields are added, never renamed.
type Limits struct {
	Name   string  `json:"plan"`
	Limits []Limit `json:"limits"`
	Left   int     `json:"not_looked_at"` // as the search was ended
}

// Limit is one value's.
type Limit struct {
	ID     string `json:"id"`
	Attr   string `json:"attribute"`
	Today  Value  `json:"today"`
	Least  Bound  `json:"least"`
	Most   Bound  `json:"most"`
	Clears *Clear `json:"clears"` // the value nearest to today's with which most of what is found is gone

	of *limits.Limit
}

// Value is a number, and what is written for it.
type Value struct {
	SI   Number `json:"value"`
	Text string `json:"text"`
}

// Bound is where a value stops: Next does not pass; it is null where nothing was found as
// far as was looked.
type Bound struct {
	Last   Value    `json:"passes"`
	Next   *Value   `json:"does_not_pass"`
	Why    []Reason `json:"because"`
	Looked int      `json:"judged"`
	Widest int      `json:"widest_stride"` // between two values that were judged, in steps
}

// Reason is a finding that comes, goes, or gets worse.
type Reason struct {
	Rule    string `json:"rule"`
	Subject string `json:"subject"`
	Level   string `json:"level"`
	Message string `json:"message"`
	Worse   bool   `json:"worse"`
}

// Clear is a value, and what is gone with it.
type Clear struct {
	Value
	Gone []Reason `json:"gone"`
}

// LimitsOf puts limits into the form that is printed. left values were not looked at.
func LimitsOf(plan string, list []*limits.Limit, left int) *Limits {
	out := &Limits{Name: plan, Limits: []Limit{}, Left: left}
	reasons := func(in []limits.Reason) []Reason {
		out := []Reason{}
		for _, r := range in {
			out = append(out, Reason{r.Rule, r.Subject, r.Level.String(), r.Message, r.Worse})
		}
		return out
	}
	value := func(v limits.Value) Value { return Value{Number(v.SI), v.Text} }
	bound := func(b limits.Bound) Bound {
		x := Bound{Last: value(b.Last), Why: reasons(b.Why), Looked: b.Looked, Widest: b.Widest}
		if !b.Open {
			next := value(b.Next)
			x.Next = &next
		}
		return x
	}
	for _, l := range list {
		x := Limit{ID: l.ID, Attr: l.Attr, Today: value(l.Today), Least: bound(l.Least), Most: bound(l.Most), of: l}
		if l.Clears != nil {
			x.Clears = &Clear{value(l.Clears.Value), reasons(l.Clears.Gone)}
		}
		out.Limits = append(out.Limits, x)
	}
	return out
}

// Text writes them as a table, with what is found beyond each.
func (p *Limits) Text(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "plan %s\n", terminal.Printable(p.Name))
	t := table{head: []string{"of", "value", "today", "from", "up to"}}
	for _, l := range p.Limits {
		from, upTo := l.Least.Last.Text, l.Most.Last.Text
		if l.Least.Next == nil {
			from = "… " + from
		}
		if l.Most.Next == nil {
			upTo += " …"
		}
		t.row(l.ID, l.Attr, l.Today.Text, from, upTo)
		var notes []string
		note := func(format string, args ...any) {
			notes = append(notes, "      "+terminal.Printable(fmt.Sprintf(format, args...)))
		}
		for _, x := range []limits.Bound{l.of.Least, l.of.Most} {
			if !x.Open {
				more := ""
				if n := len(x.Why) - 1; n > 0 {
					more = ", and " + quantity.Count(n, "more finding")
				}
				note("at %s: %s%s", x.Next.Text, x.Why[0].Sentence(), more)
			}
		}
		if means := l.of.Means(l.of.Most.Last); means != "" && l.of.Most.Last != l.of.Today {
			note("%s is %s", l.Most.Last.Text, means)
		}
		if c := l.of.Cleared(); c != "" {
			note("%s", c)
		}
		if len(notes) > 0 {
			t.note(strings.Join(notes, "\n"))
		}
	}
	t.write(b, "how far each value may go before anything is found, the others as they are")
	fmt.Fprint(b, "\nFrom today's value on the plan was judged by all rules, in strides of a tenth of the value\n"+
		"at most: the last value passes, the next does not. … is as far as was looked.\n")
	if p.Left > 0 {
		fmt.Fprintf(b, "%s not looked at.\n", quantity.Count(p.Left, "value"))
	}
	return b.Flush()
}
