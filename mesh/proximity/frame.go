package proximity

import "math"

// faceSamples is how many faces stand for a surface where its axes are looked for; smaller surfaces keep the given axes.
const faceSamples = 4096

// frameOf returns the turn into the axes along which most of a surface's area lies square: those of its faces, found from
// samples. The given axes stay unless others hold clearly more. Boxes along such axes are thin, and the nearest boxes of
// parallel faces are exactly as far apart as the faces.
func frameOf(points []vec, tris [][3]int32) rigid {
	if len(tris) < faceSamples {
		return still
	}
	faces := make([]vec, 0, faceSamples+1)
	for i := 0; i < len(tris); i += len(tris)/faceSamples + 1 {
		if p, q, r, ok := corners(points, &tris[i]); ok {
			faces = append(faces, q.sub(p).cross(r.sub(p)).vec())
		}
	}
	a := mainNormal(faces, vec{})
	b := mainNormal(faces, a)
	if a == (vec{}) || b == (vec{}) {
		return still
	}
	b = unit(along(b, -dot(a, b), a))
	c := cross(a, b)
	out := rigid{r: [9]float64{a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2]}}
	if square(faces, &out) <= 1.2*square(faces, &still) {
		return still
	}
	return out
}

// square returns the area of the faces whose normals lie along the axes of a frame.
func square(faces []vec, frame *rigid) float64 {
	sum := 0.0
	for _, n := range faces {
		f := frame.turn(n)
		if l := length(n); max(math.Abs(f[0]), math.Abs(f[1]), math.Abs(f[2])) > l*(1-1e-9) {
			sum += l
		}
	}
	return sum
}

// mainNormal returns the unit normal, up to its sign, that most area shares; of those square to a if that is not zero.
// The zero vector means none.
func mainNormal(faces []vec, a vec) vec {
	const n = 48 // cells of a map of all directions along each side
	var area [n * n]float64
	var sum [n * n]vec
	best := -1
	for _, f := range faces {
		l := length(f)
		if l == 0 || math.Abs(dot(f, a)) > 0.05*l {
			continue
		}
		f = upward(f)
		s := math.Abs(f[0]) + math.Abs(f[1]) + math.Abs(f[2])
		i := int((f[0]/s+1.02)/2.04*n)*n + int((f[1]/s+1.02)/2.04*n)
		area[i] += l
		sum[i] = add(sum[i], f)
		if best < 0 || area[i] > area[best] {
			best = i
		}
	}
	if best < 0 {
		return vec{}
	}
	return meanShift(faces, unit(sum[best]))
}

// meanShift turns d into the mean of the normals in an ever narrower cone around it, so that rounded edges beside a face
// do not tilt it.
func meanShift(faces []vec, d vec) vec {
	for _, sine := range []float64{0.05, 0.01, 5e-4, 2e-5} {
		var sum vec
		for _, f := range faces {
			h := dot(f, d)
			if h*h > (1-sine*sine)*dot(f, f) {
				sum = along(sum, math.Copysign(1, h), f)
			}
		}
		if sum == (vec{}) {
			break
		}
		d = unit(sum)
	}
	return d
}

// upward returns the one of f and -f that stands for both.
func upward(f vec) vec {
	if f[2] < 0 || f[2] == 0 && (f[1] < 0 || f[1] == 0 && f[0] < 0) {
		return vec{-f[0], -f[1], -f[2]}
	}
	return f
}
