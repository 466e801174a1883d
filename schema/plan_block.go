package schema

import "ohmstead/calc/quantity"

// PlanHead is the plan block: what holds for the whole installation.
type PlanHead struct {
	Header
	Title    Value[string]   `attr:"title"`
	Mains    Value[Quantity] `attr:"mains"`
	Circuit  Value[Quantity] `attr:"circuit"`
	Ambient  Value[Quantity] `attr:"ambient"`
	Coldest  Value[Quantity] `attr:"coldest"`
	Exposure Value[string]   `attr:"exposure"`
	Occupied Value[bool]     `attr:"occupied"`
	Rate     Value[Quantity] `attr:"rate"`
	Stock    Value[[]Name]   `attr:"stock"`
	Note     Value[string]   `attr:"note"`
}

var planType = &BlockType{
	Name: "plan", Label: "name", Once: true,
	Doc:    "Names the installation and says what holds for all of it.",
	Detail: "Exactly one plan block stands among the files of a plan's directory.",
	Example: `plan "porch-arch" {
  title = "Arch over the porch door"
  mains = "230 V"
  rate  = "40 Hz"
}`,
	Attrs: []Attr{
		{Name: "title", Kind: Text, Doc: "What the sheets and reports call the installation.", Example: `"Arch over the porch door"`},
		{Name: "mains", Kind: Measure, Dim: quantity.Voltage, Least: 10, Most: mostMains, Doc: "Nominal voltage of the mains at the place.", Detail: "Supplies are checked against it: what they take, and how their input selector is set.", Example: `"230 V"`},
		{Name: "circuit", Kind: Measure, Dim: quantity.Current, Above: true, Most: 200, Doc: "Rating of the breaker of the mains circuit that feeds all supplies.", Detail: "What the supplies take together is set against it, as a hint; the circuit itself is for a qualified person.", Example: `"16 A"`},
		{Name: "ambient", Kind: Measure, Dim: quantity.Temperature, Default: `"25 degC"`, Least: leastAir, Most: 90, Doc: "Warmest air temperature around wires and supplies.", Detail: "Copper resistance, ampacity and supply derating follow it.", Example: `"25 degC"`},
		coldest("Nothing is said of the cold where it is not given."),
		exposure("What says nothing of its place is taken to stand in the dry, and so is all of a plan that says nothing."),
		occupied("A surface may say otherwise."),
		{Name: "rate", Kind: Measure, Dim: quantity.Frequency, Above: true, Most: 2000, Doc: "Frames a second that the effects need.", Example: `"40 Hz"`},
		{Name: "stock", Kind: Directories, Doc: "Directories whose parts and policy this plan may use.", Detail: "Paths are relative to the plan's directory and stay inside the root: the repository or, without one, the parent of the plan's directory; of several plans or workspace folders what holds them all.", Example: `["../workshop"]`},
		{Name: "note", Kind: Text, Doc: "Anything worth telling the next person.", Example: `"Key to the loft is with the caretaker"`},
	},
	form: func() former { return new(PlanHead) },
}
