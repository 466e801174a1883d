package rules

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
)

var ChannelMissing = &lint.Rule{
	Name:  "channel-missing",
	Title: "A case lights a channel that none of its strips has",
	Level: lint.Warning,
	Why: `A case asks for channels by letter, and a strip answers for those that it has.
Where no strip of the case has the letter nothing lights for it, so the case draws less than whoever wrote it believes, and the plan passes in a case that it was never judged in.`,
	Do:      `Name the channels that the strips have, or correct the strip: its ` + "`channels`" + ` are those of its chip's sheet.`,
	NoFix:   "Whether the case or the strip is wrong, only who has the reel in hand knows.",
	Sources: []string{"the plan language: its reference says what a case's channels are"},
	Bad:     func() string { return shelf + lit("W") },
	Good:    func() string { return shelf + lit("B") },
	Check:   checkChannelMissing,
}

// lit is a case that lights red and one more channel.
func lit(letter string) string {
	return "\ncase \"evening\" {\n  channels = { R = \"20 %\", " + letter + " = \"100 %\" }\n}\n"
}

func checkChannelMissing(p *lint.Pass) {
	for _, c := range p.Plan.Cases {
		runs := p.Plan.Runs
		if c.Runs.Set {
			runs = c.Runs.V
		}
		if !c.Channels.Known() || c.Runs.Bad || len(runs) == 0 {
			continue
		}
		var have []string
		unknown := slices.ContainsFunc(runs, func(r *schema.Run) bool {
			if !r.Strip.Known() || r.Strip.V.Broken || r.Strip.V.Channels.Bad { // what it is like is not known, say
				return true
			}
			have = append(have, r.Strip.V.Channels.V)
			return false
		})
		if unknown {
			continue
		}
		slices.Sort(have)
		have = slices.Compact(have)
		var dark []string
		for _, letter := range strings.Split(schema.ChannelLetters, "") {
			if c.Channels.V[letter] > 0 && !strings.Contains(strings.Join(have, ""), letter) {
				dark = append(dark, letter)
			}
		}
		if dark == nil {
			continue
		}
		whose, it := "of a run", "it"
		if c.Runs.Set {
			whose = "of its runs"
		}
		if len(dark) > 1 {
			it = "them"
		}
		p.Report(lint.Finding{
			Subject: c.ID(), At: c.At(c.Channels.At),
			Message: fmt.Sprintf("%s: lights %s, and no strip %s has %s, so that the case draws less than it says; name channels that they have (%s), or correct the channels of the strip",
				c.ID(), strings.Join(dark, " and "), whose, it, strings.Join(have, ", ")),
		})
	}
}
