package fold

import "fmt"

// FoldedPosture is the name of the posture that every hinge's own angle gives.
const FoldedPosture = "folded"

// PostureNames returns the names of all postures: folded, then those of the design in its order.
func (t *Tree) PostureNames() []string {
	out := []string{FoldedPosture}
	for _, p := range t.Design.Postures {
		out = append(out, p.Name)
	}
	return out
}

// PostureAngles returns the angles of a posture, one for each hinge in degrees, + toward top; a hinge that the posture
// omits keeps its own angle. "flat" gives zeros. An unknown name is an error.
func (t *Tree) PostureAngles(name string) ([]float64, error) {
	out := t.Angles()
	if name == FoldedPosture || name == "" {
		return out, nil
	}
	if name == "flat" {
		return make([]float64, len(out)), nil
	}
	for _, p := range t.Design.Postures {
		if p.Name != name {
			continue
		}
		for _, a := range p.Angles {
			for i, h := range t.Design.Hinges {
				if h.Name == a.Hinge {
					out[i] = a.Angle
				}
			}
		}
		return out, nil
	}
	return nil, fmt.Errorf("no posture is called %q", name)
}

// FlatOfSection returns the number of the flat that holds the largest body of the named section, -1 for none.
func (t *Tree) FlatOfSection(name string) int {
	best, most := -1, 0.0
	for i := range t.Bodies {
		b := &t.Bodies[i]
		if b.Kind == KindSection && t.Design.Sections[b.Source].Name == name && b.Area > most {
			best, most = b.Flat, b.Area
		}
	}
	return best
}
