// Package report says what one check of a board found: as text for people, as JSON for programs, as a page to open.
// It knows words, units and rounding; it measures nothing itself.
package report
