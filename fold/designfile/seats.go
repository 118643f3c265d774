package designfile

import "foldfit/fold"

// seats fills the places where touching is meant. A seat of something that could not be read is left out.
func (b *builder) seats() {
	for i := range b.file.Seats {
		e := &b.file.Seats[i]
		if e.It.form == nil {
			continue
		}
		b.path = []step{{key: b.file.key("seats")}, {key: e.Key}}
		in := &e.It
		s := fold.Seat{Name: e.Name, On: in.On.s, Against: in.Against.s, Bond: in.Bond.v, Squeeze: in.Squeeze.v, Place: b.place(e.Key)}
		s.Area = b.loop(in.Area, "area")
		ok := b.seatSide(in, &s)
		_, piece := splitName(s.Against)
		if e.OK && ok && s.Area != nil && b.has("enclosure", piece) {
			b.design.Seats = append(b.design.Seats, s)
		}
	}
	b.path = nil
}

// seatSide fills the side of a seat: the one given, else that of the component or stiffener on it. It returns false where
// there is none, or where what sits could not be read.
func (b *builder) seatSide(in *seat, s *fold.Seat) bool {
	if in.On.at == nil || in.failed("side") {
		return false
	}
	kind, name := b.sitter(in.On.s)
	own, made := b.made[kind+":"+name]
	given, plate := in.Side.at != nil, kind == stiffenerNames.kind
	s.Side = side(in.Side)
	switch {
	case !made && kind != string(fold.KindFlex):
		return false
	case !given && (plate || kind == componentNames.kind):
		s.Side = own
		return true
	case given && plate && s.Side != own:
		b.add(in.Side.at, b.where()+".side is "+s.Side.String()+", but the stiffener "+name+" lies on the "+own.String()+" side", "write "+own.String()+", or leave side out")
		return false
	case given:
		return true
	}
	b.add(b.owner(in.at), b.where()+" has no side", "give side: top or bottom, the side of the board that touches")
	return false
}

// sitter returns the kind and the bare name of what sits.
func (b *builder) sitter(written string) (kind, name string) {
	kind, name = splitName(written)
	if kind == "" {
		for _, k := range namings["sitters"].bare {
			if b.names[k.key].holds(name) {
				return k.kind, name
			}
		}
	}
	return kind, name
}
