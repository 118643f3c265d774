package proximity

import (
	"cmp"
	"math"
	"slices"
)

// faceSamples is how many faces stand for a surface where its axes are looked for; smaller surfaces keep the given axes.
const faceSamples = 4096

// sample is a face of a surface: its normal, twice as long as its area, and a point of it.
type sample struct{ n, p xyz }

// frameOf returns the turn into the axes along which most of a surface's area lies square: those of its faces, found from
// samples. The given axes stay unless others hold clearly more. Boxes along such axes are thin, and the nearest boxes of
// parallel faces are exactly as far apart as the faces.
func frameOf(points []vec, tris [][3]int32) rigid {
	if len(tris) < faceSamples {
		return still
	}
	faces := make([]sample, 0, faceSamples+1)
	size := 0.0
	for i := 0; i < len(tris); i += len(tris)/faceSamples + 1 {
		if p, q, r, ok := corners(points, &tris[i]); ok {
			faces = append(faces, sample{q.sub(p).cross(r.sub(p)), p})
			size = max(size, p.sub(faces[0].p).length())
		}
	}
	a := mainNormal(faces, xyz{})
	b := mainNormal(faces, a)
	if a == (xyz{}) || b == (xyz{}) {
		return still
	}
	a = level(faces, a, a.cross(b), size)
	a = level(faces, a, a.cross(a.cross(b)), size)
	b = b.along(-a.dot(b), a).unit()
	b = level(faces, b, a.cross(b), size)
	c := a.cross(b)
	out := rigid{r: [9]float64{a.x, a.y, a.z, b.x, b.y, b.z, c.x, c.y, c.z}}
	if square(faces, &out) <= 1.2*square(faces, &still) {
		return still
	}
	return out
}

// aligned is the sine of the angle up to which a face counts as square to an axis. Corners rounded to the 24 bits of a mesh
// file turn small faces about that much.
const aligned = 1e-3

// square returns the area of the faces whose normals lie along the axes of a frame.
func square(faces []sample, frame *rigid) float64 {
	sum := 0.0
	for i := range faces {
		f := frame.spin(faces[i].n)
		if l := f.length(); max(math.Abs(f.x), math.Abs(f.y), math.Abs(f.z)) > l*(1-aligned*aligned/2) {
			sum += l
		}
	}
	return sum
}

// mainNormal returns the unit normal, up to its sign, that most area shares; of those square to a if that is not zero.
// The zero vector means none.
func mainNormal(faces []sample, a xyz) xyz {
	const n = 48 // cells of a map of all directions along each side
	var area [n * n]float64
	var sum [n * n]xyz
	best := -1
	for k := range faces {
		f := faces[k].n
		l := f.length()
		if l == 0 || math.Abs(f.dot(a)) > 0.05*l {
			continue
		}
		f = upward(f)
		s := math.Abs(f.x) + math.Abs(f.y) + math.Abs(f.z)
		i := int((f.x/s+1.02)/2.04*n)*n + int((f.y/s+1.02)/2.04*n)
		area[i] += l
		sum[i] = sum[i].add(f)
		if best < 0 || area[i] > area[best] {
			best = i
		}
	}
	if best < 0 {
		return xyz{}
	}
	return meanShift(faces, sum[best].unit())
}

// meanShift turns d into the mean of the normals in an ever narrower cone around it, so that rounded edges beside a face
// do not tilt it.
func meanShift(faces []sample, d xyz) xyz {
	for _, sine := range []float64{0.05, 0.01, 5e-4, 2e-5} {
		var sum xyz
		for i := range faces {
			f := faces[i].n
			h := f.dot(d)
			if h*h > (1-float64(sine*sine))*f.dot(f) {
				sum = sum.along(math.Copysign(1, h), f)
			}
		}
		if sum == (xyz{}) {
			break
		}
		d = sum.unit()
	}
	return d
}

// level turns the unit normal d, by a little toward u or away from it, so that the largest plane along it becomes level.
// Normals of small faces with rounded corners tell a direction to some 1e-6; the heights of faces far apart tell it as well
// as the corners are known: boxes of a turned plane are no thicker than its points lie off it.
func level(faces []sample, d, u xyz, size float64) xyz {
	u = u.unit()
	places := make([]place, 0, len(faces))
	for _, window := range []float64{1e-4 * size, 1e-6 * size} {
		places = places[:0]
		for i := range faces {
			f := &faces[i]
			if h := f.n.dot(d); h*h > (1-aligned*aligned)*f.n.dot(f.n) {
				places = append(places, place{d.dot(f.p), u.dot(f.p)})
			}
		}
		d = d.along(-slope(largestPlane(places, window)), u).unit()
	}
	return d
}

// place is where a face lies: its height, and how far along a level direction.
type place struct{ height, along float64 }

// slope returns the slope of the line that fits places best.
func slope(places []place) float64 {
	var mean place
	for _, p := range places {
		mean.height += p.height / float64(len(places))
		mean.along += p.along / float64(len(places))
	}
	up, square := 0.0, 0.0
	for _, p := range places {
		x := p.along - mean.along
		up += float64(x * (p.height - mean.height))
		square += float64(x * x)
	}
	if square == 0 {
		return 0
	}
	return up / square
}

// largestPlane returns the places in the window of heights that holds most of them.
func largestPlane(places []place, window float64) []place {
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.height, b.height), cmp.Compare(a.along, b.along))
	})
	first, from, to := 0, 0, 0
	for i := range places {
		for places[i].height-places[first].height > window {
			first++
		}
		if i+1-first > to-from {
			from, to = first, i+1
		}
	}
	return places[from:to]
}

// upward returns the one of f and -f that stands for both.
func upward(f xyz) xyz {
	if f.z < 0 || f.z == 0 && (f.y < 0 || f.y == 0 && f.x < 0) {
		return xyz{-f.x, -f.y, -f.z}
	}
	return f
}
