package designfile

import (
	"fmt"
	"slices"
)

// knownRoles are the roles that everybody writes; plating is the only one that a rule looks for.
var knownRoles = []string{"coverlay", "coverlay-adhesive", "plating"}

// nearRoles returns a note for each role of a layer that looks like a misspelt known one, once a design however often it is
// written. Roles are free words: one that differs from a known one in more than two letters is taken as meant.
func (b *builder) nearRoles() []string {
	var told, notes []string
	for _, s := range b.design.Stackups {
		for _, l := range s.Layers {
			near := Nearest(l.Role, knownRoles)
			if near == "" || slices.Contains(knownRoles, l.Role) || slices.Contains(told, l.Role) || distance(l.Role, near) > 2 {
				continue
			}
			told = append(told, l.Role)
			notes = append(notes, fmt.Sprintf("the layer role %s is taken as a word of its own; if %s is meant, correct it", show(l.Role), near))
		}
	}
	return notes
}
