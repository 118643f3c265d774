// Package sheet draws the fold sheet: one page with the flat board and its dimensions, the bend schedule, the stack-ups, views
// and sections of the folded board, findings and cautions.
//
// Lines of the flat and of the folded views come from the exact geometry; only what hides a line, and what a section cuts,
// is asked of the meshes. The page is composed as a display list of package draw. The package does not check anything: it
// draws what a check found.
package sheet
