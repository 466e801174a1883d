package page

// What a browser is sent of a plan. Places are tenths of a millimetre from the
// lower left corner of a frame, x to the right and y up; voltages and currents
// are thousandths.

// frame is a surface, or one of the two that stand in for one: free and bare.
type frame struct {
	Box      *[4]int   `json:"box"` // left, bottom, right, top
	Keepouts []keepout `json:"keepouts,omitempty"`
	Size     [2]string `json:"size"` // of a surface, as its reader says it
}

type keepout struct {
	Box [4]int `json:"box"`
	Why string `json:"why"`
}

// run is a run's geometry. Line has 2 pixels + 1 places, x and y in turn: the
// ends and the middle of each pixel's stretch of strip.
type run struct {
	Frame   string  `json:"frame"`
	Pixels  int     `json:"pixels"`
	Line    []int   `json:"line"`
	Length  string  `json:"length"`
	Pitch   float64 `json:"pitch"`   // m
	Nominal float64 `json:"nominal"` // V
	Need    float64 `json:"need"`    // V that its colours need; 0 where nobody says
	Strip   string  `json:"strip"`
	Port    string  `json:"port,omitempty"`
	First   int     `json:"first"` // its first pixel on that port
}

// thing is a supply, joint or controller.
type thing struct {
	Kind  string `json:"kind"`
	Frame string `json:"frame"`
	At    []int  `json:"at,omitempty"` // x, y; none where its place is not known
}

// lead joins two places.
type lead struct {
	From string `json:"from"`
	To   string `json:"to"`
	Wire string `json:"wire"`
	Fuse string `json:"fuse,omitempty"`

	Length    string `json:"length"`
	Estimated bool   `json:"estimated"`

	Ends *ends `json:"ends,omitempty"`
}

// ends are where a lead begins and ends, if both are known and in one frame.
type ends struct {
	Frame string `json:"frame"`
	Line  [4]int `json:"line"`
}

// order is a line of pixels: an order of the plan, or that of a data output.
type order struct {
	Pixels int    `json:"pixels"`
	Port   bool   `json:"port"`
	Spans  []span `json:"spans"`
}

type span struct {
	Run     string `json:"run"`
	Count   int    `json:"count"`
	FromEnd bool   `json:"fromEnd"`
}

// head is what the page says of the plan as a whole, and the order of the rest.
type head struct {
	Name   string   `json:"name"`
	Title  string   `json:"title"`
	Sum    string   `json:"sum"`
	Jumps  bool     `json:"jumps"` // an editor shows places
	Cases  []string `json:"cases"`
	Opens  int      `json:"opens"` // the case that is shown first
	Frames []string `json:"frames"`
	Runs   []string `json:"runs"`
	Things []string `json:"things"`
	Leads  []string `json:"leads"`
	Orders []string `json:"orders"`
	Broken bool     `json:"broken"` // some of it could not be read
}

// The frames that are no surface: of runs that hang on none, and of runs of which only
// a length is known, which are laid out in rows.
const (
	free = "free"
	bare = "bare"
)

// What is worked out by case is so in the order of head.Cases, null where
// nothing is known: a case of the plan may have the name of a built-in one.

// volts are the voltages at a run's pixels.
type volts struct {
	Cases []*profile `json:"cases"`
	Worst *worst     `json:"worst,omitempty"`
}

type profile struct {
	At       []int `json:"at"` // mV, of each pixel
	Amps     int   `json:"amps"`
	Min      int   `json:"min"`
	MinPixel int   `json:"minPixel"`
}

// worst is the worst that any pattern makes of a figure.
type worst struct {
	Value int    `json:"value"`
	Pixel int    `json:"pixel"` // of a voltage
	Case  string `json:"case"`
}

// flow is a lead's current, and the voltage that it loses.
type flow struct {
	Cases    []*[2]int `json:"cases"` // mA, mV
	Ampacity int       `json:"ampacity"`
	Worst    *worst    `json:"worst,omitempty"`
}

// level is the voltage at a supply, joint or controller.
type level struct {
	Cases []*int `json:"cases"`           // mV
	Loads []*int `json:"loads,omitempty"` // of a supply, thousandths of its rating
}

// scale is what the colours span: shares of the nominal voltage.
type scale struct {
	Low  float64  `json:"low"`
	High float64  `json:"high"`
	Ramp []string `json:"ramp"` // from low to high
}

// finding is one at its place.
type finding struct {
	Level   string `json:"level"`
	Rule    string `json:"rule"`
	Subject string `json:"subject"`
	Message string `json:"message"`
	Case    string `json:"case,omitempty"`
	Place   Place  `json:"place"`
}

// cursor is the block that the user is at in the editor.
type cursor struct {
	ID string `json:"id"`
}

// lit is a run as a pattern lights it.
type lit struct {
	Shares []int `json:"shares"` // percent of each pixel's full light
	At     []int `json:"at"`     // mV
}
