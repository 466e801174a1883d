package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"ohmstead/lsp/server"
)

func newLSP() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "lsp",
		Short: "Serve editors over the Language Server Protocol on standard input and output",
		Args:  arguments(0, 0, "PATH"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			h := roomy(24 << 20)
			out, log := cmd.OutOrStdout(), cmd.ErrOrStderr()
			in, done := polled(cmd.InOrStdin(), out, log)
			defer done()
			err := server.Serve(cmd.Context(), streams{in, out}, server.Options{Version: version(), Log: log, Idle: h.idle})
			if errors.Is(err, server.ErrNoShutdown) {
				return errFindings // the protocol asks for code 1 then
			}
			return err
		},
	}
	// Clients that are told to use stdio add the flag; there is nothing else to use.
	cmd.Flags().Bool("stdio", true, "use standard input and output (always so)")
	return cmd
}

// streams is standard input and output as one. They are not closed: the program
// ends with them.
type streams struct {
	io.Reader
	io.Writer
}

func (streams) Close() error { return nil }
