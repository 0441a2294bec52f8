package figure

import "math"

// The light comes from above the eye's left shoulder, as in most printed figures.
var lightX, lightY, lightZ = -0.42, -0.62, 0.66

// light returns how bright a pixel is, 0 to 1: full where the surface faces the
// light, less where it turns from the eye and beside what stands in front of it.
// near is how many pixels make the reach of that shade, step how much nearer its
// cause must stand.
func (f *relief) light(x, y, near int, step float32) float64 {
	p := y*f.w + x
	nx, ny := float64(f.nx[p]), float64(f.ny[p])
	nz := math.Sqrt(max(0, 1-nx*nx-ny*ny))
	s := 0.5 + 0.5*(nx*lightX+ny*lightY+nz*lightZ)
	s = 0.8*s*(0.35+0.65*s) + 0.2*nz
	z := f.depth[p]
	hid := 0.0
	shade := func(q int, much float64) {
		if d := f.depth[q] - z; d > step {
			hid += much * min(1, float64((d-step)/(2*step)))
		}
	}
	if x >= near {
		shade(p-near, 0.13)
	}
	if x+near < f.w {
		shade(p+near, 0.13)
	}
	if y >= near {
		shade(p-near*f.w, 0.13)
	}
	if y+near < f.h {
		shade(p+near*f.w, 0.10)
	}
	return s * (1 - hid)
}

// tone is a colour in a light of s, 0 to 1, as bytes that may be scaled further.
func tone(ink uint32, s float64) (r, g, b float64) {
	r, g, b = float64(ink>>16&255), float64(ink>>8&255), float64(ink&255)
	// Shade stays warm: blue falls first.
	const red, green, blue = 0.43, 0.48, 0.52
	lit := 0.04 * max(0, s-0.7)
	return min(255, r*(1-red*(1-s))+255*lit), min(255, g*(1-green*(1-s))+255*lit), min(255, b*(1-blue*(1-s))+255*lit)
}
