package proximity

import "math"

// normal is a unit normal in steps of 1/normalSteps.
type normal [3]int16

const normalSteps = math.MaxInt16

func normalOf(n xyz) normal {
	n = n.unit()
	return normal{int16(n.x * normalSteps), int16(n.y * normalSteps), int16(n.z * normalSteps)}
}

// face returns an item as a sample of a surface, its place counted from another one's.
func (x *item) face(from *item, normals []normal) sample {
	n := &normals[x[3]&numberMask]
	return sample{
		p: xyz{float64(x[0] - from[0]), float64(x[1] - from[1]), float64(x[2] - from[2])},
		n: xyz{float64(n[0]) / normalSteps, float64(n[1]) / normalSteps, float64(n[2]) / normalSteps},
	}
}

// grain is how many times its length the reach along each axis counts where a list of triangles is to be halved.
type grain [3]float64

// judges is how many faces stand for a list where its grain is looked for.
const judges = 31

// bent is what grain adds to 1 for an axis along which the triangles turn, and for no other.
const bent = 15

// grainAmong returns the grain of items of several classes.
func grainAmong(items []item, normals []normal) grain {
	var buffer [judges]sample
	faces := buffer[:0]
	for i := 0; i < len(items); i += (len(items) + judges - 1) / judges {
		faces = append(faces, items[i].face(&items[0], normals))
	}
	return grainOf(faces, false)
}

// grainIn returns the grain of the items of one class in a block.
func grainIn(run []key, block []item, normals []normal) grain {
	if len(run) <= leafSize {
		return grain{}
	}
	var buffer [judges]sample
	faces := buffer[:0]
	for i := 0; i < len(run); i += (len(run) + judges - 1) / judges {
		faces = append(faces, block[run[i]&(1<<keyLow-1)].face(&block[0], normals))
	}
	return grainOf(faces, true)
}

// grainOf returns the grain of faces. It is large for an axis along which their normals turn, by the share of the turning that
// a straight line tells; and if they are of one class, for an axis along which they rise, likewise. Halves are so narrow
// across a bend and long along it, and parted where one face lies over another: their slabs are thin.
func grainOf(faces []sample, oneClass bool) grain {
	var place, way xyz
	share := 1 / float64(len(faces))
	for i := range faces {
		place, way = place.along(share, faces[i].p), way.along(share, faces[i].n)
	}
	up := way.unit()
	var turn, rise float64
	var width, lean, x, y, z xyz
	for i := range faces {
		p, n := faces[i].p.sub(place), faces[i].n.sub(way)
		h := p.dot(up)
		turn, rise, lean = turn+n.dot(n), rise+float64(h*h), lean.along(h, p)
		width = width.add(xyz{float64(p.x * p.x), float64(p.y * p.y), float64(p.z * p.z)})
		x, y, z = x.along(p.x, n), y.along(p.y, n), z.along(p.z, n)
	}
	const least = 1e-9 // below, it is rounding
	if turn *= share; turn < least {
		turn = math.Inf(1)
	}
	if !oneClass || rise < least*(width.x+width.y+width.z) {
		rise = math.Inf(1)
	}
	told := func(w, lean float64, n xyz) float64 {
		if w == 0 {
			return 1
		}
		return 1 + float64(bent*max(float64(share*n.dot(n))/float64(turn*w), float64(lean*lean)/float64(rise*w)))
	}
	return grain{told(width.x, lean.x, x), told(width.y, lean.y, y), told(width.z, lean.z, z)}
}
