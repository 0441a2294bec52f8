package body

import "sort"

// Rhythm is the scapulohumeral rhythm: what the shoulder blade and the collar
// bone do by themselves while the arm is raised. Rows are by elevation of the
// upper arm against the trunk, ascending; between rows it is linear, outside
// them constant.
type Rhythm struct {
	Rows []RhythmRow
	// PlaneAngle is the angle of the shoulder blade in front of the frontal
	// plane at rest, rad: it sets the axes that upward rotation and tilt turn about.
	PlaneAngle float64
}

// RhythmRow is the girdle's change from rest at one elevation, all rad.
type RhythmRow struct {
	Elevation                                               float64 // of the upper arm against the trunk
	UpwardRotation                                          float64 // of the shoulder blade against the trunk
	PosteriorTilt                                           float64
	InternalRotation                                        float64
	ClavicleElevation, ClavicleRetraction, ClavicleRotation float64 // rotation: backward about its long axis
	Source                                                  string
}

// At returns the girdle's change at one elevation of the upper arm.
func (r Rhythm) At(elevation float64) RhythmRow {
	n := len(r.Rows)
	i := sort.Search(n, func(i int) bool { return r.Rows[i].Elevation >= elevation })
	if i == 0 {
		return r.Rows[0]
	}
	if i == n {
		return r.Rows[n-1]
	}
	a, b := r.Rows[i-1], r.Rows[i]
	t := (elevation - a.Elevation) / (b.Elevation - a.Elevation)
	mix := func(x, y float64) float64 { return x + t*(y-x) }
	return RhythmRow{
		Elevation:          elevation,
		UpwardRotation:     mix(a.UpwardRotation, b.UpwardRotation),
		PosteriorTilt:      mix(a.PosteriorTilt, b.PosteriorTilt),
		InternalRotation:   mix(a.InternalRotation, b.InternalRotation),
		ClavicleElevation:  mix(a.ClavicleElevation, b.ClavicleElevation),
		ClavicleRetraction: mix(a.ClavicleRetraction, b.ClavicleRetraction),
		ClavicleRotation:   mix(a.ClavicleRotation, b.ClavicleRotation),
		Source:             a.Source,
	}
}

// Turned returns the girdle's change at which the shoulder blade is turned up by
// an angle, rad: that of the arm's elevation which brings it about.
func (r Rhythm) Turned(upward float64) RhythmRow {
	n := len(r.Rows)
	i := sort.Search(n, func(i int) bool { return r.Rows[i].UpwardRotation >= upward })
	if i == 0 || i == n {
		return r.Rows[min(i, n-1)]
	}
	a, b := r.Rows[i-1], r.Rows[i]
	return r.At(a.Elevation + (upward-a.UpwardRotation)/(b.UpwardRotation-a.UpwardRotation)*(b.Elevation-a.Elevation))
}

// BendShare is one stretch of the lumbopelvic rhythm: between two totals of
// forward bend, the share that the lumbar spine takes; the hips take the rest.
type BendShare struct {
	From, To float64 // rad of total bend
	Lumbar   float64 // 0 to 1
	Thoracic float64 // how far the thoracic spine rounds besides, per lumbar radian
	Source   string
}

// ForwardBend shares a forward bend [rad] between the lumbar spine and the
// hips. Past the last stretch of the table all of it comes from the hips. The
// thoracic spine rounds with the lumbar one and is not part of the total, which
// was measured below it.
func (m *Model) ForwardBend(total float64) (lumbar, thoracic, hips float64) {
	for _, s := range m.Bend {
		if total > s.From {
			part := s.Lumbar * (min(total, s.To) - s.From)
			lumbar, thoracic = lumbar+part, thoracic+s.Thoracic*part
		}
	}
	return lumbar, thoracic, total - lumbar
}
