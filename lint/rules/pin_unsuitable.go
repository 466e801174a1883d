package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
)

var PinUnsuitable = &lint.Rule{
	Name:  "pin-unsuitable",
	Title: "A port sits on a pin that cannot, or hardly, send data",
	Level: lint.Error,
	Why: `Not every pin of a microcontroller can drive a data line.
Some are wired to the flash memory or can only read: a port there never works, or keeps the board from starting.
Others have a duty at power-on: they choose how the chip boots, or carry its boot log, and the first pixels flash with it.
A port without a pin is a hint.
A pin that does not exist is an error, and so is one that the board's facts call never; one that needs care is a warning with the reason.`,
	Do: `Move the port to a pin that the board's facts call good; the fix names one that is free.
Where a pin that needs care is the right choice on your board, say so above the controller: "# ohmstead: allow pin-unsuitable because …".`,
	Sources: []string{
		"ESP-IDF Programming Guide, GPIO pages for ESP32, ESP32-S3 and ESP32-C3",
		"esptool documentation, Boot mode selection (ESP8266)",
		"RP2040 Datasheet, Raspberry Pi Ltd, pin functions",
		"each pin's reason stands in the board's catalogue entry",
	},
	Bad:   func() string { return instead(shelf, "pin = 4", "pin = 34") },
	Good:  func() string { return shelf },
	Check: checkPinUnsuitable,
}

func checkPinUnsuitable(p *lint.Pass) {
	for _, c := range p.Plan.Controllers {
		b := c.Board.V
		if !c.Board.Known() || b == nil || b.Broken || len(b.Pins) == 0 {
			continue
		}
		free := goodPins(c)
		for _, port := range c.Ports {
			if !port.Pin.Set && !port.Broken && len(free) > 0 {
				p.Report(lint.Finding{Subject: c.ID(), At: port.Head(), Level: lint.Hint,
					Message: fmt.Sprintf("%s: names no pin, so that nothing is said of it; write pin = %d, which is good and free, or the one that you use", port.ID(), free[0])})
			}
			if !port.Pin.Known() {
				continue
			}
			n := port.Pin.V
			f := lint.Finding{Subject: c.ID(), At: port.At(port.Pin.At)}
			pin, exists := b.Pin(n)
			switch {
			case !exists:
				f.Message = fmt.Sprintf("%s: %s has no pin %d", port.ID(), b.ID(), n)
			case pin.Use.V == "never":
				f.Message = fmt.Sprintf("%s: pin %d of %s cannot send data%s", port.ID(), n, b.ID(), because(pin))
			case pin.Use.V == "care":
				f.Level = lint.Warning
				f.Message = fmt.Sprintf("%s: pin %d of %s needs care%s", port.ID(), n, b.ID(), because(pin))
			default:
				continue
			}
			if len(free) > 0 {
				f.Message += fmt.Sprintf("; pin %d is good and free", free[0])
				f.Fixes = usePin(port, free[0])
				free = free[1:]
			}
			p.Report(f)
		}
	}
}

// because is a pin's reason in brackets. What stands before the first semicolon
// of a message stands alone, so the reason's own become commas.
func because(pin *schema.Pin) string {
	if !pin.Because.Known() || pin.Because.V == "" {
		return ""
	}
	return " (" + strings.ReplaceAll(pin.Because.V, ";", ",") + ")"
}

// goodPins lists the pins of a controller's board that are good as outputs and
// that none of its ports uses, in rising order.
func goodPins(c *schema.Controller) []int {
	var out []int
	if c.Board.V == nil {
		return nil
	}
	for _, pin := range c.Board.V.Pins {
		n, ok := pin.Number()
		if ok && pin.Use.V == "good" && !slices.ContainsFunc(c.Ports, func(p *schema.Port) bool { return p.Pin.Known() && p.Pin.V == n }) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// usePin moves a port to a pin, where the port says its pin itself.
func usePin(port *schema.Port, n int) []lint.Fix {
	if _, own := port.Node.Assign("pin"); !own {
		return nil
	}
	return []lint.Fix{{Title: fmt.Sprintf("Use pin %d", n), Edits: []lint.Edit{schema.SetAttr(&port.Header, "pin", strconv.Itoa(n))}}}
}
