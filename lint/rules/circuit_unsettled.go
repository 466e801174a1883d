package rules

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"ohmstead/calc/circuit"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema/source"
)

var CircuitUnsettled = &lint.Rule{
	Name:  "circuit-unsettled",
	Title: "The voltages of a part of the plan cannot be worked out",
	Level: lint.Error,
	Guard: true,
	Why: `Voltages and currents follow from a network with one solution.
A resistance far from anything that is built, or a network in which the arithmetic does not converge, has none that can be trusted; no number is shown then, because it would not be the truth.`,
	Do: `Look for a resistance, length or rating that is far from what is built, a unit that is off by a thousand for example.
Where two supplies are set to different voltages and joined without any resistance, take their plus conductors apart and keep only the minus joined.`,
	NoFix:   "No value is known to be the wrong one; look for one that is out of all proportion.",
	Sources: []string{"Kirchhoff's laws; limits of the solver in its own documentation"},
	Bad: func() string {
		return instead(shelf, `strip "led" { like = catalog.ws2812b_5v_60 }`, "strip \"led\" {\n  like = catalog.ws2812b_5v_60\n  rail = \"0.00000001 ohm/m\"\n}")
	},
	Good:  func() string { return shelf },
	Check: checkCircuitUnsettled,
}

func checkCircuitUnsettled(p *lint.Pass) {
	for _, is := range p.Figures.Islands {
		if is.Err == nil || errors.Is(is.Err, figures.ErrPartial) {
			continue
		}
		f := lint.Finding{At: placeOf(is), Subject: subjectOf(is)}
		var conflict *circuit.ConflictError
		var input *circuit.InputError
		switch {
		case errors.As(is.Err, &conflict):
			f.Message = fmt.Sprintf("%s is joined without resistance to a supply of another voltage; take their plus conductors apart and keep only the minus joined", f.Subject)
		case errors.As(is.Err, &input):
			if r := runOf(is, input.Field); r != nil {
				f.Subject, f.At = r.ID(), r.At(r.Strip.At)
			}
			f.Message = fmt.Sprintf("%s: %s of %.3g lies far outside of what is built (%s); look for a unit that is off", f.Subject, plainField(input.Field), input.Value, input.Limit)
		default:
			f.Message = fmt.Sprintf("the voltages around %s cannot be worked out: %s; look for a resistance or length far from what is built", f.Subject, strings.TrimPrefix(is.Err.Error(), "circuit: "))
		}
		p.Report(f)
	}
}

var stripField = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^Strips\[(\d+)\]`) })

// runOf is the run that a field of the solver's input belongs to; nil for others.
func runOf(is *figures.Island, field string) *figures.Run {
	m := stripField().FindStringSubmatch(field)
	if m == nil {
		return nil
	}
	if i, err := strconv.Atoi(m[1]); err == nil && i < len(is.Runs) {
		return is.Runs[i]
	}
	return nil
}

// plainField turns "Strips[0].Rail" into "rail".
func plainField(field string) string {
	return strings.ToLower(field[strings.LastIndexByte(field, '.')+1:])
}

func subjectOf(is *figures.Island) string {
	switch {
	case len(is.Supplies) > 0:
		return is.Supplies[0].ID()
	case len(is.Leads) > 0:
		return is.Leads[0].ID()
	}
	return ""
}

func placeOf(is *figures.Island) source.Span {
	switch {
	case len(is.Supplies) > 0:
		return is.Supplies[0].Head()
	case len(is.Leads) > 0:
		return is.Leads[0].Head()
	}
	return source.Span{}
}
