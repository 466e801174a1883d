package rules

import (
	"ohmstead/lint"
	"ohmstead/schema"
)

// standing is a run, supply, joint or controller in the water of its place, or
// a lead with the holder of its fuse in that of its beginning.
type standing struct {
	schema.Block
	*schema.Header
	schema.Inherited[string]
}

// eachStanding calls with all of them whose place is not dry.
func eachStanding(plan *schema.Plan, call func(standing)) {
	one := func(b schema.Block) {
		if e, ok := plan.Exposure(b); ok && e.V != "dry" {
			call(standing{b, schema.HeaderOf(b), e})
		}
	}
	for _, s := range plan.Supplies {
		one(s)
	}
	for _, c := range plan.Controllers {
		one(c)
	}
	for _, j := range plan.Joints {
		one(j)
	}
	for _, r := range plan.Runs {
		one(r)
	}
}

// eachHolder calls with the leads whose holder says its class, in a place that is not
// dry. A holder without one is not asked about.
func eachHolder(plan *schema.Plan, call func(standing)) {
	for _, l := range plan.Leads {
		if h := l.Holder.V; h == nil || !h.Enclosure.Set || l.From.V == nil || !l.From.Known() {
			continue
		}
		if e, ok := plan.Exposure(l.From.V.Block()); ok && e.V != "dry" {
			call(standing{l, schema.HeaderOf(l), e})
		}
	}
}

// classes are the protection classes that count for it: a strip's and its
// diffuser's, of which the better one counts. All are known to the decoder.
func (x standing) classes() []schema.Value[string] {
	switch b := x.Block.(type) {
	case *schema.Supply:
		return []schema.Value[string]{b.Enclosure}
	case *schema.Controller:
		return []schema.Value[string]{b.Enclosure}
	case *schema.Joint:
		return []schema.Value[string]{b.Enclosure}
	case *schema.Lead:
		return []schema.Value[string]{b.Holder.V.Enclosure}
	case *schema.Run:
		var out []schema.Value[string]
		if s := b.Strip.V; s != nil {
			out = append(out, s.Enclosure)
		}
		if d := b.Diffuser.V; d != nil {
			out = append(out, d.Enclosure)
		}
		return out
	}
	return nil
}

// saidAt is where the exposure is written.
func (x standing) saidAt() []lint.Related {
	if x.Of == x.Header {
		return nil
	}
	return []lint.Related{{At: x.Inherited.At, Message: "the exposure"}}
}

// wetly names the place.
func (x standing) wetly() string {
	return map[string]string{"damp": "a damp place", "wet": "a wet place", "jets": "a place with jets of water", "buried": "the ground", "bath": "the reach of a bath or pool"}[x.V]
}
