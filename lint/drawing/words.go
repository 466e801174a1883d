package drawing

// Words are the texts of drawings. Those with verbs take what the comment says.
type Words struct {
	Elevation, Voltage, Wiring, Template, Profile string // of what: the name of a block

	Straight string // the place of runs without a shape
	Loose    string // the place of runs on no surface

	Run, Numbers, Feed, Jump, Joint, Supply, Controller, Fixing, Keepout string // legend
	Up, Grid, Dimensions, Scale, NotToScale                              string // Grid and Dimensions take a length and a unit
	Missing                                                              string // takes names
	Undimensioned                                                        string // takes an axis and names
	LeftOut                                                              string // takes a number
	Pixels                                                               string // takes the number of pixels and a length

	Case, Volts, Bold, Least, NoPower string // Case takes a name, Least a voltage
	Along, Allowed, SupplyAt, Any     string // Allowed, SupplyAt and Any take a voltage
	Pixel                             string // takes a number
	CaseLeast                         string // takes the name of a case and a voltage
	FeedHere                          string
	Plus, Minus, Data, Fuse           string
	Start, End, Port, Pin, Out        string // Pin and Out take a number
	Sheet                             string // takes a number and how many there are
	Elsewhere                         string // of a symbol whose other conductors stand on another sheet
	Light                             string // heads the column of runs
	Mains                             string
	Tile, Bar, Hole, Cut, Register    string // Tile takes a column and a row
	Tiles, Print                      string // Tiles takes how many there are, Print the size of a tile's paper
	Centre, EdgeOf, Edge              string // EdgeOf takes the name of a surface
	Where, Corner, Origin             string // Where takes two lengths with their sides and what they are measured from, Corner the name of a surface
	RightOf, LeftOf, Above, Below     string
	Square                            string
	Changed                           string // of what: the name of a block
	Same, Now, Before                 string // of runs and things, in a comparison
}

// English are the words that drawings have unless others are given.
var English = Words{
	Elevation: "Elevation: %s", Voltage: "Voltage: %s", Wiring: "Wiring: %s", Template: "Template: %s", Profile: "Voltage along %s",
	Straight: "runs without a shape, drawn straight", Loose: "runs on no surface",
	Run: "run of light; the arrow is the way of its data", Numbers: "first and last pixel, counted on the port from 0", Feed: "feed, with its lead's name where it is not the run's",
	Jump: "data on to the next run", Joint: "joint", Supply: "supply", Controller: "controller", Fixing: "fixing", Keepout: "must stay free",
	Up: "up", Grid: "grid %s", Dimensions: "dimensions in %s, from the lower left corner", Scale: "1:%s", NotToScale: "symbols are not to scale",
	Missing: "no place in the plan: %s", Undimensioned: "no room for the dimensions in %s of: %s", LeftOut: "%d labels do not fit; the lists have them", Pixels: "%d px, %s",
	Case: "in case %s", Volts: "volts at the pixels", Bold: "where a run has least", Least: "the least that its colours need, %s", NoPower: "not worked out",
	Along: "along the run", Allowed: "least allowed %s", SupplyAt: "supply %s", Any: "worst pattern %s", Pixel: "pixel %d", CaseLeast: "%s: least %s", FeedHere: "feed",
	Plus: "plus", Minus: "minus", Data: "data", Fuse: "fuse",
	Start: "start", End: "end", Port: "port", Pin: "pin %d", Out: "out %d",
	Sheet: "sheet %d of %d", Elsewhere: "has conductors on another sheet", Light: "run", Mains: "The mains side of supplies is not drawn: it is for a qualified person, under the code in force there.",
	Tile: "tile %s", Bar: "100 mm", Hole: "hole for a fixing", Cut: "cut the strip here", Register: "Cut a tile along its outer line on the sides that lie on top, and lay its crosses over those of its neighbours.",
	Tiles: "%d tiles", Print: "Print at 100 %, not fitted to the page, and measure both bars of a tile before the rest is printed.", Changed: "Changed: %s", Same: "as it was", Now: "after the change", Before: "before the change",
	Centre: "middle of a run", EdgeOf: "edge of %s", Edge: "edge of the surface, no run",
	Where: "this corner of the frame lies %s and %s the %s", Corner: "lower left corner of %s", Origin: "zero point of the plan",
	RightOf: "right of", LeftOf: "left of", Above: "above", Below: "below",
	Square: "this square is 100 mm by 100 mm; all lengths are millimetres",
}

// Frame is the room that a drawing may take, mm, and the words that it is told in.
type Frame struct {
	Width, Height float64
	Words         *Words // nil: English
}

// Sheet is the room that a drawing has on a sheet of A4 laid across.
var Sheet = Frame{Width: 277, Height: 175}

func (f Frame) words() *Words {
	if f.Words == nil {
		return &English
	}
	return f.Words
}
