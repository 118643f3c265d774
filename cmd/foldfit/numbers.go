package main

import (
	"fmt"
	"strconv"
	"strings"
)

// numbers is a flag with several numbers between least and most, separated by commas.
type numbers struct {
	values        []float64
	least, most   float64
	fewest, count int // how many there must be at least and at most
	word          string
}

func (n *numbers) Type() string { return n.word }

func (n *numbers) String() string {
	words := make([]string, len(n.values))
	for i, v := range n.values {
		words[i] = strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strings.Join(words, ",")
}

// Set reads the numbers.
func (n *numbers) Set(s string) error {
	var out []float64
	for _, word := range strings.Split(s, ",") {
		one := number{least: n.least, most: n.most}
		if err := one.Set(word); err != nil {
			return fmt.Errorf("%q: %w", word, err)
		}
		out = append(out, one.value)
	}
	switch {
	case len(out) < n.fewest && n.fewest == n.count, len(out) > n.count && n.fewest == n.count:
		return fmt.Errorf("must be %d numbers separated by commas, not %d", n.count, len(out))
	case len(out) > n.count:
		return fmt.Errorf("%d numbers, at most %d are taken", len(out), n.count)
	}
	n.values = out
	return nil
}
