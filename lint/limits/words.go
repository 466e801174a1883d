package limits

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
)

// Say tells of a limit what a maker asks first, as what follows the name of its block: "may
// be 3.1 m long with this wire; at 3.11 m drop-excess of run.arch".
func (l *Limit) Say() string {
	b, form := l.Most, "may be %s"
	switch l.Attr {
	case "length", "pixels":
		form = "may be %s long"
		if strings.HasPrefix(l.ID, "lead.") {
			form += " with this wire"
		}
		if l.Attr == "pixels" {
			form = "may have %s pixels"
		}
	case "ceiling":
		form = "its ceiling may be %s"
	case "ambient":
		form = "the air may have %s"
	case "brightness":
		form = "all may be lit at %s"
	case "level":
		form = "may be lit at %s"
	case "times":
		form = "may be there %s times"
	case "wire":
		b, form = l.Least, "its wire may be as thin as %s at its length"
	case "rating":
		b, form = l.Least, "may be rated as low as %s"
	case "fuse":
		if !l.Least.Open && !l.Most.Open && l.Least.Last != l.Most.Last {
			return fmt.Sprintf("its fuse may be from %s to %s", l.Least.Last.Text, l.Most.Last.Text)
		}
		form = "its fuse may be %s"
	}
	if c := l.Cleared(); c != "" {
		return c
	}
	if b.Open {
		const sound = "; nothing was found as far as was looked"
		beyond := " and more"
		if l.Attr == "ceiling" {
			return "needs no ceiling" + sound
		}
		if l.Attr == "brightness" || l.Attr == "level" {
			return fmt.Sprintf(form, b.Last.Text) // there is no more
		}
		if l.Attr == "wire" || l.Attr == "rating" {
			beyond = " and less"
		}
		return fmt.Sprintf(form, b.Last.Text+beyond) + sound
	}
	return fmt.Sprintf(form, b.Last.Text) + "; " + b.Beyond()
}

// Beyond says what is found one step beyond a bound, by the names of its rules.
func (b Bound) Beyond() string {
	r := b.Why[0]
	what := r.name()
	if n := len(b.Why) - 1; n > 0 {
		what += " and " + quantity.Count(n, "more finding")
	}
	return "at " + b.Next.Text + " " + what
}

func (r Reason) name() string {
	switch {
	case r.Rule == "":
		return r.Message
	case r.Subject == "" || strings.HasPrefix(r.Message, r.Rule):
		return r.Rule
	case r.Worse:
		return "more " + r.Rule + " of " + r.Subject
	}
	return r.Rule + " of " + r.Subject
}

// Sentence says what was found, with its figure and its rule.
func (r Reason) Sentence() string {
	text := r.Message
	if r.Worse && r.Rule != "" {
		text += ", which is worse than today"
	}
	if r.Rule != "" {
		text += " (" + r.Rule + ")"
	}
	return text
}

// Cleared says what the value clears that does so; "" where there is none.
func (l *Limit) Cleared() string {
	if l.Clears == nil {
		return ""
	}
	var names []string
	for _, r := range l.Clears.Gone {
		names = append(names, r.name())
	}
	text := l.Clears.Text
	if means := l.Means(l.Clears.Value); means != "" {
		text += " (" + means + ")"
	}
	return text + " clears " + quantity.List(names)
}
