package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

func main() { os.Exit(execute(os.Args[1:], terminal())) }

// console is where a run reads and prints.
type console struct {
	in       io.Reader
	out, err io.Writer
	colour   bool   // out is a terminal that takes colours
	width    int    // columns of out; 0 where it is not a terminal
	meter    *meter // on err where that is a terminal, else nil
}

// terminal returns the console of this process. Colour only on a terminal, and not with NO_COLOR.
func terminal() console {
	c := console{in: os.Stdin, out: os.Stdout, err: os.Stderr}
	if term.IsTerminal(int(os.Stderr.Fd())) && os.Getenv("TERM") != "dumb" {
		c.meter = &meter{w: os.Stderr, patience: patience}
	}
	fd := int(os.Stdout.Fd())
	if !term.IsTerminal(fd) {
		return c
	}
	c.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if width, _, err := term.GetSize(fd); err == nil {
		c.width = min(width, 120)
	}
	return c
}
