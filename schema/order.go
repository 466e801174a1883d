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
