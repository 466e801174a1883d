package schema

// Order is the one line of pixels that effects see.
type Order struct {
	Header
	Runs Value[[]RunRef] `attr:"runs"`
}

var orderType = &BlockType{
	Name: "order", Label: "name",
	Doc:     "Puts runs into the one line of pixels that effects see.",
	Example: "order \"shelf\" { runs = [run.left, from_end(run.right)] }",
	Attrs: []Attr{
		{Name: "runs", Kind: OrderedRuns, Required: true, Doc: "The runs in their order; from_end turns one round.", Example: "[run.left, from_end(run.right)]"},
	},
	form: func() former { return new(Order) },
}

func (o *Order) check(r *resolver, _ *effective) {
	seen := map[*Run]RunRef{}
	for _, x := range o.Runs.V {
		if first, dup := seen[x.Run]; dup {
			p := r.report(RuleNameDuplicate, o.At(x.At), "%s stands twice in %s; a pixel has one place, remove one of them", x.Run.ID(), o.ID()).related(first.At, "the first time")
			if at := o.At(x.At); at == x.At && at != first.At {
				p.remove(at, "it here")
			}
		}
		seen[x.Run] = x
	}
}
