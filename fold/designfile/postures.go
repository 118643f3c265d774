package designfile

import "foldfit/fold"

// postures fills the end shapes beside the folded one. Their angles count in each hinge's own written sense. A posture
// that names a hinge which could not be read is left out.
func (b *builder) postures() {
	hinges := make(map[string]*fold.Hinge, len(b.design.Hinges))
	for i := range b.design.Hinges {
		hinges[b.design.Hinges[i].Name] = &b.design.Hinges[i]
	}
	for _, e := range b.file.Postures {
		p := fold.Posture{Name: e.Name, Place: b.place(e.Key)}
		ok := e.OK
		for _, a := range e.It.Angles {
			b.path = []step{{key: b.file.key("postures")}, {key: e.Key}, {key: a.Key}}
			switch h := hinges[a.Name]; {
			case h == nil || !a.OK:
				ok = false
			case h.Angle == 0 && a.It.v != 0:
				b.add(a.It.at, b.where()+" is "+trim(a.It.v)+", but the hinge "+h.Name+" has angle 0 and makes no bend", "give the hinge an angle, or leave it out here")
				ok = false
			default:
				p.Angles = append(p.Angles, fold.HingeAngle{Hinge: h.Name, Angle: 0 + h.Written*a.It.v})
			}
		}
		if ok {
			b.design.Postures = append(b.design.Postures, p)
		}
	}
	b.path = nil
}
