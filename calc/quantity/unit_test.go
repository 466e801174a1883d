package quantity

import (
	"fmt"
	"math"
	"testing"
)

// What one of each unit is: by the SI brochure (BIPM, 9th edition, tables 4, 7
// and 8), the international yard and pound agreement of 1959 (0.3048 m,
// 0.45359237 kg), and degF = 5/9 K from -459.67.
var ones = map[Dimension]map[string]float64{
	Length:              {"m": 1, "cm": 0.01, "mm": 0.001, "in": 0.0254, "ft": 0.3048, "yd": 0.9144, "km": 1000},
	Gauge:               {"AWG": 4.24077e-5, "mm2": 1e-6}, // 0.005 in * 92^(35/39) thick (ASTM B258)
	Current:             {"A": 1, "mA": 0.001, "uA": 1e-6},
	Voltage:             {"V": 1, "mV": 0.001, "kV": 1000},
	Resistance:          {"ohm": 1, "mohm": 0.001, "kohm": 1000},
	ResistancePerLength: {"ohm/m": 1, "mohm/m": 0.001, "ohm/km": 0.001, "ohm/ft": 3.28084, "ohm/kft": 0.00328084},
	Density:             {"/m": 1, "/ft": 3.28084, "/cm": 100, "/in": 39.3701},
	Frequency:           {"Hz": 1, "kHz": 1000, "MHz": 1e6, "fps": 1},
	DataRate:            {"bit/s": 1, "kbit/s": 1000, "Mbit/s": 1e6, "kHz": 1000, "MHz": 1e6},
	Time:                {"s": 1, "ms": 0.001, "us": 1e-6, "ns": 1e-9, "min": 60, "h": 3600},
	Temperature:         {"degC": 1, "degF": -17.2222, "K": -272.15},
	Share:               {"%": 0.01},
	SharePerDegree:      {"%/degC": 0.01, "%/K": 0.01, "%/degF": 0.018},
	Power:               {"W": 1, "mW": 0.001, "kW": 1000},
	PowerPerLength:      {"W/m": 1, "W/ft": 3.28084},
	Mass:                {"kg": 1, "g": 0.001, "lb": 0.45359237, "oz": 0.0283495},
	MassPerLength:       {"g/m": 0.001, "kg/m": 1, "lb/ft": 1.488164, "oz/ft": 0.0930102},
	Angle:               {"deg": 1, "rad": 57.29578, "turn": 360},
	Capacitance:         {"uF": 1e-6, "mF": 0.001, "nF": 1e-9, "F": 1},
}

func TestOneOfEachUnit(t *testing.T) {
	for _, u := range units {
		want, ok := ones[u.Dim][u.Symbol]
		if !ok {
			t.Errorf("no row for %s of %v", u.Symbol, u.Dim)
			continue
		}
		q, err := ParseFor(u.Dim, fmt.Sprint("1 ", u.Symbol))
		if err != nil {
			t.Error(err)
		} else if math.Abs(q.SI-want) > 5e-6*math.Abs(want)+1e-18 {
			t.Errorf("1 %s is %.9g, want %.9g", u.Symbol, q.SI, want)
		}
	}
}
