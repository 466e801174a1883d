package server

import (
	"ohmstead/lint"
	"ohmstead/lint/rules"
)

// allRules are the rules that plans are judged by.
func allRules() []*lint.Rule { return rules.All }
