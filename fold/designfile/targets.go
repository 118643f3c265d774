package designfile

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
)

// conditions: a bound for the turn needs two directions to tell it by.
func (t *target) conditions(r *reader) bool {
	w := t.Within
	if w == nil || w.form == nil || w.key("turn") == nil || t.key("turn-axis") != nil {
		return true
	}
	r.add(w.key("turn"), r.inside()+"within.turn counts only together with turn-axis", "give turn-axis: a direction on the part and the one in the housing that it is to point along, or leave turn out")
	return false
}

func (*target) schema() []any {
	turn := map[string]any{"required": []string{"within"}, "properties": map[string]any{"within": map[string]any{"type": "object", "required": []string{"turn"}}}}
	return []any{ifThen(turn, has("turn-axis"))}
}

// conditions: a target without a bound would pass whatever happens.
func (w *allowance) conditions(r *reader) bool {
	if len(w.at.Content) > 0 {
		return true
	}
	r.add(r.owner(w.at), r.where()+" has no bound", "give one or more of "+alternatives(w.form.keyNames()))
	return false
}

func (*allowance) schema() []any { return []any{map[string]any{"minProperties": 1}} }

// targets fills what must land where. A target on something that could not be read is left out.
func (b *builder) targets() {
	for i := range b.file.Targets {
		e := &b.file.Targets[i]
		if e.It.form == nil {
			continue
		}
		b.path = []step{{key: b.file.key("targets")}, {key: e.Key}}
		in := &e.It
		t := fold.Target{Name: e.Name, On: in.On.s, Point: vector(in.Point), At: vector(in.At), Facing: vector(in.Facing), Axis: vector(in.Axis), Place: b.place(e.Key)}
		ok := b.directions(in, &t)
		if e.OK && b.bounds(in.Within, &t.Within) && ok && b.sits(t.On) {
			b.design.Targets = append(b.design.Targets, t)
		}
	}
	b.path = nil
}

func vector(p [3]number) mgl64.Vec3 { return values3(p) }

// sits reports whether the design got what a target is on.
func (b *builder) sits(on string) bool {
	kind, name := b.sitter(on)
	return kind == string(fold.KindFlex) || b.has(kind, name)
}

// directions checks that directions have a length, and fills those of the turn.
func (b *builder) directions(in *target, t *fold.Target) bool {
	ok := b.direction(in, "facing", t.Facing) && b.direction(in, "axis", t.Axis)
	if !in.has("turn-axis") {
		return ok
	}
	part, housing := vector(in.TurnAxis[0]), vector(in.TurnAxis[1])
	t.TurnAxis = &[2]mgl64.Vec3{part, housing}
	if !b.direction(in, "turn-axis", part) || !b.direction(in, "turn-axis", housing) {
		return false
	}
	if ok && in.has("facing") && alike(housing, t.Facing) {
		b.add(in.key("turn-axis"), b.where()+".turn-axis points along facing in the housing, so that no turn can be told by it", "give a direction across facing")
		return false
	}
	if ok && in.has("axis") && alike(part, t.Axis) {
		b.add(in.key("turn-axis"), b.where()+".turn-axis points along axis on the part, so that no turn can be told by it", "give a direction across axis")
		return false
	}
	return ok
}

// direction checks that what was given at a key has a length.
func (b *builder) direction(in *target, key string, v mgl64.Vec3) bool {
	if !in.has(key) || v != (mgl64.Vec3{}) {
		return true
	}
	b.add(in.key(key), b.where()+"."+key+" has no length", "give a direction such as [0, 0, 1]")
	return false
}

// alike reports whether two directions lie on one line, to about 1e-6.
func alike(a, b mgl64.Vec3) bool {
	return math.Abs(a.Normalize().Dot(b.Normalize())) > 1-1e-12
}

// bounds fills what a target allows.
func (b *builder) bounds(in *allowance, out *fold.Within) bool {
	if in == nil {
		return false
	}
	for _, l := range []struct {
		from number
		to   **float64
	}{{in.Across, &out.Across}, {in.Tilt, &out.Tilt}, {in.Turn, &out.Turn}} {
		if v := l.from.v; l.from.at != nil {
			*l.to = &v
		}
	}
	switch a := in.Along; {
	case a == nil || !a.ok:
	case a.Most.at != nil:
		out.Along = &[2]float64{0 - a.Most.v, a.Most.v}
	case a.Ends[0].v > a.Ends[1].v:
		b.add(a.at, b.where()+".within.along runs from "+trim(a.Ends[0].v)+" to "+trim(a.Ends[1].v)+" mm, which leaves nothing", "give the smaller length first")
		return false
	default:
		out.Along = &[2]float64{a.Ends[0].v, a.Ends[1].v}
	}
	return true
}
