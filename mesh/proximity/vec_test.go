package proximity

import "math"

// What tests do with points.

func dot(a, b vec) float64 { return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2]) }

func add(a, b vec) vec { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func sub(a, b vec) vec { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// along returns p + t d.
func along(p vec, t float64, d vec) vec {
	return vec{p[0] + float64(t*d[0]), p[1] + float64(t*d[1]), p[2] + float64(t*d[2])}
}

func cross(a, b vec) vec {
	return vec{
		float64(a[1]*b[2]) - float64(a[2]*b[1]),
		float64(a[2]*b[0]) - float64(a[0]*b[2]),
		float64(a[0]*b[1]) - float64(a[1]*b[0]),
	}
}

func length(a vec) float64 { return math.Sqrt(dot(a, a)) }

// unit returns a with length 1; the zero vector stays zero.
func unit(a vec) vec {
	l := length(a)
	if l == 0 {
		return vec{}
	}
	return vec{a[0] / l, a[1] / l, a[2] / l}
}
