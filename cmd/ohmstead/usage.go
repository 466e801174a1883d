package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// arguments checks how many arguments a command got; what names one of them, as its
// line of use does.
func arguments(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		count := "no " + what
		switch {
		case least == 1 && most == 1:
			count = "one " + what
		case most == 1:
			count = "at most one " + what
		case most > 1:
			count = what
		}
		if len(args) < least || len(args) > most {
			return fmt.Errorf("%s takes %s, and was given %d; see %s --help", cmd.Name(), count, len(args), cmd.CommandPath())
		}
		return nil
	}
}

// flagError says in a sentence what is wrong with a flag.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	said := err.Error()
	switch {
	case errors.As(err, &unknown):
		name := "--" + unknown.GetSpecifiedName()
		if short := unknown.GetSpecifiedShortnames(); short != "" {
			name = fmt.Sprintf("-%s (a path that begins with a dash goes behind --)", short)
		}
		said = "there is no flag " + name
	case errors.As(err, &bare):
		said = fmt.Sprintf("--%s takes a value, and none was given", bare.GetFlag().Name)
	case errors.As(err, &wrong):
		said = fmt.Sprintf("--%s does not take %q", wrong.GetFlag().Name, wrong.GetValue())
	}
	return fmt.Errorf("%s; see %s --help", said, cmd.CommandPath())
}
