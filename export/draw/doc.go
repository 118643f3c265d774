// Package draw holds true-scale drawings as lists of lines, arcs and writing in mm, and writes them in the formats of pages. It knows
// pens, letters and formats; not what is drawn.
package draw
