package schema

import (
	"ohmstead/calc/circuit"
	"ohmstead/calc/quantity"
)

// Strip is a product by the reel.
type Strip struct {
	Header
	Form           Value[string]   `attr:"form"`
	Chip           Value[string]   `attr:"chip"`
	Voltage        Value[Quantity] `attr:"voltage"`
	Density        Value[Quantity] `attr:"density"`
	Group          Value[int]      `attr:"group"`
	Series         Value[int]      `attr:"series"`
	Stack          Value[string]   `attr:"stack"`
	Channels       Value[string]   `attr:"channels"`
	ChannelCurrent Value[ByLetter] `attr:"channel_current"`
	IdleCurrent    Value[Quantity] `attr:"idle_current"`
	Forward        Value[ByLetter] `attr:"forward"`
	Headroom       Value[Quantity] `attr:"headroom"`
	MinVoltage     Value[Quantity] `attr:"min_voltage"`
	MaxVoltage     Value[Quantity] `attr:"max_voltage"`
	Rail           Value[Quantity] `attr:"rail"`
	RailCurrent    Value[Quantity] `attr:"rail_current"`
	Cut            Value[int]      `attr:"cut"`
	Width          Value[Quantity] `attr:"width"`
	BendRadius     Value[Quantity] `attr:"bend_radius"`
	Bits           Value[int]      `attr:"bits"`
	BitRate        Value[Quantity] `attr:"bit_rate"`
	Latch          Value[Quantity] `attr:"latch"`
	LogicHigh      Value[Quantity] `attr:"logic_high"`
	LogicVoltage   Value[Quantity] `attr:"logic_voltage"`
	Clocked        Value[bool]     `attr:"clocked"`
	BackupData     Value[bool]     `attr:"backup_data"`
	PWMRate        Value[Quantity] `attr:"pwm_rate"`
	Capacitance    Value[Quantity] `attr:"capacitance"`
	Enclosure      Value[string]   `attr:"enclosure"`
	Reel           Value[Quantity] `attr:"reel"`
	Price          Value[Quantity] `attr:"price"`
	Have           Value[Quantity] `attr:"have"`
	Source         Value[string]   `attr:"source"`
}

// Law is the electrical law of one pixel; nil when a value is missing.
func (s *Strip) Law() *circuit.Law {
	if !s.ChannelCurrent.Known() || !s.Forward.Known() || !s.Headroom.Known() || !s.IdleCurrent.Known() || !s.Channels.Known() || !s.Series.Known() || !s.Rail.Known() || s.Broken {
		return nil
	}
	law := &circuit.Law{Idle: s.IdleCurrent.V.SI, Series: s.Stack.V == "series"}
	for _, l := range s.Channels.V {
		amps, ok1 := s.ChannelCurrent.V.For(string(l))
		forward, ok2 := s.Forward.V.For(string(l))
		if !ok1 || !ok2 {
			return nil
		}
		law.Channels = append(law.Channels, circuit.Channel{
			Amps:     amps.SI,
			Forward:  float64(s.Series.V) * forward.SI,
			Headroom: s.Headroom.V.SI,
		})
	}
	return law
}

var stripType = &BlockType{
	Name: "strip", Label: "name", Part: true,
	Doc:    "Describes an addressable LED strip as it comes off the reel.",
	Detail: "Start from a catalogue entry with like and write beside it what your reel's sheet or your own meter says instead.",
	Example: `strip "arch" {
  like  = catalog.ws2815_12v_60
  price = "24 EUR"
}`,
	Attrs: []Attr{
		{Name: "form", Kind: Choice, Default: `"tape"`, Choices: []Option{{"tape", "flexible strip, cut to length"}, {"ring", "rigid ring, used whole"}, {"panel", "rigid board or a flexible one that keeps its shape, used whole"}, {"string", "pixels on wire"}}, Doc: "In which form it is sold; bends and cut ends are judged of tape only.", Detail: "The shape of a ring, a panel or a string is that of its run; density is its pixels over the length of the line that they lie on.", Example: `"ring"`},
		{Name: "chip", Kind: Text, Doc: "The part number of the LED driver chip.", Example: `"WS2815"`},
		{Name: "voltage", Kind: Measure, Dim: quantity.Voltage, Required: true, Least: 1, Most: mostStrip, Doc: "Nominal supply voltage of the strip.", Example: `"12 V"`},
		{Name: "density", Kind: Measure, Dim: quantity.Density, Required: true, Least: 0.5, Most: 5000, Doc: "LEDs per length, as printed on the reel.", Example: `"60/m"`},
		{Name: "group", Kind: Integer, Default: "1", Least: 1, Most: 100, Doc: "LEDs that one address drives together: LEDs per pixel.", Detail: "Of the three, group is about addresses, cut about where scissors may go, series about how the LEDs share a current.", Example: "3"},
		{Name: "series", Kind: Integer, Default: "1", Least: 1, Most: 100, Doc: "LEDs of one colour in series behind each channel of a pixel.", Example: "3"},
		{Name: "stack", Kind: Choice, Default: `"parallel"`, Choices: []Option{{"parallel", "each colour has a path of its own from plus to minus; their currents add up"}, {"series", "the colours of a pixel stand in one series string and share its current"}}, Doc: "How the colours of a pixel share its current.", Example: `"series"`},
		{Name: "channels", Kind: Letters, Default: `"GRB"`, Doc: "The channels of a pixel in their order on the wire.", Detail: "R, G, B, W (white), and where there are two whites C (cool) and W (warm), or A (amber).", Example: `"GRBW"`},
		{Name: "channel_current", Kind: LetterMeasure, Dim: quantity.Current, Required: true, Above: true, Most: 10, Doc: "Current of each channel of one pixel at 100 %.", Detail: "One value for all channels, or a map by letter.", Example: `"20 mA"`},
		{Name: "idle_current", Kind: Measure, Dim: quantity.Current, Default: `"1 mA"`, Most: 1, Doc: "Current of one pixel when dark.", Example: `"1 mA"`},
		{Name: "forward", Kind: LetterMeasure, Dim: quantity.Voltage, Required: true, Most: mostBoard, Doc: "Forward voltage of one LED of each colour.", Example: `{ R = "2.1 V", G = "3.2 V", B = "3.2 V" }`},
		{Name: "headroom", Kind: Measure, Dim: quantity.Voltage, Default: `"0.5 V"`, Above: true, Most: 50, Doc: "Voltage that the driver needs beyond its LEDs to hold the full current.", Example: `"0.5 V"`},
		{Name: "min_voltage", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostStrip, Doc: "Least voltage at which a pixel works and keeps its colours.", Detail: "Without it, the greatest of series x forward plus headroom counts.", Example: `"4.0 V"`},
		{Name: "max_voltage", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostStrip, Doc: "Most voltage that the chip stands.", Example: `"5.5 V"`},
		{Name: "rail", Kind: Measure, Dim: quantity.ResistancePerLength, Required: true, Above: true, Most: 1000, Doc: "Resistance of one rail (plus or minus copper) per length.", Detail: "0.0172 ohm mm2/m divided by thickness times width of the copper, or measured: short the far end and halve what the meter says.", Example: `"0.16 ohm/m"`},
		{Name: "rail_current", Kind: Measure, Dim: quantity.Current, Above: true, Most: 1000, Doc: "Most current that the copper of one rail may carry.", Example: `"3 A"`},
		{Name: "cut", Kind: Integer, Least: 1, Most: 1000, Doc: "LEDs between two pads where the strip may be cut; group when not given.", Example: "3"},
		{Name: "width", Kind: Measure, Dim: quantity.Length, Above: true, Most: 1, Doc: "Width of the strip.", Example: `"10 mm"`},
		{Name: "bend_radius", Kind: Measure, Dim: quantity.Length, Above: true, Most: 10, Doc: "Least radius that the strip may be bent to over its flat side.", Example: `"30 mm"`},
		{Name: "bits", Kind: Integer, Least: 1, Most: 256, Doc: "Bits that one pixel takes from the wire; 8 for each channel when not given.", Example: "24"},
		{Name: "bit_rate", Kind: Measure, Dim: quantity.DataRate, Default: `"800 kbit/s"`, Least: 1e3, Most: 1e9, Doc: "Bits per second on the data line.", Example: `"800 kbit/s"`},
		{Name: "latch", Kind: Measure, Dim: quantity.Time, Default: `"300 us"`, Most: 1, Doc: "Silence on the data line after which the pixels show what they received.", Example: `"280 us"`},
		{Name: "logic_high", Kind: Measure, Dim: quantity.Share, Above: true, Most: 1, Doc: "Least level of a data one, as a share of the chip's supply.", Example: `"70 %"`},
		{Name: "logic_voltage", Kind: Measure, Dim: quantity.Voltage, Least: 1, Most: mostBoard, Doc: "Least level of a data one in volts, where the chip's input does not follow its supply.", Example: `"3.5 V"`},
		{Name: "clocked", Kind: Boolean, Default: "false", Doc: "Whether the chip has a clock line beside data.", Example: "true"},
		{Name: "backup_data", Kind: Boolean, Default: "false", Doc: "Whether a second data line bridges one dead pixel.", Example: "true"},
		{Name: "pwm_rate", Kind: Measure, Dim: quantity.Frequency, Above: true, Most: 1e6, Doc: "Rate at which the chip switches its LEDs on and off to dim them.", Example: `"2 kHz"`},
		{Name: "capacitance", Kind: Measure, Dim: quantity.Capacitance, Above: true, Most: 0.01, Doc: "Capacitors between plus and minus of one pixel, together.", Detail: "Counted on the strip; without it nothing is counted for its pixels.", Example: `"100 nF"`},
		{Name: "enclosure", Kind: Enclosure, Doc: "Protection class of the strip as sold.", Detail: "A cut end is open until it is sealed.", Example: `"IP20"`},
		reel(`"5 m"`, `"5 m"`),
		price(" reel", `"24 EUR"`),
		have(`"1.5 m"`),
		cited(`"measured on the bench, two reels"`),
	},
	form: func() former { return new(Strip) },
}

// Tape reports whether it is flexible strip that is cut to length.
func (s *Strip) Tape() bool { return !s.Form.Known() || s.Form.V == "tape" }

// Rigid reports whether it keeps its shape.
func (s *Strip) Rigid() bool { return s.Form.Known() && (s.Form.V == "ring" || s.Form.V == "panel") }

func (s *Strip) check(r *resolver, e *effective) {
	if !s.Cut.Set {
		s.Cut.V, s.Cut.Def = s.Group.V, true
	}
	if !s.Bits.Set {
		s.Bits.V, s.Bits.Def = 8*len(s.Channels.V), true
	}
	for _, m := range []struct {
		name string
		v    Value[ByLetter]
	}{{"channel_current", s.ChannelCurrent}, {"forward", s.Forward}} {
		if !m.v.Known() || m.v.V.Letters == nil || s.Channels.Bad {
			continue
		}
		for _, l := range s.Channels.V {
			if _, ok := m.v.V.Letters[string(l)]; !ok {
				s.Broken = true
				r.report(RuleAttrMissing, s.At(m.v.At), "%s says nothing of channel %c, which channels (%q) holds", m.name, l, s.Channels.V)
			}
		}
	}
	if s.Group.Known() && s.Cut.Known() && s.Group.V > 0 && s.Cut.V%s.Group.V != 0 {
		s.Broken = true
		r.report(RuleValueRange, s.At(s.Cut.At), "cut is %d LEDs from pad to pad, which is not a whole number of pixels of %d LEDs (group)", s.Cut.V, s.Group.V)
	}
	if law := s.Law(); law != nil && !s.MinVoltage.Set {
		s.MinVoltage.V, s.MinVoltage.Def = s.Headroom.V.With(law.FullVolts()), true
	}
	if s.MinVoltage.Set && s.Voltage.Set && s.MinVoltage.V.SI > s.Voltage.V.SI && !s.MinVoltage.Bad && !s.Voltage.Bad {
		r.report(RuleValueRange, s.At(s.MinVoltage.At), "min_voltage is %s, above the strip's own voltage of %s", s.MinVoltage.V, s.Voltage.V)
	}
}
