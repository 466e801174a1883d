package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/layout"
	"ohmstead/lint/remedy"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// answers are what a maker knows before there is anything else; empty where
// nothing was said.
type answers struct{ length, strip, mains string }

// fromAnswers is the text of a plan that passes: one run, and the power and
// data that it takes. The error says why there is none.
func fromAnswers(ctx context.Context, name string, a answers) ([]byte, error) {
	a.strip = cmp.Or(strings.TrimPrefix(a.strip, "catalog."), "ws2815_12v_60")
	strips := schema.Catalogue().Entries("strip")
	if !slices.ContainsFunc(strips, func(b schema.Block) bool { return schema.HeaderOf(b).Name == a.strip }) {
		return nil, fmt.Errorf("--strip %s: the catalogue has no such strip; ohmstead catalog strip lists them", a.strip)
	}
	a.length, a.mains = cmp.Or(a.length, "3 m"), cmp.Or(a.mains, "230 V")
	if _, err := quantity.ParseFor(quantity.Length, a.length); err != nil {
		return nil, fmt.Errorf("--length: %w", err)
	}
	if _, err := quantity.ParseFor(quantity.Voltage, a.mains); err != nil {
		return nil, fmt.Errorf("--mains: %w", err)
	}
	text, err := layout.Format(fmt.Appendf(nil, `# A plan is everything that hangs on the wall: strips, supplies, wires, pixels.
# Every value has a unit. What is not sure yet: measure it, and write it here.

plan %q {
title = %[1]q
mains = %q
}

# Typical values of such a strip. Write beside "like" what your reel's sheet or your
# own meter says instead.
strip "main" { like = catalog.%s }

# A cut length of strip. Where its shape matters, draw it with a path block
# instead of a length, and say what it is in: diffuser.
run "first" {
strip = strip.main
length = %q
}
`, name, a.mains, a.strip, a.length))
	if err != nil {
		return nil, err
	}
	plan := schema.Decode(name, []*source.File{source.Parse(source.NewText(name+"/plan"+plans.Suffix, text))}, nil)
	fig, v, err := judge(ctx, plan, nil)
	if err != nil {
		return nil, err
	}
	for _, f := range v.Findings {
		if f.Level >= lint.Warning && f.Rule != "no-feed" { // that is what comes next
			return nil, errors.New(f.Message)
		}
	}
	plan, sized, err := sizes(ctx, plan, fig, v, sizing.Options{LeastWork: true, Judged: 60}) // a first plan is soon another
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s of %s: %w", a.length, a.strip, err)
	case sized.Draft == nil:
		return nil, fmt.Errorf("%s of %s: no sizes were found with which it passes; write several shorter runs, each with a lead of its own%s", a.length, a.strip, inTheWay(sized))
	}
	edited, err := plan.Edited(remedy.LaidOut(sized.Edits()))
	if err != nil {
		return nil, err
	}
	if done := edited[plan.Files[0].Text.Path()]; done != nil {
		text = done
	} else {
		text = plan.Files[0].Text.Bytes()
	}
	if err := passes(ctx, name, text); err != nil {
		return nil, fmt.Errorf("%s of %s: %w", a.length, a.strip, err)
	}
	return text, nil
}

func inTheWay(s sizing.Sized) string {
	for _, o := range s.Left {
		if o.Rule != "" {
			return fmt.Sprintf(" (in the way: %s of %s)", o.Rule, o.Subject)
		}
	}
	return ""
}

// passes reads a new plan again, as whoever checks it next will. The error is
// what is found in it.
func passes(ctx context.Context, name string, text []byte) error {
	plan := schema.Decode(name, []*source.File{source.Parse(source.NewText(name+"/plan"+plans.Suffix, text))}, nil)
	_, v, err := judge(ctx, plan, nil)
	for _, f := range v.Findings {
		if err == nil && f.Level >= lint.Warning {
			err = errors.New(f.Message)
		}
	}
	return err
}
