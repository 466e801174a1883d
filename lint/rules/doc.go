// Package rules holds the rules, one a file, each named after its file.
package rules
