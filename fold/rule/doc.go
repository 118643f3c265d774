// Package rule knows the design rules of a bent board: one file each, with what is asked, why, where the limit comes from
// and how to tell. It does not know gaps, files or terminals.
package rule
